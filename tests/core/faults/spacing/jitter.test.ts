import { describe, expect, test } from "vitest";
import { bipedDocument, eased, everyFrame, notesOfCheck, pathDocument } from "../../../support/shots.ts";

const trembling = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "jitter");

/** Noise between -1 and 1 that is the same on every run: the bits of frame and seed, mixed. */
function noise(seed: number): (frame: number) => number {
  return (frame) => {
    let bits = Math.imul(Math.round(frame) + Math.imul(seed, 0x9e3779b9), 0x85ebca6b);
    bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
    return ((bits ^ (bits >>> 16)) >>> 0) / 2 ** 31 - 1;
  };
}

describe("jitter", () => {
  test.each([1, 2, 3])("finds noise of 1 cm on an eased move, and the channel that has it (%i)", (seed) => {
    const move = eased(1, 72, 0, 1.5);
    const noisy = noise(seed);
    const inside = (frame: number) => frame >= 20 && frame <= 50;
    const document = pathDocument(1, 72, (frame) => [
      move(frame),
      inside(frame) ? 0.01 * noisy(frame) : 0,
      0.1 * move(frame),
    ]);
    const notes = trembling(document);
    expect(notes).toHaveLength(1);
    expect(notes[0].node).toBe("point");
    // The first and the last frame of the noise may be too near to the path to tell.
    expect(Math.abs(notes[0].frames[0] - 20)).toBeLessThanOrEqual(2);
    expect(Math.abs(notes[0].frames[1] - 50)).toBeLessThanOrEqual(2);
    expect(notes[0].keys.every(({ channel }) => channel === "translation.y")).toBe(true);
    expect(notes[0].keys.length).toBeGreaterThan(0);
  });

  const noisy = (channels: Readonly<Record<string, number>>) =>
    bipedDocument(
      Object.fromEntries(
        Object.entries(channels).map(([name, amount], seed) => {
          const tremble = noise(seed + 1);
          return [name, everyFrame(1, 72, (frame) => amount * tremble(frame))];
        }),
      ),
    );
  const limbs = {
    "upper_arm_l rotation.z": 2,
    "upper_arm_r rotation.z": 2,
    "thigh_l rotation.x": 1,
    "thigh_r rotation.x": 1,
    "spine rotation.x": 1,
  };

  test("says the noise of a recording once, as polish, with the parts that have it", () => {
    const [note, ...others] = trembling(noisy(limbs));
    expect(others).toEqual([]);
    expect(note.tier).toBe("polish");
    expect(note.message).toContain("the same again");
    expect(note.suggestion).toContain("the recording as a whole");
  });

  test("tells what stands out from the noise of a recording", () => {
    const notes = trembling(noisy({ ...limbs, "upper_arm_r rotation.z": 12 }));
    expect(notes.map(({ tier, seenAt }) => [tier === "polish", seenAt.includes("hand_r")])).toContainEqual([
      false,
      true,
    ]);
    expect(notes.filter(({ tier }) => tier === "polish")).toHaveLength(1);
  });

  test("takes fewer trembling parts for what they are", () => {
    const { "thigh_l rotation.x": _l, "thigh_r rotation.x": _r, ...three } = limbs;
    expect(trembling(noisy(three)).every(({ tier }) => tier !== "polish")).toBe(true);
  });

  /** Noise between two frames, 0 elsewhere. */
  const between = (seed: number, from: number, to: number) => {
    const noisy = noise(seed);
    return (frame: number) => (frame >= from && frame <= to ? noisy(frame) : 0);
  };

  test("says the noise of several joints of a limb once, that of two limbs twice", () => {
    const noisy = (seed: number, by: number) => everyFrame(1, 96, (f) => by * between(seed, 30, 70)(f));
    const left = { "upper_arm_l rotation.y": noisy(4, 1.5), "hand_l rotation.y": noisy(6, 8) };
    const notes = trembling(bipedDocument(left));
    expect(notes).toHaveLength(1);
    expect(notes[0].message).toMatch(/another joint of (its|their) chain/);
    expect(new Set(notes[0].keys.map(({ node }) => node))).toEqual(new Set(["upper_arm_l", "hand_l"]));
    const both = trembling(bipedDocument({ ...left, "shin_r rotation.x": noisy(8, 2) }));
    expect(both.map(({ node }) => node)).toContain("shin_r");
    expect(both).toHaveLength(2);
  });

  test("noise that is back within two seconds is one note with all its frames, later it is another", () => {
    const twice = (later: number) => (frame: number) =>
      1.5 * (between(4, 20, 45)(frame) + between(5, later, later + 25)(frame));
    const arm = (later: number) =>
      bipedDocument({ "upper_arm_l rotation.y": everyFrame(1, 220, twice(later)) });
    const once = trembling(arm(75));
    expect(once).toHaveLength(1);
    expect(Math.abs(once[0].frames[0] - 20)).toBeLessThanOrEqual(2);
    expect(Math.abs(once[0].frames[1] - 100)).toBeLessThanOrEqual(2);
    expect(trembling(arm(150))).toHaveLength(2);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const noisy = noise(9);
    const document = pathDocument(1, 120, (frame) => [0.005 * frame, 0.01 * noisy(frame), 0], { rate });
    expect(trembling(document)).toHaveLength(1);
  });
});
