import { describe, expect, test } from "vitest";
import { jump, jumpDocument } from "../../../support/bodies.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import {
  bipedDocument,
  type Curves,
  type DocumentOptions,
  eased,
  everyFrame,
  notesOfCheck,
} from "../../../support/shots.ts";

/** Both arms lift forward and out and come down again; the right one mirrors the left, `late` frames after it. */
function gesture(late: number, share = 1, more: Curves = {}): Curves {
  const lift = (frame: number) => Math.max(0, Math.sin((2 * Math.PI * (frame - 10)) / 48));
  const arm = (letter: "l" | "r") => {
    const sign = letter === "l" ? 1 : -1;
    const at = (frame: number) => (letter === "l" ? lift(frame) : share * lift(frame - late));
    return {
      [`upper_arm_${letter} rotation.z`]: everyFrame(1, 72, (f) => sign * (-70 + 60 * at(f))),
      [`upper_arm_${letter} rotation.y`]: everyFrame(1, 72, (f) => -sign * 35 * at(f)),
      [`forearm_${letter} rotation.y`]: everyFrame(1, 72, (f) => -sign * 50 * at(f)),
    };
  };
  return { ...arm("l"), ...arm("r"), ...more };
}

const twins = (curves: Curves, options?: DocumentOptions) =>
  notesOfCheck(bipedDocument(curves, options), "twinning");

describe("twinning", () => {
  test("finds arms that mirror each other, and points at the right arm's keys", () => {
    const notes = twins(gesture(0));
    expect(notes.length).toBeGreaterThan(0);
    expect(notes[0]).toMatchObject({ node: "upper_arm_r", figure: "walker" });
    expect(notes[0].keys[0].node).toMatch(/_r$/);
    expect(notes[0].frames[0]).toBeGreaterThanOrEqual(10);
    expect(notes[0].frames[1]).toBeLessThanOrEqual(36);
    expect(notes[0].suggestion).toMatch(/[23] frames later/);
  });

  test("marks the frames from the one on which the hands set out to the one on which they arrive", () => {
    // Straight arms of 0.53 m rise by 60° within 24 frames, minimum-jerk. 0.1 body heights a second are 1.28 % of that way
    // a frame, which the fourth step is the first and the last but three the last to make (1.95 %; the third: 1.09 %).
    const lift = eased(10, 34, 0, 60);
    const arm = (letter: "l" | "r", sign: 1 | -1) => ({
      [`upper_arm_${letter} rotation.z`]: everyFrame(1, 60, (f) => sign * (lift(f) - 70)),
    });
    const [note, ...others] = twins({ ...arm("l", 1), ...arm("r", -1) });
    expect(others).toEqual([]);
    expect(note.frames).toEqual([13, 31]);
    expect(note.message).toContain("for 18 frames in frames 13 to 31");
  });

  test("a turned body changes nothing", () => {
    const turned = twins(gesture(0, 1, { "hips rotation.y": everyFrame(1, 72, (f) => 100 + 0.5 * f) }));
    expect(turned.length).toBeGreaterThan(0);
  });

  test("is silent where one arm is late, smaller, or still", () => {
    expect(twins(gesture(4))).toEqual([]);
    expect(twins(gesture(0, 0.6))).toEqual([]);
    expect(twins(gesture(0, 0))).toEqual([]);
  });

  test("is silent where the hands hold one thing: their distance stays the same", () => {
    const swing = (f: number) => 25 * Math.sin((2 * Math.PI * f) / 48);
    const both = (letter: "l" | "r") => ({
      // Arms stretched forward, swinging up and down together about the shoulders' common axis.
      [`upper_arm_${letter} rotation.y`]: everyFrame(1, 72, () => (letter === "l" ? -90 : 90)),
      [`upper_arm_${letter} rotation.x`]: everyFrame(1, 72, swing),
    });
    expect(twins({ ...both("l"), ...both("r") })).toEqual([]);
  });

  test("is silent where they hold it for one move between two rests", () => {
    const lift = eased(20, 40, 0, 70);
    const both = (letter: "l" | "r") => ({
      [`upper_arm_${letter} rotation.y`]: everyFrame(1, 72, () => (letter === "l" ? -90 : 90)),
      [`upper_arm_${letter} rotation.x`]: everyFrame(1, 72, lift),
    });
    expect(twins({ ...both("l"), ...both("r") })).toEqual([]);
  });

  describe("after a jump", () => {
    const { landing, motion } = jump();
    /** Both arms rise to the front and come down again, mirrored. */
    const raised = (from: number, top: number, down: number) => {
      const lift = (f: number) => eased(from, top, 0, 1)(f) - eased(top, down, 0, 1)(f);
      const arm = (letter: "l" | "r", sign: 1 | -1) => ({
        [`upper_arm_${letter} rotation.z`]: everyFrame(1, last, (f) => sign * (-75 + 40 * lift(f))),
        [`upper_arm_${letter} rotation.y`]: everyFrame(1, last, (f) => -sign * 60 * lift(f)),
      });
      const last = motion.last + 30;
      return jumpDocument({ range: [1, last] }, { ...arm("l", 1), ...arm("r", -1) });
    };

    test("is silent while the arms that balanced the landing come down, though the body stands by then", () => {
      expect(notesOfCheck(raised(landing, landing + 11, landing + 30), "twinning")).toEqual([]);
    });

    test("finds what the arms do once they have come down", () => {
      expect(
        notesOfCheck(raised(landing + 20, landing + 34, landing + 48), "twinning").length,
      ).toBeGreaterThan(0);
    });
  });

  test.each([24, 25, 60, "24000/1001"])("at %s frames per second and in any unit", (rate) => {
    expect(twins(gesture(0), { rate: rate === 60 ? 30 : rate }).length).toBeGreaterThan(0);
    expect(twins(gesture(0), { rate, unit: 0.01 }).length > 0).toBe(twins(gesture(0), { rate }).length > 0);
  });

  test("says nothing about documents with next to nothing in them", () => expectQuietOnBarren("twinning"));
});
