import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  eased,
  jumpDocument,
  motionDocument,
  standing,
  type Vector,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { flatFoot } from "./check.ts";

/** A step and a half of half a metre each, in which the left foot pitches by so many degrees over its ball. */
const step = (roll: number) => (): CurveDocument => walkDocument({ roll, steps: 1.5 });

/** A step of 45 cm, to the side or forward, after which the right foot comes along in one piece. */
const stepAlong = (axis: 0 | 2) => (): CurveDocument => {
  const along = (place: Vector, way: number): Vector => [
    place[0] + (axis === 0 ? way : 0),
    place[1],
    place[2] + (axis === 2 ? way : 0),
  ];
  const [body, lift] = [eased(6, 22, 0, 0.45), eased(16, 21, 0, 0.1)];
  const step = (side: "left" | "right", first: number) => (frame: number) => {
    const up = lift(frame - first) - lift(frame - first - 6);
    const [x, y, z] = along(standing(side).at, eased(first + 16, first + 26, 0, 0.45)(frame));
    return { at: [x, y + up, z] as const };
  };
  return motionDocument({
    first: 1,
    last: 48,
    hips: (frame) => along([0, 0.86, 0], body(frame)),
    left: step("left", -12),
    right: step("right", 0),
  });
};

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
    { title: "a step to the side", motion: stepAlong(0), unexcused: stepAlong(2) },
  ],
  provocation: {
    shot: "steps_0110_v1",
    node: "foot_l",
    frames: [27, 40],
    slip: "in the first version the left foot leaves the top step in one piece",
  },
  picture: { draws: "figure", seen: "side", at: [10], only: ["thigh_l"] },
});
