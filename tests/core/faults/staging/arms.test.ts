import { expect, test } from "vitest";
import { holdingDocument, swing } from "../../../../packages/core/faults/props/shared/held-motions.ts";
import { eased, everyFrame, walkDocument } from "../../../../packages/core/faults/shared/examples/motions.ts";
import {
  armsOf,
  handHoldsOf,
  hangs,
  isAtSomething,
  walksAt,
} from "../../../../packages/core/faults/staging/shared/arms.ts";
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

test("a bent arm that swings with a walk hangs; on a body that stands it is a pose", () => {
  const bent = {
    "upper_arm_l rotation.z": everyFrame(1, 73, () => -85),
    "forearm_l rotation.y": everyFrame(1, 73, () => -45),
  };
  const walking = studyOf(walkDocument({}, bent));
  const [arm] = armsOf(walking, 0);
  const walks = walksAt(walking, 0);
  expect(walks[36]).toBe(1);
  expect(hangs(walking, arm, 36, true)).toBe(true);
  expect(hangs(walking, arm, 36)).toBe(false);
  expect(walksAt(studyOf(bipedDocument(bent, { range: [1, 60] })), 0).every((one) => one === 0)).toBe(true);
});

test("a hold that drifts is one hold, which was come to where it began", () => {
  const raised = (drift: number) =>
    everyFrame(1, 60, (frame) => eased(8, 20, -80, 20)(frame) + drift * Math.max(0, frame - 18));
  const holds = (drift: number) => {
    const study = studyOf(bipedDocument({ "upper_arm_l rotation.z": raised(drift) }, { range: [1, 60] }));
    return handHoldsOf(study, 0, armsOf(study, 0)[0].end).filter(({ to }) => to > 54);
  };
  for (const drift of [0, 0.3, 0.6]) {
    expect(holds(drift)).toHaveLength(1);
    expect(holds(drift)[0].from).toBeLessThan(24);
    expect(holds(drift)[0].travel).toBeGreaterThan(0.4);
  }
});
