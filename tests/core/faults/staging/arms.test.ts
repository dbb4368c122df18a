import { expect, test } from "vitest";
import { holdingDocument, swing } from "../../../../packages/core/faults/props/shared/held-motions.ts";
import { isAtSomething } from "../../../../packages/core/faults/staging/shared/arms.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { bipedDocument, studyOf } from "../../../support/shots.ts";

/** How often the left hand, and the right one, is at something in 60 frames. */
function framesAt(study: ReturnType<typeof studyOf>): number[] {
  return ["hand_l", "hand_r"].map((id) => {
    const hand = rigOf(study).indexOf.get(id) as number;
    return Array.from({ length: 60 }, (_, i) => isAtSomething(study, hand, i)).filter(Boolean).length;
  });
}

const carried = (heldBy?: { node: string; frames: [number, number] }[]) =>
  studyOf(
    holdingDocument(swing, [1, 60], {
      node: "cup",
      path: (frame, hand) => hand.point(frame, [0.08, -0.04, 0]),
      ...(heldBy && { prop: { heldBy } }),
    }),
  );

test("a hand that is seen to carry a thing is at something, the other one is not", () => {
  const [left, right] = framesAt(carried());
  // Of the 32 frames of the swing most, where it moves.
  expect(left).toBeGreaterThan(24);
  expect(right).toBe(0);
});

test("what the document says of a hold stands for what is found of it", () => {
  expect(framesAt(carried([{ node: "hand_l", frames: [10, 20] }]))).toEqual([11, 0]);
});

test("a declared contact of the hand counts as well; empty hands are at nothing", () => {
  const at = { contacts: [{ node: "hand_r", with: "floor", frames: [5, 8] as [number, number] }] };
  expect(framesAt(studyOf(bipedDocument({}, { range: [1, 60], more: at })))).toEqual([0, 4]);
  expect(framesAt(studyOf(bipedDocument({}, { range: [1, 60] })))).toEqual([0, 0]);
});
