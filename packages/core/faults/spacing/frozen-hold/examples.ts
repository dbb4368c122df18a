import { defineExamples } from "../../shared/examples/example.ts";
import { keyAt, rekeyed } from "../../shared/examples/keying.ts";
import { bipedDocument, chainDocument, type Keyed } from "../../shared/examples/motions.ts";
import { frozenHold } from "./check.ts";

type Pose = [frame: number, value: number];
const smooth = (...keys: Pose[]): Keyed => ({ interpolation: "smooth", keys });
/** A body that goes into a pose and out of it again; in between arm and chest drift on by some degrees. */
const posing = (arm: number, chest: number) => () =>
  bipedDocument({
    "upper_arm_l rotation.z": smooth([1, 0], [4, 0], [24, 30], [44, 30 + arm], [64, -10], [68, -10]),
    "head rotation.y": smooth([1, 0], [4, 0], [24, 30], [44, 30], [64, -10], [68, -10]),
    "chest rotation.z": smooth([1, 0], [4, 0], [24, 8], [44, 8 + chest], [64, 0], [68, 0]),
  });
/** An arm that goes to a place, stands there until a frame, and comes back. */
const standing = (until: number, interpolation: "linear" | "step" = "linear", drift = 0) => {
  const keys: Keyed = [
    [1, 0],
    [20, 60, { interpolation }],
    [until, 60 + drift],
    [60, 0],
  ];
  return () => chainDocument(2, { "joint_1 rotation.z": keys });
};
/** An arm that is lifted until frame 36 and stands to the end of the shot. */
const ending = (last: number) => () =>
  bipedDocument(
    { "upper_arm_l rotation.z": smooth([1, 0], [20, 0], [36, 60], [60, 60]) },
    { range: [1, last] },
  );
/** A chest that leans on evenly, 0.1° a frame, but between the frames 20 and 28. */
const breathing = (on: number) => () =>
  bipedDocument({
    "chest rotation.x": [
      [1, 0],
      [20, 1.9],
      [28, 1.9 + on],
      [48, 3.9 + on],
    ],
  });
/** The body that goes into a pose, and a ball that hangs on its chest and moves all the time. */
const withBall = (arm: number) => () => {
  const body = posing(arm, arm / 2)();
  return {
    ...body,
    nodes: [
      ...body.nodes,
      { id: "ball", parent: "chest", translation: [0.5, -1, 0] as [number, number, number] },
    ],
    curves: [
      ...body.curves,
      {
        node: "ball",
        channel: "translation.z" as const,
        keys: [
          [1, 0],
          [68, 2],
        ] as Pose[],
      },
    ],
    props: [{ node: "ball" }],
  };
};
const blocked: Keyed = {
  interpolation: "step",
  keys: Array.from({ length: 6 }, (_, i): Pose => [1 + 10 * i, 20 * (i % 2)]),
};

export const frozenHoldExamples = defineExamples(frozenHold, {
  faulty: [
    {
      title: "a body that goes into a pose and stands in it like a picture",
      motion: posing(0, 0),
      right: posing(4, 2),
      note: {
        node: "fingers_l",
        frames: [24, 44],
        key: [
          { node: "upper_arm_l", channel: "rotation.z", frame: 24 },
          { node: "head", channel: "rotation.y", frame: 24 },
          { node: "chest", channel: "rotation.z", frame: 24 },
        ],
        measured: 20,
      },
    },
    {
      title: "an arm that stops dead between two moves and stays for twelve frames",
      motion: standing(32),
      right: standing(32, "linear", 4),
      note: {
        node: "tip",
        frames: [20, 32],
        key: { node: "joint_1", channel: "rotation.z", frame: 20 },
        measured: 12,
      },
    },
    {
      title: "an arm that stays for five frames",
      motion: standing(25),
      right: standing(25, "linear", 4),
      note: {
        node: "tip",
        frames: [20, 25],
        key: { node: "joint_1", channel: "rotation.z", frame: 20 },
        measured: 5,
      },
    },
    {
      title: "a figure that breathes, and for eight frames does not",
      motion: breathing(0),
      right: breathing(0.5),
      note: {
        node: "head_end",
        frames: [20, 28],
        key: { node: "chest", channel: "rotation.x", frame: 20 },
        measured: 8,
      },
    },
    {
      title: "a body that stands like a picture while the ball at its side rolls on",
      motion: withBall(0),
      right: withBall(4),
      note: {
        node: "fingers_l",
        frames: [24, 44],
        key: { node: "upper_arm_l", channel: "rotation.z", frame: 24 },
        measured: 20,
      },
    },
  ],
  silent: [
    {
      title: "a moving hold, in which the chest alone drifts on",
      motion: posing(0, 2),
      unexcused: posing(0, 0),
    },
    { title: "a stop of four frames", motion: standing(24), unexcused: standing(25) },
    { title: "a freeze by a step key", motion: standing(40, "step"), unexcused: standing(40) },
    {
      title: "poses blocked on step keys",
      motion: () => chainDocument(2, { "joint_1 rotation.z": blocked }, { range: [1, 60] }),
    },
    {
      title: "the start of a shot, where nothing moves yet, and its end, of which frozen-end tells",
      motion: ending(60),
      unexcused: standing(25),
    },
    {
      title: "a figure that never moves",
      motion: () => bipedDocument({ "upper_arm_l rotation.z": smooth([1, 60], [60, 60]) }),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "fingers_end_l",
    frames: [110, 117],
    slip: "a hold of seven frames is put in after the landing: the pose is copied, and nothing drifts on",
    edits: [
      (shot) =>
        shot.curves.flatMap(({ node, channel, frames }) =>
          Array.from(frames)
            .filter((frame) => frame > 110)
            .map((frame) => ({ kind: "move", node, channel, frame, toFrame: frame + 7 })),
        ),
      (shot, before) =>
        shot.curves.flatMap(({ node, channel }) => {
          const key = keyAt(before, node, channel, 110);
          return rekeyed(shot, node, channel, [
            { ...key, interpolation: "linear" },
            { ...key, frame: 117 },
          ]);
        }),
    ],
    replace: ['"range": [1, 136]', '"range": [1, 143]'],
  },
  picture: { draws: "courses", nodes: ["hand_l", "hand_r"], of: "height" },
});
