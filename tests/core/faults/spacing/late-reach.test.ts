import { describe, expect, test } from "vitest";
import { registry } from "../../../../packages/core/faults/registry.ts";
import {
  bipedDocument,
  eased,
  everyFrame,
} from "../../../../packages/core/faults/shared/examples/motions.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { notesOfCheck } from "../../../support/shots.ts";
import { capturedJump, recordings } from "../../recomputed/shared/shots.ts";

type Course = (frame: number) => number;

/** An arm that swings up to a bell from frame 14 to 30, on a chest that turns by as much as it is told. */
const reach = (way: Course, chest: Course = () => 0) => ({
  ...bipedDocument({
    "upper_arm_l rotation.z": everyFrame(1, 48, (frame) => -70 + 80 * way(frame)),
    "chest rotation.y": everyFrame(1, 48, chest),
  }),
  contacts: [{ node: "hand_l", with: "bell", frames: [30, 48] as [number, number] }],
});
const hurried =
  (power: number): Course =>
  (frame) =>
    Math.min(1, Math.max(0, (frame - 14) / 16)) ** power;

const notes = (shot: ReturnType<typeof reach>) => notesOfCheck(shot, "late-reach");

describe("late-reach", () => {
  test("measures more the later a limb comes, and is silent on one that eases in or goes at an even speed", () => {
    for (const course of [eased(14, 30, 0, 1), hurried(1), hurried(1.5)])
      expect(notes(reach(course))).toEqual([]);
    const told = [3, 4, 5, 6].map((power) => notes(reach(hurried(power)))[0]?.measured.value ?? 0);
    expect(told.every((value, i) => value > (told[i - 1] ?? 0.4375))).toBe(true);
  });

  test("tells who starts the reach and who follows", () => {
    const [alone] = notes(reach(hurried(4)));
    expect(alone.message).not.toMatch(/ later/);
    const [led] = notes(reach(hurried(4), eased(8, 28, 0, 12)));
    expect(led.message).toMatch(/; trunk first, upper arm [\d.]+ frames later$/);
  });
});

describe("recordings of people", () => {
  const checks = ["late-reach", "mirrored-steps", "straight-set"];
  const settings = resolveSettings(registry, {}, { only: checks });
  test.each([capturedJump(), ...recordings()])(
    "$name: no limb comes late, no feet are mirrored, no trunk is straight",
    ({ make }) => {
      const shot = make();
      const found = notesOf(studyOf(shot, settings)).map(({ check, node, frames }) => ({
        check,
        node,
        frames,
      }));
      expect(found).toEqual([]);
    },
  );
});
