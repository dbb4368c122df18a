import { expect, test } from "vitest";
import { bipedDocument, everyFrame, notesOfCheck } from "../../../support/shots.ts";

test("gimbal lock is told once of a joint, however often it comes near lock", () => {
  const often = (f: number) => (f % 16 < 8 ? 88 : 40);
  const [note, ...others] = notesOfCheck(
    bipedDocument({
      "upper_arm_l rotation.y": everyFrame(1, 64, often),
      "upper_arm_l rotation.x": everyFrame(1, 64, (f) => (f < 32 ? 6 : 9) * f),
      "upper_arm_l rotation.z": everyFrame(1, 64, (f) => (f < 32 ? -6 : -9) * f),
    }),
    "gimbal-lock",
  );
  expect(others).toEqual([]);
  expect(note.message).toContain("in 3 more stretches of frames 1 to ");
  // The later stretches swing farther: the note is on one of them, and names its keys.
  expect(note.frames[0]).toBeGreaterThan(30);
  expect(note.keys[0].frame).toBeGreaterThan(30);
});
