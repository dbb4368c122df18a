import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { curvesWithout } from "../../shared/examples/keying.ts";
import {
  bipedWithout,
  eased,
  jumpDocument,
  motionDocument,
  rolled,
  standing,
  type Vector,
  walk,
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

/** Someone who rises straight up and off the ground, the left foot tipped by so many degrees over its toes, the right by 30. */
const rising = (roll: number) => (): CurveDocument => {
  const up = eased(8, 30, 0.74, 0.98);
  const lift = eased(22, 36, 0, 0.18);
  const foot = (side: "left" | "right") => (frame: number) => {
    const own = rolled(side, 0, eased(17, 24, 0, side === "left" ? roll : 30)(frame));
    return { ...own, at: [own.at[0], own.at[1] + lift(frame), own.at[2]] as const };
  };
  return motionDocument({
    first: 1,
    last: 40,
    hips: (frame) => [0, up(frame), 0],
    left: foot("left"),
    right: foot("right"),
  });
};

/** A walk of six steps whose feet roll by 45°; the left one by so many in its second step, from frame 19 to 42. */
const stiffStep = (roll: number) => (): CurveDocument => {
  const [usual, stiff] = [walk({ roll: 45 }), walk({ roll })];
  const left = (frame: number) => (frame > 18 && frame < 43 ? stiff : usual).left(frame);
  return motionDocument({ ...usual, left });
};

/** The same walk whose left foot rolls by so many degrees in all of its steps. */
export const stiffFoot = (roll: number) => (): CurveDocument =>
  motionDocument({ ...walk({ roll: 45 }), left: walk({ roll }).left });

/**
 * The walk of {@link stiffStep} by feet without joints at their balls, whose contacts are declared while they lie flat. A foot
 * lies flat from 0.3 of a step of twelve frames before it is under the hips to 0.35 after that.
 */
const declaredFlat = (roll: number) => (): CurveDocument => {
  const floor = { id: "floor", normal: [0, 1, 0] as [number, number, number], height: 0 };
  const contacts = [0, 1, 2, 3, 4, 5, 6].map((step) => ({
    node: step % 2 === 0 ? "foot_l" : "foot_r",
    with: "floor",
    frames: [Math.max(1, 12 * step - 2), Math.min(73, 12 * step + 5)] as [number, number],
  }));
  const more = { surfaces: [floor], contacts };
  return bipedWithout(/^toes_/, curvesWithout(stiffStep(roll)(), /^toes_/), { range: [1, 73], more });
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
    {
      title: "a foot that leaves in one piece under a leg that is straight, though it does not lean",
      motion: rising(0),
      right: rising(30),
      // The leg comes to 0.985 of its length with frame 24; by frame 25 the foot is more than 1 cm up.
      note: {
        node: "foot_l",
        frames: [24, 24],
        key: { node: "foot_l", channel: "rotation.x" },
        measured: 0,
      },
    },
    {
      title: "a foot that leaves with a third of the roll that it has in its other steps",
      motion: stiffStep(14),
      right: stiffStep(45),
      note: {
        node: "foot_l",
        // It leaves three quarters of a step after it stood under the hips, on frame 34; its ball is 1 cm up two frames later.
        frames: [30, 36],
        key: { node: "foot_l", channel: "rotation.x" },
        // What is up for the sole is a mean over the plants, which is a degree off the upright.
        measured: 15,
      },
    },
    {
      title: "the same of a foot without a joint at its ball, whose contacts are declared while it lies flat",
      motion: declaredFlat(14),
      right: declaredFlat(45),
      note: {
        node: "foot_l",
        frames: [30, 36],
        key: { node: "foot_l", channel: "rotation.x" },
        measured: 14,
      },
    },
  ],
  silent: [
    { title: "a walk whose feet roll off", motion: () => walkDocument() },
    { title: "a walk whose feet roll a little", motion: () => walkDocument({ roll: 25 }) },
    { title: "long steps that roll", motion: () => walkDocument({ stepLength: 0.6, roll: 45 }) },
    {
      title: "feet that roll off behind contacts that are declared while they lie flat",
      motion: declaredFlat(45),
      unexcused: declaredFlat(14),
    },
    { title: "a jump", motion: () => jumpDocument() },
    {
      title: "short, shuffling steps",
      motion: () => walkDocument({ roll: 0, stepLength: 0.2 }),
      unexcused: () => walkDocument({ roll: 0 }),
    },
    {
      title: "feet that roll a little in all of their steps",
      motion: () => walkDocument({ roll: 14 }),
      unexcused: stiffFoot(14),
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
