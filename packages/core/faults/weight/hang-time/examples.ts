import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  curveThrough,
  g,
  type JumpOptions,
  jump,
  jumpDocument,
  motionDocument,
  standing,
} from "../../shared/examples/motions.ts";
import { hangTime } from "./check.ts";

/** A jump forward whose way is keyed at take-off, in the middle of the flight, and at the landing. */
const course = (middle: number) => (): CurveDocument =>
  jumpDocument(
    { forward: 1 },
    {
      "hips translation.z": [
        [25, 0],
        [31, middle],
        [37, 1],
      ],
    },
  );

/** Someone whose hips sink and rise while both feet keep still. */
const crouch = (): CurveDocument => {
  const { at } = curveThrough([
    [1, 0.93],
    [24, 0.7],
    [48, 0.93],
  ]);
  return motionDocument({
    first: 1,
    last: 48,
    hips: (frame) => [0, at(frame), 0],
    left: () => standing("left"),
    right: () => standing("right"),
  });
};

const seated = (): CurveDocument =>
  motionDocument({
    first: 1,
    last: 48,
    hips: (frame) => [0, 1.2 + 0.02 * Math.sin(frame / 5), 0],
    left: () => ({ at: [0.1, 0.6, 0.3] }),
    right: () => ({ at: [-0.1, 0.6, 0.3] }),
  });

/** A jump at half of gravity of a creature whose hands stand as low as its feet: nothing tells how large it is. */
function ofUnknownSize(): CurveDocument {
  const document = jumpDocument({ gravity: g / 2, height: 0.93, declaresUnit: false });
  return {
    ...document,
    nodes: document.nodes.map((node) =>
      /^(forearm|hand)_/.test(node.id) ? { ...node, translation: [0, -0.6, 0] } : node,
    ),
    figures: document.figures?.map(({ stature: _, ...figure }) => figure),
  };
}

/** A jump of which every sixth frame is a pose that step keys hold. */
function posed(options: JumpOptions): CurveDocument {
  const document = jumpDocument(options);
  const curves = document.curves.map((curve) => ({
    ...curve,
    interpolation: "step" as const,
    keys: curve.keys.filter(([frame]) => frame % 6 === 1),
  }));
  return { ...document, curves };
}

const hips = { node: "hips", channel: "translation.y" } as const;
const { takeOff, landing } = jump();

export const hangTimeExamples = defineExamples(hangTime, {
  faulty: [
    {
      title: "a jump that floats at half of gravity",
      motion: () => jumpDocument({ gravity: g / 2, forward: 1 }),
      right: () => jumpDocument({ forward: 1 }),
      note: { node: "hips", frames: [takeOff + 1, landing - 1], key: hips, measured: g / 2 },
    },
    {
      title: "a jump that drops twice as fast as gravity pulls",
      motion: () => jumpDocument({ gravity: 2 * g }),
      right: () => jumpDocument(),
      note: { node: "hips", frames: [takeOff + 1, landing - 1], key: hips, measured: 2 * g },
    },
    {
      title: "a jump that changes its course in the air",
      motion: course(0.25),
      right: course(0.5),
      note: {
        node: "hips",
        frames: [takeOff + 1, landing - 1],
        key: { node: "hips", channel: "translation.z", frame: 31 },
        // The parabola nearest to a bend of 1/12 m a frame, over the eleven frames in the air.
        measured: 2 * (1650 / 9438) * (0.5 / 12) * 24 ** 2,
      },
    },
  ],
  silent: [
    { title: "a jump under gravity", motion: () => jumpDocument() },
    { title: "a high jump forward", motion: () => jumpDocument({ air: 18, forward: 1.5 }) },
    { title: "a figure that stands", motion: crouch },
    { title: "a figure that sits without feet on the ground", motion: seated },
    {
      title: "a figure with propulsors",
      motion: () =>
        jumpDocument({
          gravity: g / 2,
          more: { propulsors: [{ figure: "walker", nodes: ["upper_arm_l"], channel: "rotation.z" }] },
        }),
      unexcused: () => jumpDocument({ gravity: g / 2 }),
    },
    {
      title: "a fall of a figure whose size nobody knows",
      motion: ofUnknownSize,
      unexcused: () => ({ ...ofUnknownSize(), space: { metresPerUnit: 1 } }),
    },
    {
      title: "a flight that step keys show in single poses",
      motion: () => posed({ gravity: g / 2 }),
      unexcused: () => jumpDocument({ gravity: g / 2 }),
    },
    {
      title: "a hop whose hang would change by less than a frame",
      motion: () => jumpDocument({ air: 5, gravity: g / 1.4 }),
      unexcused: () => jumpDocument({ air: 12, gravity: g / 1.4 }),
    },
  ],
  provocation: {
    shot: "quay_0070_v1",
    node: "hips",
    frames: [77, 95],
    slip: "in the first version the jump hangs for six frames too many",
  },
  picture: { draws: "path", node: "hips", seen: "side", frames: [19, 43] },
});
