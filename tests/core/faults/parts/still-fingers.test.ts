import { expect, test } from "vitest";
import { stillFingersExamples } from "../../../../packages/core/faults/parts/still-fingers/examples.ts";
import { notesOfCheck } from "../../../support/shots.ts";

test("still-fingers says it of both ends of a hold", () => {
  const contacts = [{ node: "hand_l", frames: [12, 48] as [number, number] }];
  const motion = stillFingersExamples.faulty[0].motion();
  const shot = { ...motion.shot, range: [1, 60] as [number, number] };
  const found = notesOfCheck({ ...motion, shot, contacts }, "still-fingers");
  expect(found.map(({ node, frames }) => [node, ...frames]).sort()).toEqual([
    ["hand_l", 4, 20],
    ["hand_l", 40, 56],
  ]);
});
