import { defineExamples } from "../../shared/examples/example.ts";
import { keyAt, rekeyed } from "../../shared/examples/keying.ts";
import {
  bipedDocument,
  chainDocument,
  eased,
  everyFrame,
  jump,
  jumpDocument,
  type Keyed,
  onTwos,
  pathDocument,
  pointDocument,
  riddenDocument,
} from "../../shared/examples/motions.ts";
import { spacingJump } from "./check.ts";

/** A value that goes on at one pace until a frame, and at another after it. */
const changing = (at: number, before: number, after: number) => (frame: number) =>
  frame <= at ? before * (frame - 1) : before * (at - 1) + after * (frame - at);
/** The same by three keys. */
const keyed = (before: number, after: number, interpolation: "linear" | "smooth" = "linear"): Keyed => {
  const way = changing(20, before, after);
  return { interpolation, keys: [1, 20, 40].map((frame): [number, number] => [frame, way(frame)]) };
};
const point = (before: number, after: number, interpolation: "linear" | "smooth" = "linear") => {
  return () => pointDocument({ "translation.z": keyed(before, after, interpolation) });
};
const swing = (keys: [number, number][], interpolation: "linear" | "smooth") => () =>
  chainDocument(1, { "joint_1 rotation.z": { interpolation, keys } });
const breakdown: [number, number][] = [
  [6, 150],
  [16, 60],
  [28, 24],
];
/** A point that goes these millimetres a frame, each step turned from the one before by degrees. */
const going = (steps: readonly number[], turns: Readonly<Record<number, number>> = {}) => {
  const points = [[0, 0]];
  let angle = 0;
  for (const [i, step] of steps.entries()) {
    angle += ((turns[i] ?? 0) * Math.PI) / 180;
    const [x, y] = points[i];
    points.push([x + (step * Math.cos(angle)) / 1000, y + (step * Math.sin(angle)) / 1000]);
  }
  return () => pathDocument(1, points.length, (frame) => [points[frame - 1][0], points[frame - 1][1], 0]);
};
const strong = [20, 36, 52, 68, 84, 100, 116, 132, 148, 164];
const rounded = [40, 60, 80, 90, 92, 90, 85, 78, 30, 28, 40, 50, 55, 60, 60, 58];
const arm = (at: number) => ({ "upper_arm_l rotation.z": everyFrame(1, 60, changing(at, -2.4, -0.8)) });
/** A leg that swings forward in the air. */
const thigh = (at: number) => ({
  "hips translation.y": [[1, 1.6]] as [number, number][],
  "thigh_l rotation.x": everyFrame(1, 60, changing(at, -2.4, -0.8)),
});

/** A point that slows to a third at once, and later changes its spacing as much from frame to frame. */
const restless = (noise: number) => () =>
  pathDocument(1, 110, (frame) => [
    0.02 * Math.min(frame, 20) + (frame > 20 ? (0.02 / 3) * (frame - 20) : 0),
    frame > 44 ? noise * 0.02 * Math.sin(12.9898 * frame ** 2) : 0,
    0,
  ]);

const ridden = (own: Keyed) => () => riddenDocument(own);

export const spacingJumpExamples = defineExamples(spacingJump, {
  faulty: [
    {
      title:
        "an arm that is fast up to its breakdown and slow from there on, with straight lines between the keys",
      motion: swing(breakdown, "linear"),
      right: swing(breakdown, "smooth"),
      note: {
        node: "joint_1",
        frames: [16, 16],
        key: { node: "joint_1", channel: "rotation.z", frame: 16 },
        // 9° a frame, then 3°.
        measured: 3,
      },
    },
    {
      title: "an arm that slows to a third at once on a body that turns all the time",
      motion: ridden({ interpolation: "linear", keys: breakdown }),
      right: ridden({ interpolation: "smooth", keys: breakdown }),
      note: {
        node: "joint_2",
        frames: [16, 16],
        key: { node: "joint_2", channel: "rotation.z", frame: 16 },
        measured: 3,
      },
    },
    {
      title: "a point whose spacing falls to a third at a key",
      motion: point(0.06, 0.02),
      right: point(0.06, 0.02, "smooth"),
      note: {
        node: "point",
        frames: [20, 20],
        key: { node: "point", channel: "translation.z", frame: 20 },
        measured: 3,
      },
    },
    {
      title: "a point whose spacing grows to more than three times at a key",
      motion: point(0.015, 0.05),
      right: point(0.015, 0.05, "smooth"),
      note: {
        node: "point",
        frames: [20, 20],
        key: { node: "point", channel: "translation.z", frame: 20 },
        measured: 50 / 15,
      },
    },
    {
      title: "a strong ease that goes on at two fifths of its spacing in the middle",
      motion: going([...strong, ...strong.map((step) => step / 2.5).reverse()]),
      right: going([...strong, ...strong.toReversed()]),
      note: {
        node: "point",
        frames: [11, 11],
        key: { node: "point", channel: "translation.x" },
        measured: 2.5,
      },
    },
  ],
  silent: [
    {
      title: "a spacing that falls to a third, of a point that changes its spacing as much all shot long",
      motion: restless(1),
      unexcused: restless(0),
    },
    { title: "a spacing that falls to half", motion: point(0.06, 0.03), unexcused: point(0.06, 0.02) },
    {
      title: "an arm whose hand meets something there",
      motion: () =>
        bipedDocument(arm(20), { more: { contacts: [{ node: "hand_l", frames: [20, 40], slides: true }] } }),
      unexcused: () => bipedDocument(arm(20)),
    },
    {
      title: "a thigh that slows as the toes of its leg land, three joints below it",
      motion: () => bipedDocument(thigh(20), { more: { contacts: [{ node: "toes_l", frames: [20, 40] }] } }),
      unexcused: () =>
        bipedDocument(thigh(20), { more: { contacts: [{ node: "toes_r", frames: [20, 40] }] } }),
    },
    {
      title: "an arm that is slowed by a landing",
      motion: () => jumpDocument({}, arm(jump().landing)),
      unexcused: () => bipedDocument(arm(jump().landing)),
    },
    { title: "a take-off", motion: () => jumpDocument() },
    { title: "a turn-round", motion: point(0.06, -0.02), unexcused: point(0.06, 0.02) },
    {
      title: "a turn-round that several frames share",
      motion: going(rounded, { 7: 20, 8: 45, 9: 40 }),
      unexcused: going(rounded),
    },
    {
      title: "the first and last steps of a short ease",
      motion: () => pathDocument(1, 40, (frame) => [eased(10, 16, 0, 0.5)(frame), 0, 0]),
    },
    {
      title: "even poses on twos",
      motion: () => pointDocument({ "translation.x": onTwos(1, 47, (frame) => 0.04 * frame) }),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "upper_arm_l",
    frames: [46, 46],
    slip: "a breakdown of the left arm is pulled too far ahead: up to it the arm is fast, behind it slow",
    edits: [
      (shot) =>
        rekeyed(shot, "upper_arm_l", "rotation.z", [
          keyAt(shot, "upper_arm_l", "rotation.z", 39),
          { frame: 46, value: 24, slope: -7, leaves: -1.5 },
          keyAt(shot, "upper_arm_l", "rotation.z", 55),
        ]),
    ],
  },
  picture: { draws: "path", node: "tip", seen: "front" },
});
