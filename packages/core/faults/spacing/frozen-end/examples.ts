import { defineExamples } from "../../shared/examples/example.ts";
import { keyAt, rekeyed } from "../../shared/examples/keying.ts";
import { bipedDocument, chainDocument, type Keyed } from "../../shared/examples/motions.ts";
import { frozenEnd } from "./check.ts";

type Pose = [frame: number, value: number];
const smooth = (...keys: Pose[]): Keyed => ({ interpolation: "smooth", keys });
/** An arm that is lifted until frame 36 and drifts on, by so many degrees a frame, to the end of the shot. */
const ending =
  (last: number, drift = 0) =>
  () =>
    bipedDocument(
      { "upper_arm_l rotation.z": smooth([1, 0], [20, 0], [36, 60], [60, 60 + drift * 24]) },
      { range: [1, last] },
    );
/** A tail of two links, lifted until frame 20, that drifts on to frame 44. */
const tail = (drift: number, interpolation: "linear" | "step" = "linear") => {
  const keys: Keyed = [
    [1, 0, { interpolation }],
    [20, 60],
    [44, 60 + drift],
  ];
  return () => chainDocument(2, { "joint_1 rotation.z": keys });
};

export const frozenEndExamples = defineExamples(frozenEnd, {
  faulty: [
    {
      title: "a shot that ends in twelve frames in which nothing moves",
      motion: ending(48),
      right: ending(48, 1),
      note: {
        node: "fingers_l",
        frames: [36, 48],
        key: { node: "upper_arm_l", channel: "rotation.z", frame: 36 },
        measured: 12,
      },
    },
    {
      title: "a tail that is lifted and stands for a second, to the cut",
      motion: tail(0),
      right: tail(6),
      note: {
        node: "tip",
        frames: [20, 44],
        key: { node: "joint_1", channel: "rotation.z", frame: 20 },
        measured: 24,
      },
    },
  ],
  silent: [
    {
      title: "an end five frames after the last move",
      motion: ending(41),
      unexcused: ending(42),
    },
    { title: "an end that step keys hold", motion: tail(0, "step"), unexcused: tail(0) },
    {
      title: "a shot that ends in a moving hold",
      motion: ending(60, 2),
      unexcused: ending(60),
    },
    {
      title: "a figure that never moves",
      motion: () => bipedDocument({ "upper_arm_l rotation.z": smooth([1, 60], [60, 60]) }),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "fingers_end_l",
    frames: [110, 136],
    slip: "the last pose is copied to the end of the shot, and nothing drifts on",
    edits: [
      (shot, before) =>
        shot.curves.flatMap(({ node, channel }) => {
          const key = keyAt(before, node, channel, 124);
          return rekeyed(shot, node, channel, [
            { ...key, interpolation: "linear" },
            ...[126, 128, 130, 132, 134, 136].map((frame) => ({ ...key, frame })),
          ]);
        }),
    ],
  },
  picture: { draws: "courses", nodes: ["hand_l", "hand_r"], of: "height" },
});
