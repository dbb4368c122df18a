import { inRadians } from "../../../base/constants.ts";
import type { NodeSpec } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { rekeyed } from "../../shared/examples/keying.ts";
import { chainNodes, documentOf, everyFrame, type Keyed } from "../../shared/examples/motions.ts";
import { gimbalLock } from "./check.ts";

/** A joint whose axes turn steadily over 23 frames: by so many degrees, or from one angle to another. */
const joint =
  (
    turns: Readonly<Partial<Record<"x" | "y" | "z", number | readonly [from: number, to: number]>>>,
    rotationOrder: NodeSpec["rotationOrder"] = "xyz",
  ) =>
  () =>
    documentOf(
      chainNodes(1).map((node) => (node.id === "joint_1" ? { ...node, rotationOrder } : node)),
      Object.fromEntries(
        Object.entries(turns).map(([axis, turn]) => {
          const [from, to] = typeof turn === "number" ? [0, turn] : turn;
          const keys: Keyed = [
            [1, from],
            [12, from + (11 / 23) * (to - from)],
            [24, to],
          ];
          return [`joint_1 rotation.${axis}`, keys];
        }),
      ),
    );

/**
 * How far two outer axes turn for each turn of the joint, where they turn alike and against each other: they stand at
 * an angle of as much as the middle axis is off lock, and a rhombus of two turns has twice the sine of half of it for
 * its short diagonal.
 */
const detour = (offLock: number) => 1 / Math.sin(inRadians(offLock / 2));

const outerKeys = (outer: "x" | "y", inner: "z", frame = 1) =>
  [outer, inner].map((axis) => ({ node: "joint_1", channel: `rotation.${axis}` as const, frame }));

/** A joint 35° from lock whose outer axes turn alike, and meanwhile swing against each other and back. */
const swinging = (swing: number) => () => {
  const outer = (by: number): Keyed => [
    [1, 0],
    [9, 4],
    [12, 5.5 + by],
    [15, 7],
    [24, 11.5],
  ];
  return documentOf(chainNodes(1), {
    "joint_1 rotation.x": outer(swing),
    "joint_1 rotation.y": [
      [1, 55],
      [24, 55],
    ],
    "joint_1 rotation.z": outer(-swing),
  });
};

/** A joint 10° from lock whose outer axes swing as far as 115°, each frame keyed. */
const keyedOnFrames = () =>
  documentOf(chainNodes(1), {
    "joint_1 rotation.x": everyFrame(1, 24, (frame) => 5 * (frame - 1)),
    "joint_1 rotation.y": everyFrame(1, 24, () => 80),
    "joint_1 rotation.z": everyFrame(1, 24, (frame) => -5 * (frame - 1)),
  });

export const gimbalLockExamples = defineExamples(gimbalLock, {
  faulty: [
    {
      title: "a joint 2° from lock, whose outer axes cancel each other",
      motion: joint({ x: [-155, -40], y: [88, 88], z: [-40, -155] }),
      right: joint({ x: [-155, -155], y: [88, 84], z: [-40, -40] }),
      note: { node: "joint_1", frames: [1, 24], key: outerKeys("x", "z"), measured: detour(2) },
    },
    {
      title: "a joint 10° from lock",
      motion: joint({ x: 115, y: [80, 80], z: -115 }),
      right: joint({ x: 10, y: [80, 70], z: -10 }),
      note: { node: "joint_1", frames: [1, 24], key: outerKeys("x", "z"), measured: detour(10) },
    },
    {
      title: "a joint with an order of its own, whose middle axis is another",
      motion: joint({ x: [89, 89], y: 138, z: 138 }, "yxz"),
      right: joint({ x: [89, 87], y: 0, z: 0 }, "yxz"),
      note: { node: "joint_1", frames: [1, 24], key: outerKeys("y", "z"), measured: detour(1) },
    },
    {
      title: "a joint 35° from lock that is led off its course and back by one key",
      motion: swinging(45),
      right: swinging(0),
      // Both outer axes turn by 2° besides, which the joint does about a line between them.
      note: {
        node: "joint_1",
        frames: [9, 15],
        key: outerKeys("x", "z", 12),
        measured: detour(35),
      },
    },
  ],
  silent: [
    {
      title: "a joint 35° from lock that turns as far as its axes, with a little swing",
      motion: swinging(4),
    },
    {
      title: "a joint away from lock",
      motion: joint({ x: 115, y: [45, 45], z: -115 }),
      unexcused: joint({ x: 115, y: [80, 80], z: -115 }),
    },
    { title: "a joint near lock that really turns", motion: joint({ x: 115, y: [88, 88], z: 115 }) },
    {
      title: "a joint near lock that does not swing",
      motion: joint({ x: [5, 5], y: [88, 88], z: [-5, -5] }),
    },
    {
      title: "a joint 10° from lock with keys on every frame: no picture lies between two of them",
      motion: keyedOnFrames,
      unexcused: joint({ x: 115, y: [80, 80], z: -115 }),
    },
    {
      title: "quaternion keys",
      motion: () =>
        documentOf(chainNodes(1), {
          "joint_1 rotation": Array.from({ length: 24 }, (_, i) => {
            const half = inRadians(86 + i / 6) / 2;
            return [1 + i, [0, Math.sin(half), 0, Math.cos(half)]];
          }),
        }),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hand_r",
    frames: [117, 136],
    slip: "the right palm is turned up by the middle axis of the wrist's order, and then keyed with the other two",
    edits: [
      (shot) => [
        ...rekeyed(shot, "hand_r", "rotation.z", [
          { frame: 109, value: 3 },
          { frame: 118, value: 86 },
          { frame: 136, value: 87 },
        ]),
        ...rekeyed(shot, "hand_r", "rotation.x", [
          { frame: 109, value: -7 },
          { frame: 117, value: -7 },
          { frame: 130, value: 50 },
          { frame: 136, value: 50 },
        ]),
        ...rekeyed(shot, "hand_r", "rotation.y", [
          { frame: 109, value: 0 },
          { frame: 117, value: 0 },
          { frame: 130, value: 52 },
          { frame: 136, value: 52 },
        ]),
      ],
    ],
  },
  picture: { draws: "curve", node: "joint_1", channel: "rotation.x", also: ["rotation.z", "turn"] },
});
