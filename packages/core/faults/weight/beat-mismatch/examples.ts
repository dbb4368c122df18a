import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { revalued, valueIn } from "../../shared/examples/keying.ts";
import {
  adrift,
  along,
  birdDocument,
  type DocumentOptions,
  documentOf,
  everyFrame,
  g,
  jumpDocument,
  motionDocument,
  standing,
} from "../../shared/examples/motions.ts";
import { beatMismatch } from "./check.ts";

/** Elevation of wings that beat in eight frames, 30° to each side, between two frames another share of it. */
const beating = (share: number, from: number, to: number) => (frame: number) =>
  30 * (frame >= from && frame <= to ? share : 1) * Math.sin((2 * Math.PI * (frame - 1)) / 8);

interface Hover {
  /** Upward acceleration between the frames of `stretch`, m/s²; the body comes to rest again by its end. */
  readonly climb?: number;
  /** Amplitude of the beat there, as a factor. */
  readonly wider?: number;
  readonly stretch?: readonly [number, number];
}

/** A bird that hovers on the spot with ten beats of eight frames, but for a stretch. */
export function hover(
  { climb = 0, wider = 1, stretch = [33, 49] }: Hover,
  options: DocumentOptions = {},
): CurveDocument {
  const [from, to] = stretch;
  return birdDocument(
    {
      first: 1,
      last: 81,
      body: (frame) => {
        // Up and down again: the speed that it gains in the first half it loses in the second one.
        const half = (to - from) / 2 / 24;
        const t = Math.min(Math.max(0, frame - from) / 24, 2 * half);
        const rise = t <= half ? 0.5 * t * t : half * half - 0.5 * (2 * half - t) ** 2;
        return [0, 2 + climb * rise, 0];
      },
      wings: beating(wider, from, to),
    },
    options,
  );
}

interface Flight {
  /** Height lost over the way, metres per metre, from frame 41 to frame 65. */
  readonly sinks?: number;
  /** Amplitude of the beat there, as a factor. */
  readonly share?: number;
}

/** A bird that flies level at 4 m/s with beats of eight frames; from frame 41 to 65 its beat is another. */
export function flight({ sinks = 0, share = 1 }: Flight): CurveDocument {
  return birdDocument({
    first: 1,
    last: 105,
    body: (frame) => {
      const t = Math.min(Math.max(0, frame - 41), 24) / 24;
      return [0, 2 - sinks * 4 * t, (4 * (frame - 1)) / 24];
    },
    wings: beating(share, 41, 65),
  });
}

/** A bird that hovers and then goes up at an acceleration (m/s²) for two beats, which are so many times as wide. */
const climbing = (lift: number, wider: number) => (): CurveDocument =>
  birdDocument({
    first: 1,
    last: 81,
    body: (frame) => {
      const t = Math.max(0, Math.min(frame - 33, 16)) / 24;
      const after = Math.max(0, frame - 49) / 24;
      return [0, 2 + 0.5 * lift * t * t + lift * (16 / 24) * after, 0];
    },
    wings: beating(wider, 33, 49),
  });

/** A bird that slows down at frame 61 from four metres per second to one, with fewer than four beats after it. */
export function braking(share: number): CurveDocument {
  return birdDocument({
    first: 1,
    last: 89,
    body: (frame) => {
      // Braked over 12 frames: 4 m/s before, 1 m/s after.
      const t = Math.min(Math.max(0, frame - 61), 12) / 24;
      const after = Math.max(0, frame - 73) / 24;
      return [0, 2, (4 * Math.min(frame - 1, 60)) / 24 + 4 * t - 3 * t * t + after];
    },
    wings: beating(share, 68, 89),
  });
}

/** A figure that stands and beats an arm, some of the beats half as wide. */
function beatingOnFeet(): CurveDocument {
  const keys = Array.from({ length: 18 }, (_, i): [number, number] => [
    1 + 4 * i,
    (i > 7 && i < 13 ? 15 : 30) * (-1) ** i,
  ]);
  return motionDocument(
    {
      first: 1,
      last: 69,
      hips: () => [0, 0.93, 0],
      left: () => standing("left"),
      right: () => standing("right"),
    },
    { more: { propulsors: [{ figure: "walker", nodes: ["upper_arm_l"], channel: "rotation.z" }] } },
    { "upper_arm_l rotation.z": keys },
  );
}

const wing = [
  { node: "wing_l", channel: "rotation.z" },
  { node: "wing_r", channel: "rotation.z" },
] as const;

/** A fish on the level, whose tail beats about one of its axes, and at last two fifths as wide. */
const swimming = (axis: "x" | "y") => () =>
  documentOf(
    [
      { id: "body", translation: [0, 2, 0] },
      { id: "head", parent: "body", translation: [0, 0, 0.2] },
      { id: "tail", parent: "body", translation: [0, 0, -0.2] },
      { id: "tail_fin", parent: "tail", translation: [0, 0, -0.2] },
    ],
    {
      ...along("body", 1, 96, (frame) => [0, 2, 0.05 * frame]),
      [`tail rotation.${axis}`]: everyFrame(
        1,
        96,
        (frame) => (frame < 56 ? 25 : 10) * Math.sin((2 * Math.PI * frame) / 8),
      ),
    },
    {
      range: [1, 96],
      more: {
        figures: [
          { id: "fish", stature: 0.6, parts: { root: "body", head: "head", tail: ["tail", "tail_fin"] } },
        ],
        propulsors: [{ figure: "fish", nodes: ["tail"], channel: `rotation.${axis}` as const }],
      },
    },
  );

export const beatMismatchExamples = defineExamples(beatMismatch, {
  faulty: [
    {
      title: "weak beats in level flight that cost neither height nor speed",
      motion: () => flight({ share: 0.5 }),
      right: () => flight({}),
      // Half as wide lifts a quarter. The change lies in the middle of a stroke; the note begins and ends with a stroke
      // that is weak from end to end.
      note: { node: "body", frames: [43, 63], key: wing, measured: 4 },
    },
    {
      title: "a beat that grows while the body hovers on",
      motion: () => hover({ wider: 1.6 }),
      right: () => hover({}),
      note: { node: "body", frames: [35, 47], key: wing, measured: 1.6 ** 2 },
    },
    {
      title: "a body that shoots up on the same beat",
      motion: climbing(10, 1),
      right: climbing(10, Math.sqrt(1 + 10 / g)),
      note: { node: "body", frames: [35, 47], key: wing, measured: 1 + 10 / g },
    },
    {
      title: "weak beats after a braking",
      motion: () => braking(0.5),
      right: () => braking(1),
      // The beat of frames 71 to 79 has the last half metre per second to brake besides.
      note: { node: "body", frames: [67, 87], key: wing, measured: 4 * Math.hypot(1, 0.5 / (g / 3)) },
    },
  ],
  silent: [
    { title: "a steady beat that carries a hover", motion: () => hover({}) },
    { title: "a beat that is a fifth wider", motion: () => hover({ wider: 1.2 }) },
    { title: "a beat that grows with the climb", motion: climbing(7, 1.31) },
    {
      title: "a glide",
      motion: () =>
        birdDocument({
          first: 1,
          last: 80,
          body: (frame) => [0, 2 + 0.01 * frame, 0.15 * frame],
          wings: () => 12,
        }),
    },
    {
      title: "weak beats that the body pays for with height",
      motion: () => flight({ share: 0.5, sinks: 1 / 8 }),
      unexcused: () => flight({ share: 0.5 }),
    },
    {
      title: "legs that carry",
      motion: beatingOnFeet,
      unexcused: () => adrift(beatingOnFeet()),
    },
    {
      title: "fewer than four beats",
      motion: () =>
        birdDocument({
          first: 1,
          last: 80,
          body: (frame) => [0, 2 + 0.001 * frame * frame, 0],
          wings: (frame) => (frame < 20 ? 30 * Math.sin((2 * Math.PI * frame) / 8) : 0),
        }),
    },
    {
      title: "a tail that beats across, and more weakly for a while",
      motion: swimming("y"),
      unexcused: swimming("x"),
    },
    { title: "a body without wings", motion: () => jumpDocument() },
  ],
  provocation: {
    shot: "jetty_0040_v2",
    node: "body",
    frames: [1050, 1061],
    slip: "the braking beats are keyed half as wide, and the heron slows its fall as before",
    edits: [
      (shot) =>
        ["wing_l", "wing_r"].flatMap((wing) => {
          const spread = valueIn(shot, wing, "rotation.z", 1048);
          return revalued(shot, wing, "rotation.z", 1048, 1064, (value) => spread + 0.45 * (value - spread));
        }),
    ],
  },
  picture: { draws: "courses", nodes: ["wing_tip_l", "body"], of: "height", frames: [31, 79] },
});
