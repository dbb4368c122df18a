import { expect, test } from "vitest";
import { heldPropOf } from "../../../packages/core/expressions/held-prop.ts";
import { holdingDocument, swing } from "../../../packages/core/faults/props/shared/held-motions.ts";
import { gripsOf } from "../../../packages/core/motion/parts/grips.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { gridOf } from "../../../packages/core/time/grid.ts";
import { studyOf } from "../../support/shots.ts";

/** A cup that the left hand carries through a swing, or that stays where it is while the hand goes. */
const cup = (isCarried: boolean, prop = {}) =>
  studyOf(
    holdingDocument(swing, [1, 60], {
      node: "cup",
      path: (frame, hand) => hand.point(isCarried ? frame : 1, [0.08, -0.04, 0]),
      prop,
    }),
  );

const heldFrames = (study: ReturnType<typeof cup>) => {
  const held = heldPropOf(study, rigOf(study).indexOf.get("cup") as number);
  return [...gridOf(study).frames].filter((_, i) => held[i] === 1);
};

test("a thing is held over the frames in which the document says that a hand holds it", () => {
  const frames = heldFrames(cup(true, { heldBy: [{ node: "hand_l", frames: [10, 20] }] }));
  expect(frames).toEqual(Array.from({ length: 11 }, (_, n) => 10 + n));
});

test("a thing is held where it is seen to go with a hand, by the stretch that all checks go by", () => {
  const study = cup(true);
  const [grip] = gripsOf(study);
  expect(grip).toBeDefined();
  const frames = heldFrames(study);
  expect(frames).toHaveLength(grip.to - grip.from + 1);
  expect(frames[0]).toBe(gridOf(study).frames[grip.from]);
});

test("a thing that stays while a hand goes is not held", () => {
  expect(heldFrames(cup(false))).toEqual([]);
});
