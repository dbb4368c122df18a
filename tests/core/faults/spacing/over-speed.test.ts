import { describe, expect, test } from "vitest";
import { bipedDocument, everyFrame, notesOfCheck, straight } from "../../../support/shots.ts";

const over = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "over-speed");

describe("over-speed", () => {
  test("says how many frames the move should take", () => {
    const [note] = over(bipedDocument({ "forearm_l rotation.y": straight(20, 21, -150) }));
    expect(note.expected).toMatchObject({ max: 3000 });
    expect(note.suggestion).toContain("take 2 frames for what now takes 1 frame");
  });

  const spinning = (node: string, degreesPerSecond: number) =>
    bipedDocument({ [`${node} rotation.y`]: everyFrame(1, 48, (frame) => (degreesPerSecond * frame) / 24) });

  // The fastest spin of a skater on record, 308 turns a minute, is 1,848°/s (from memory).
  test("leaves a body be that spins as skaters do, and finds one that spins faster", () => {
    expect(over(spinning("hips", 1848))).toEqual([]);
    expect(over(spinning("hips", 2400))).toMatchObject([{ node: "hips", frames: [1, 48] }]);
  });

  // J Sports Sci Med 2015, 14:246, table 3: upper torso against pelvis 871 ± 150°/s in pitching.
  test("judges what the trunk turns in itself by the trunk's own limit", () => {
    expect(over(spinning("chest", 871))).toEqual([]);
    expect(over(spinning("chest", 871 + 2 * 150))).toMatchObject([{ node: "chest", tier: "minor" }]);
    expect(over(spinning("chest", 1848))).toMatchObject([{ node: "chest", tier: "major" }]);
  });

  test("takes the sample that makes up for a doubled one at 100 per second for no quick turn", () => {
    const chest = (way: (frame: number) => number) =>
      over(bipedDocument({ "chest rotation.y": everyFrame(1, 90, way) }, { rate: 100 }));
    const steady = (perFrame: number) => (frame: number) => perFrame * Math.min(16, Math.max(0, frame - 30));
    const doubled = (frame: number) => steady(5)(frame === 38 ? 37 : frame);
    expect(chest(steady(5))).toEqual([]);
    expect(chest(doubled)).toEqual([]);
    // What lasts is found: 1,000°/s for 0.16 s, where pitchers' chests turn at 871°/s against their hips.
    expect(chest(steady(10))).toMatchObject([{ node: "chest", tier: "minor" }]);
  });

  // Turn of the upper arm about its own length in throws: 7,500 to 7,700°/s (review PMC3445080).
  test("judges how an upper arm swings, not how it turns about its own length", () => {
    const arm = (axis: "x" | "y" | "z", degreesPerSecond: number) =>
      bipedDocument(
        { [`upper_arm_l rotation.${axis}`]: everyFrame(1, 60, (frame) => (degreesPerSecond * frame) / 120) },
        { rate: 120 },
      );
    expect(over(arm("x", 7700))).toEqual([]);
    for (const axis of ["y", "z"] as const) {
      expect(over(arm(axis, 4400)).map(({ node }) => node)).toContain("upper_arm_l");
      expect(over(arm(axis, 2420)).filter(({ node }) => node === "upper_arm_l")).toEqual([]);
    }
  });

  test.each([24, 25, "24000/1001", 60])("judges per second at %s frames per second", (rate) => {
    const perFrame = 3300 / (typeof rate === "string" ? 23.976 : rate);
    const [note] = over(bipedDocument({ "forearm_l rotation.y": straight(20, 21, perFrame) }, { rate }));
    expect(note).toMatchObject({ frames: [20, 21] });
    expect(note.measured.value).toBeCloseTo(3300, 0);
  });
});
