import type { Shot } from "../../../document/model.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { reaching } from "../../shared/examples/limbs.ts";
import {
  ankleHeight,
  type DocumentOptions,
  eased,
  type Foot,
  halfStance,
  jumpDocument,
  motionDocument,
} from "../../shared/examples/motions.ts";
import { mirroredSteps } from "./check.ts";

/** A foot that makes a step to the front from one frame to another. */
const stepping =
  (side: "left" | "right", from: number, to: number) =>
  (frame: number): Foot => {
    const share = Math.min(1, Math.max(0, (frame - from) / (to - from)));
    return {
      at: [
        side === "left" ? halfStance : -halfStance,
        ankleHeight + 0.08 * Math.sin(Math.PI * share) ** 2,
        0.3 * eased(from, to, 0, 1)(frame),
      ],
    };
  };

/** A body that walks a step to the front, feet on the frames that are told, at a height that stays. */
const steps =
  (left: readonly [number, number], right: readonly [number, number], options: DocumentOptions = {}) =>
  () =>
    motionDocument(
      {
        first: 1,
        last: 60,
        hips: (frame) => [0, 0.86, 0.3 * eased(10, 40, 0, 1)(frame)],
        left: stepping("left", ...left),
        right: stepping("right", ...right),
      },
      options,
    );

export const mirroredStepsExamples = defineExamples(mirroredSteps, {
  faulty: [
    {
      title: "a body whose feet both step from frame 18 to 28",
      motion: steps([18, 28], [18, 28]),
      right: steps([14, 24], [26, 36]),
      note: {
        node: "foot_r",
        frames: [20, 26],
        key: { node: "thigh_r", channel: "rotation.x" },
        measured: 0,
      },
    },
  ],
  silent: [
    { title: "one step after the other", motion: steps([14, 24], [26, 36]) },
    { title: "feet that are two frames apart", motion: steps([17, 27], [19, 29]) },
    { title: "a jump", motion: () => jumpDocument() },
    {
      title: "a figure with propulsors, whose beat carries it",
      motion: steps([18, 28], [18, 28], {
        more: { propulsors: [{ figure: "walker", nodes: ["upper_arm_l"], channel: "rotation.z" }] },
      }),
      unexcused: steps([18, 28], [18, 28]),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "foot_l",
    frames: [54, 64],
    slip: "the right leg's small step before the crouch is a copy of the left one's, on the same frames",
    edits: ["l", "r"].map(
      (side) => (shot: Shot) =>
        reaching(shot, {
          limb: [`thigh_${side}`, `shin_${side}`, `foot_${side}`],
          frames: [56, 66],
          to: ([x, y, z], frame) => [x, y + 6 * Math.sin((Math.PI * (frame - 56)) / 10) ** 2, z],
        }),
    ),
  },
  picture: { draws: "courses", nodes: ["foot_l", "foot_r"], of: "height" },
});
