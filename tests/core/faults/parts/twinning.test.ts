import { describe, expect, test } from "vitest";
import { jump, jumpDocument } from "../../../support/bodies.ts";
import {
  bipedDocument,
  type DocumentOptions,
  eased,
  everyFrame,
  notesOfCheck,
} from "../../../support/shots.ts";

describe("twinning", () => {
  test("finds what the arms do once the body has risen from a landing", () => {
    const { landing, motion } = jump();
    const last = motion.last + 60;
    const lift = (f: number) =>
      eased(landing + 46, landing + 60, 0, 1)(f) - eased(landing + 60, landing + 74, 0, 1)(f);
    const arm = (letter: "l" | "r", sign: 1 | -1) => ({
      [`upper_arm_${letter} rotation.z`]: everyFrame(1, last, (f) => sign * (-75 + 40 * lift(f))),
      [`upper_arm_${letter} rotation.y`]: everyFrame(1, last, (f) => -sign * 60 * lift(f)),
    });
    const notes = notesOfCheck(
      jumpDocument({ range: [1, last] }, { ...arm("l", 1), ...arm("r", -1) }),
      "twinning",
    );
    expect(notes.map(({ node }) => node)).toContain("upper_arm_r");
  });

  /** Both arms, bent, lift forward and out within a second, at any rate; the right one mirrors the left. */
  const gesture = (options: DocumentOptions & { rate: number | string; fps: number }) => {
    const lift = (f: number) => eased(0.4, 1.4, 0, 1)(f / options.fps);
    const last = Math.round(2.5 * options.fps);
    const arm = (letter: "l" | "r", sign: 1 | -1) => ({
      [`upper_arm_${letter} rotation.z`]: everyFrame(1, last, (f) => sign * (-70 + 60 * lift(f))),
      [`upper_arm_${letter} rotation.y`]: everyFrame(1, last, (f) => -sign * 35 * lift(f)),
      [`forearm_${letter} rotation.y`]: everyFrame(1, last, (f) => -sign * 50 * lift(f)),
    });
    return notesOfCheck(bipedDocument({ ...arm("l", 1), ...arm("r", -1) }, options), "twinning");
  };

  test.each([
    [24, 24],
    [25, 25],
    [30, 30],
    [60, 60],
    ["24000/1001", 24000 / 1001],
  ])("at %s frames per second and in any unit", (rate, fps) => {
    expect(gesture({ rate, fps })).toHaveLength(1);
    expect(gesture({ rate, fps, unit: 0.01 })).toHaveLength(1);
  });
});
