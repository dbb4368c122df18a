import { inRadians } from "../../../base/constants.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  bipedDocument,
  chainDocument,
  type DocumentOptions,
  type Keyed,
  pointDocument,
} from "../../shared/examples/motions.ts";
import { overshoot } from "./check.ts";

/** A move, a hold from frame 9 to frame 24, and a move back; in the hold both handles rise by `lean`. */
const hold = (lean: number) => () =>
  pointDocument({
    "translation.y": {
      interpolation: "bezier",
      keys: [
        [1, 0, { out: [3, 0] }],
        [9, 0.2, { in: [-3, 0], out: [5, lean] }],
        [24, 0.2, { in: [-5, lean], out: [3, 0] }],
        [32, 0.05, { in: [-3, 0] }],
      ],
    },
  });
/** A move over a metre, whose last handle points past the pose by `lean`. */
const settle =
  (lean: number, options: DocumentOptions = {}) =>
  () =>
    pointDocument(
      {
        "translation.x": {
          interpolation: "bezier",
          keys: [
            [1, 0, { out: [4, 0] }],
            [13, 1, { in: [-4, lean] }],
          ],
        },
      },
      options,
    );
const arm = (lean: number) => () =>
  bipedDocument({
    "upper_arm_l rotation.z": {
      interpolation: "bezier",
      keys: [
        [1, -60, { out: [8, lean] }],
        [25, -60, { in: [-8, lean] }],
      ],
    },
  });
/** A body whose root sways aside over both feet between two equal keys: by 3/4 of so many metres. */
const swaying = (lean: number) => () =>
  bipedDocument({
    "hips translation.x": {
      interpolation: "bezier",
      keys: [
        [1, 0, { out: [8, lean] }],
        [25, 0, { in: [-8, lean] }],
      ],
    },
  });
const sloping = (slope: number) => () =>
  pointDocument({
    "translation.y": {
      interpolation: "cubic",
      keys: [
        [1, 0, { out: slope }],
        [25, 0, { in: -slope }],
      ],
    },
  });
const poses = (interpolation: "linear" | "smooth" | "step") => () =>
  pointDocument({
    "translation.y": {
      interpolation,
      keys: [
        [1, 0],
        [9, 1],
        [17, 1],
        [25, 0],
      ],
    } as Keyed,
  });
/** Up and down along one parabola of half a metre, whose keys beside its top are `half` frames from it. */
const throughTurn =
  (half: number, slopes: { into?: number } = {}) =>
  () => {
    const slope = (away: number) => away / 144;
    const value = 0.5 * (1 - (half / 12) ** 2);
    return pointDocument({
      "translation.y": {
        interpolation: "cubic",
        keys: [
          [1, 0, { out: slope(12) }],
          [13 - half, value, { in: slopes.into ?? slope(half), out: slope(half) }],
          [13 + half, value, { in: slope(-half), out: slope(-half) }],
          [25, 0, { in: slope(-12) }],
        ],
      },
    });
  };
/** A cubic curve whose slopes point past its keys at two frames that are equal. */
const brief = (frames: readonly [number, number]) => () =>
  pointDocument({
    "translation.y": {
      interpolation: "cubic",
      keys: [
        [1, 0, { out: 0 }],
        [frames[0], 0.2, { in: 0, out: 0.1 }],
        [frames[1], 0.2, { in: -0.1, out: 0 }],
        [25, 0, { in: 0 }],
      ],
    },
  });
/** Both keys of a stretch: each has a handle that is too long. */
const both = (
  node: string,
  channel: "translation.x" | "translation.y" | "rotation.z",
  frames: readonly [number, number],
) => frames.map((frame) => ({ node, channel, frame }));

/** Two joints at one place, of which the upper one is past its keys by 3/4 of 8°, and what the lower one does about it. */
const takenBack = (lean: number) => () => {
  const breathing = (by: number): Keyed => ({
    interpolation: "bezier",
    keys: [
      [1, 10, { out: [8, by] }],
      [25, 10, { in: [-8, by] }],
    ],
  });
  return chainDocument(1, { "mount rotation.z": breathing(8), "joint_1 rotation.z": breathing(lean) });
};

export const overshootExamples = defineExamples(overshoot, {
  faulty: [
    {
      title: "a hold that breathes",
      motion: hold(0.08),
      right: hold(0),
      // A cubic from 0 to 0 whose handles both rise by h reaches 3/4 of h, half way (Bernstein form).
      note: {
        node: "point",
        frames: [16, 16],
        key: both("point", "translation.y", [9, 24]),
        measured: 0.06,
      },
    },
    {
      title: "a move that runs far past its pose",
      motion: settle(0.9),
      right: settle(0),
      // 3·1.9·t²·(1 − t) + t³ is largest at t = 11.4 / 14.1: 1.242. The slip is the last key's handle.
      note: {
        node: "point",
        frames: [11, 11],
        key: [1, 13].map((frame) => ({ node: "point", channel: "translation.x" as const, frame })),
        measured: 0.242,
      },
    },
    {
      title: "an arm's hold, told by how far the fingers drift",
      motion: arm(8),
      right: arm(0),
      // 3/4 of 8°, over upper arm, forearm and hand.
      note: {
        node: "upper_arm_l",
        frames: [13, 13],
        key: both("upper_arm_l", "rotation.z", [1, 25]),
        measured: inRadians(6) * (0.28 + 0.25 + 0.09),
      },
    },
    {
      title: "a body that sways over its feet by less than a centimetre: they are planted",
      motion: swaying(0.01),
      right: swaying(0),
      note: {
        node: "hips",
        frames: [13, 13],
        key: both("hips", "translation.x", [1, 25]),
        measured: 0.0075,
      },
    },
    {
      title: "a hold of a cubic curve with slopes",
      motion: sloping(0.02),
      right: sloping(0),
      // Hermite slopes ± m over a span s meet at m·s / 4, half way.
      note: {
        node: "point",
        frames: [13, 13],
        key: both("point", "translation.y", [1, 25]),
        measured: (0.02 * 24) / 4,
      },
    },
    {
      title: "a pose of twelve frames that its handles run through",
      motion: throughTurn(6),
      right: () =>
        pointDocument({
          "translation.y": {
            interpolation: "cubic",
            keys: [
              [1, 0, { out: 0 }],
              [7, 0.375, { in: 0, out: 0 }],
              [19, 0.375, { in: 0, out: 0 }],
              [25, 0, { in: 0 }],
            ],
          },
        }),
      // A parabola of half a metre, of which three quarters are keyed.
      note: {
        node: "point",
        frames: [13, 13],
        key: both("point", "translation.y", [7, 19]),
        measured: 0.125,
      },
    },
  ],
  silent: [
    {
      title: "a turn that its keys ask for: both are passed on the way up and down",
      motion: throughTurn(2),
      unexcused: throughTurn(2, { into: 0 }),
    },
    {
      title: "a joint that turns back what the one above it turns: the end of both stays where it is",
      motion: takenBack(-8),
      unexcused: takenBack(0),
    },
    {
      title: "an arm that hangs and drifts by 8 mm at its fingers: so far goes a breath",
      motion: arm(1),
      unexcused: arm(8),
    },
    { title: "level handles", motion: hold(0) },
    { title: "linear segments", motion: poses("linear") },
    { title: "smooth segments", motion: poses("smooth") },
    { title: "step segments", motion: poses("step") },
    { title: "a small settle past a pose", motion: settle(0.1), unexcused: settle(0.9) },
    {
      title: "a turn between two neighbouring frames, which no picture shows",
      motion: brief([12, 13]),
      unexcused: brief([12, 14]),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "upper_arm_r",
    frames: [127, 127],
    slip: "the right arm's last two keys have handles that are too long and point past them",
    edits: [
      () => {
        const key = { kind: "set", node: "upper_arm_r", channel: "rotation.z" } as const;
        return [
          { ...key, frame: 123, value: -67, handles: { out: [5, -8] } },
          { ...key, frame: 130, value: -70, handles: { in: [-5, -8] } },
        ];
      },
    ],
  },
  picture: { draws: "curve", node: "point", channel: "translation.y" },
});
