import type { CurveDocument, NodeSpec } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame, valueIn } from "../../shared/examples/keying.ts";
import {
  along,
  birdDocument,
  type Curves,
  documentOf,
  everyFrame,
  jumpDocument,
  type Vector,
} from "../../shared/examples/motions.ts";
import { outOfStep } from "./check.ts";

/** A flight on the level at beats of 12 frames; the left wing may come so many frames later, and the body may roll. */
const flight =
  (late: number, roll = 0) =>
  (): CurveDocument => {
    const beat = (frame: number) => 35 * Math.sin((2 * Math.PI * frame) / 12);
    return birdDocument(
      { first: 1, last: 72, body: (frame) => [0, 2, 0.1 * frame], wings: beat },
      {},
      {
        "wing_l rotation.z": everyFrame(1, 72, (frame) => beat(frame - late)),
        ...(roll === 0 ? {} : { "body rotation.z": everyFrame(1, 72, (frame) => roll * frame) }),
      },
    );
  };

const legs = ["hind_l", "fore_l", "hind_r", "fore_r"] as const;
type Leg = (typeof legs)[number];
const hip: Readonly<Record<Leg, Vector>> = {
  hind_l: [0.1, -0.1, 0],
  fore_l: [0.1, -0.1, 0.7],
  hind_r: [-0.1, -0.1, 0],
  fore_r: [-0.1, -0.1, 0.7],
};

/** A plain beast, 0.7 m high at the hips, that goes on four feet. */
const beast: readonly NodeSpec[] = [
  { id: "rump", translation: [0, 0.7, 0] },
  { id: "withers", parent: "rump", translation: [0, 0, 0.7] },
  { id: "skull", parent: "withers", translation: [0, 0.25, 0.25] },
  ...legs.flatMap((leg): NodeSpec[] => [
    { id: `top_${leg}`, parent: "rump", translation: [...hip[leg]] },
    { id: `foot_${leg}`, parent: `top_${leg}`, translation: [0, -0.6, 0] },
  ]),
];

/** Frames and metres of a stride. */
const stride = { frames: 16, length: 0.9 };

interface Going {
  /** When in the stride each leg lands, 0 to 1. */
  readonly phases: Readonly<Record<Leg, number>>;
  /** Frames by which the left forefoot comes late. */
  readonly late?: number;
  /** The one stride in which it does; all of them if left out. */
  readonly once?: number;
  /** A stride in which the left forefoot is not set down. */
  readonly without?: number;
  readonly duty?: number;
}

const trot = { hind_l: 0, fore_r: 0, hind_r: 0.5, fore_l: 0.5 };
const walk = { hind_l: 0, fore_l: 0.25, hind_r: 0.5, fore_r: 0.75 };
const canter = { hind_r: 0, hind_l: 0.25, fore_r: 0.27, fore_l: 0.5 };

/** The beast as it goes for six strides: feet stand where they are set down, and swing from there to their next place. */
const going =
  ({ phases, late = 0, once, without, duty = 0.5 }: Going) =>
  (): CurveDocument => {
    const last = 1 + 6 * stride.frames;
    const body = (frame: number) => (stride.length * (frame - 1)) / stride.frames;
    const smooth = (t: number) => t * t * (3 - 2 * t);
    /** Where a foot is from its hip: on its way, and over the ground. */
    const foot = (leg: Leg, frame: number): readonly [ahead: number, up: number] => {
      const isOdd = (k: number) => leg === "fore_l" && (once === undefined || k === once);
      const plants = [-2, -1, 0, 1, 2, 3, 4, 5, 6, 7]
        .filter((k) => leg !== "fore_l" || k !== without)
        .map((k) => {
          const lands = 1 + stride.frames * (k + phases[leg]) + (isOdd(k) ? late : 0);
          const lifts = lands + duty * stride.frames;
          return { lands, lifts, at: body((lands + lifts) / 2) };
        });
      const next = plants.findIndex(({ lifts }) => lifts > frame);
      const [from, to] = [plants[next - 1], plants[next]];
      if (frame >= to.lands) return [to.at - body(frame), 0];
      const t = (frame - from.lifts) / (to.lands - from.lifts);
      return [from.at + (to.at - from.at) * smooth(t) - body(frame), 0.1 * Math.sin(Math.PI * t)];
    };
    return documentOf(
      beast,
      {
        ...along("rump", 1, last, (frame) => [0, 0.7, body(frame)]),
        ...Object.assign(
          {},
          ...legs.map((leg) => ({
            [`foot_${leg} translation.y`]: everyFrame(1, last, (frame) => foot(leg, frame)[1] - 0.6),
            [`foot_${leg} translation.z`]: everyFrame(1, last, (frame) => foot(leg, frame)[0]),
          })),
        ),
      } satisfies Curves,
      { range: [1, last] },
    );
  };

/** Why no step is moved. */
const stands =
  "a stance that comes sooner takes the place of a swing: where the foot is set down then is for whoever keys it";

export const outOfStepExamples = defineExamples(outOfStep, {
  faulty: [
    {
      title: "a left wing that beats two frames behind the right one",
      motion: flight(2),
      right: flight(0),
      note: {
        node: "wing_l",
        frames: [1, 69],
        key: { node: "wing_l", channel: "rotation.z" },
        measured: 2 / 12,
      },
    },
    {
      title: "a trot in which the left forefoot lands three frames late",
      motion: going({ phases: trot, late: 3 }),
      right: going({ phases: trot }),
      note: {
        node: "top_fore_l",
        frames: [11, 81],
        key: { node: "foot_fore_l", channel: "translation.z" },
        measured: 3 / 16,
      },
      unfixed: stands,
    },
    {
      title: "a walk in which the left forefoot lands three frames late once",
      motion: going({ phases: walk, late: 3, once: 3 }),
      right: going({ phases: walk }),
      note: {
        node: "top_fore_l",
        frames: [44, 61],
        key: { node: "foot_fore_l", channel: "translation.z" },
        // Its swing takes longer, and is farthest ahead of the body half a frame sooner before it lands.
        measured: 2.56 / 16,
      },
      unfixed: stands,
    },
    {
      title: "a trot in which the left forefoot misses a step",
      motion: going({ phases: trot, without: 2 }),
      right: going({ phases: trot }),
      note: {
        node: "top_fore_l",
        frames: [32, 65],
        key: { node: "foot_fore_l", channel: "translation.z" },
        measured: 1,
      },
      unfixed: "where the step that is missing goes is for whoever keys it",
    },
  ],
  silent: [
    { title: "wings that beat together", motion: flight(0) },
    { title: "a wing that is half a frame behind", motion: flight(0.5) },
    {
      title: "a bird that rolls, with one wing before the other",
      motion: flight(2, 2),
      unexcused: flight(2),
    },
    { title: "a trot", motion: going({ phases: trot }) },
    { title: "a walk", motion: going({ phases: walk, duty: 0.6 }) },
    { title: "a pace", motion: going({ phases: { ...walk, fore_l: 0, fore_r: 0.5 } }) },
    { title: "a canter", motion: going({ phases: canter, duty: 0.4 }) },
    { title: "a bound", motion: going({ phases: { hind_l: 0, hind_r: 0.02, fore_l: 0.5, fore_r: 0.5 } }) },
    { title: "a forefoot that lands one frame late", motion: going({ phases: trot, late: 1 }) },
    { title: "a body on two legs", motion: () => jumpDocument() },
  ],
  provocation: {
    shot: "jetty_0040_v2",
    node: "wing_l",
    frames: [1001, 1010],
    slip: "the keys of the left wing were pasted two frames late, and it beats behind the right one",
    edits: (["wing_l", "wing_mid_l", "wing_tip_l"] as const).map(
      (wing) => (shot) =>
        (["rotation.x", "rotation.y", "rotation.z"] as const).flatMap((channel) =>
          shot.curves.some((curve) => curve.node === wing && curve.channel === channel)
            ? onEveryFrame(shot, wing, channel, 1003, 1032, (_, frame) =>
                valueIn(shot, wing, channel, frame - 2),
              )
            : [],
        ),
    ),
  },
  picture: { draws: "courses", nodes: ["wing_tip_l", "wing_tip_r"], of: "height", frames: [13, 49] },
});
