import { plus } from "../../../base/vector.ts";
import type { CurveDocument } from "../../../document/schema.ts";
import { holdingDocument } from "../../props/shared/held-motions.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  bipedDocument,
  curveThrough,
  everyFrame,
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

/** Frames at which a ball leaves a hand that stands still, and is in it again. */
const [thrown, caught] = [12, 36];

/**
 * A ball that goes up from a hand and comes back into it.
 * @param lift metres over the hand, from the seconds since it left and the seconds of its flight
 */
function tossed(lift: (time: number, whole: number) => number, aside = 0): CurveDocument {
  const whole = (caught - thrown) / 24;
  return holdingDocument({}, [1, 48], {
    node: "ball",
    shapes: [{ kind: "sphere", radius: 0.05 }],
    path: (frame, hand) => {
      const time = Math.min(whole, Math.max(0, (frame - thrown) / 24));
      return plus(hand.at(frame), [aside * time * (whole - time), 0.06 + lift(time, whole), 0]);
    },
  });
}

/** Metres over its start of what falls evenly and is back after so many seconds. */
const falling = (gravity: number) => (time: number, whole: number) => (gravity / 2) * time * (whole - time);

/**
 * A staff with a tip of its own, which makes it a figure: it is lifted off the floor and comes down again within half a second,
 * in the hand of somebody who stands, or by itself.
 */
function staffLifted(heldBy: { node: string; frames: [number, number] }[]): CurveDocument {
  const lift = (frame: number) => {
    const time = Math.min(12, Math.max(0, frame - 12)) / 24;
    return 0.6 * g * time * (0.5 - time) * 0.5;
  };
  const document = bipedDocument(
    { "staff translation.y": everyFrame(1, 48, lift) },
    { range: [1, 48], more: { surfaces: [{ id: "floor", normal: [0, 1, 0], height: 0 }] } },
  );
  return {
    ...document,
    nodes: [
      ...document.nodes,
      { id: "staff", translation: [2, 0, 0] },
      { id: "staff_knob", parent: "staff", translation: [0, 1, 0] },
    ],
    props: [{ node: "staff", mass: 0.4, heldBy }],
  };
}

/** Metres a second cubed: the fall of a second's flight begins at 0.1 times gravity and ends at 1.9 times. */
const bend = -3;
/** What a parabola leaves of it over samples that lie evenly: root mean square of the third orthogonal polynomial. */
const samples = (caught - thrown - 1) ** 2;
const strayOfBend = (-bend / 24 ** 3) * Math.sqrt(((samples - 1) * (samples - 4) * (samples - 9)) / 2800);

const ball = { node: "ball", channel: "translation.y" } as const;

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
    {
      title: "a ball that is tossed up and floats at half of gravity",
      motion: () => tossed(falling(g / 2)),
      right: () => tossed(falling(g)),
      note: { node: "ball", frames: [thrown + 1, caught - 1], key: ball, measured: g / 2 },
    },
    {
      title: "a ball that goes up evenly and drops from its top",
      motion: () =>
        tossed((time, whole) => falling(g)(time, whole) + bend * time * (time - whole / 2) * (time - whole)),
      right: () => tossed(falling(g)),
      note: { node: "ball", frames: [thrown + 1, caught - 1], key: ball, measured: strayOfBend },
    },
    {
      title: "a ball whose course bends in the air",
      motion: () => tossed(falling(g), 2),
      right: () => tossed(falling(g)),
      note: {
        node: "ball",
        frames: [thrown + 1, caught - 1],
        key: { node: "ball", channel: "translation.x" },
        measured: 4,
      },
    },
  ],
  silent: [
    { title: "a ball that falls into the hand that has tossed it", motion: () => tossed(falling(g)) },
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
      title: "a staff with a tip of its own, while a hand holds it",
      motion: () => staffLifted([{ node: "hand_l", frames: [1, 48] }]),
      unexcused: () => staffLifted([]),
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
