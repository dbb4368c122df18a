import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { jumpDocument, walkDocument } from "../../shared/examples/motions.ts";
import { flatFoot } from "./check.ts";

/** A step and a half of half a metre each, in which the left foot pitches by so many degrees over its ball. */
const step = (roll: number) => (): CurveDocument => walkDocument({ roll, steps: 1.5 });

export const flatFootExamples = defineExamples(flatFoot, {
  faulty: [
    {
      title: "a foot that leaves the ground in one piece",
      motion: step(0),
      right: step(35),
      // Three quarters of a step of twelve frames after it stood under the hips, on frame 10, the foot is 2.3 cm up. The
      // leg leans by 18° (the hips 0.26 m ahead of an ankle 0.79 m below) from frame 7.2 on.
      note: {
        node: "foot_l",
        frames: [8, 9],
        key: { node: "foot_l", channel: "rotation.x" },
        measured: 0,
      },
    },
  ],
  silent: [
    { title: "a walk whose feet roll off", motion: () => walkDocument() },
    { title: "a walk whose feet roll a little", motion: () => walkDocument({ roll: 25 }) },
    { title: "long steps that roll", motion: () => walkDocument({ stepLength: 0.6, roll: 45 }) },
    { title: "a jump", motion: () => jumpDocument() },
    {
      title: "short, shuffling steps",
      motion: () => walkDocument({ roll: 0, stepLength: 0.2 }),
      unexcused: () => walkDocument({ roll: 0 }),
    },
  ],
  provocation: {
    shot: "steps_0110_v1",
    node: "foot_l",
    frames: [27, 40],
    slip: "in the first version the left foot leaves the top step in one piece",
  },
  picture: { draws: "figure", seen: "side", at: [10], only: ["thigh_l"] },
});
