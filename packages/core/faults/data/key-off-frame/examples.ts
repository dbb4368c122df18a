import { defineExamples } from "../../shared/examples/example.ts";
import { bipedDocument, type Keyed, pointDocument } from "../../shared/examples/motions.ts";
import { keyOffFrame } from "./check.ts";

const point = (keys: [number, number][]) => () =>
  pointDocument({ "translation.x": { interpolation: "smooth", keys } }, { range: [1, 40] });
/** Keys on whole frames but for one. */
const withKeyAt = (frame: number): [number, number][] => [
  [1, 0],
  [8, 0.3],
  [frame, 0.7],
  [16, 0.8],
  [40, 1],
];
const withKeysAt = (one: number, other: number): [number, number][] => [
  [1, 0],
  [8, 1],
  [one, 2],
  [20, 3],
  [28, 4],
  [other, 5],
  [36, 5.5],
  [38, 5.8],
  [40, 6],
];
const head = (frame: number) => () => {
  const keys: Keyed = [
    [1, 0],
    [10, 5],
    [frame, 25],
    [30, 20],
    [40, 0],
  ];
  return bipedDocument({ "neck rotation.y": keys });
};

/** A pose of the head in three curves. */
const pose = (frame: number) => () => {
  const keys = (value: number): Keyed => [
    [1, 0],
    [10, value / 2],
    [frame, value],
    [30, value],
    [40, 0],
  ];
  return bipedDocument({
    "neck rotation.x": keys(8),
    "neck rotation.y": keys(25),
    "neck rotation.z": keys(-5),
  });
};

export const keyOffFrameExamples = defineExamples(keyOffFrame, {
  faulty: [
    {
      title: "a key that stands 0.4 frames behind one",
      motion: point(withKeyAt(12.4)),
      right: point(withKeyAt(12)),
      note: {
        node: "point",
        frames: [12, 12],
        key: { node: "point", channel: "translation.x", frame: 12.4 },
        measured: 0.4,
      },
    },
    {
      title: "two keys of a curve, told once",
      motion: point(withKeysAt(12.4, 33.5)),
      right: point(withKeysAt(12, 33)),
      note: {
        node: "point",
        frames: [12, 34],
        key: { node: "point", channel: "translation.x", frame: 12.4 },
        measured: 0.5,
      },
    },
    {
      title: "a turn of the neck, keyed a quarter of a frame early",
      motion: head(19.75),
      right: head(20),
      note: {
        node: "neck",
        frames: [20, 20],
        key: { node: "neck", channel: "rotation.y", frame: 19.75 },
        measured: 0.25,
      },
    },
    {
      title: "a pose that stands off its frame in all three curves, told once",
      motion: pose(20.3),
      right: pose(20),
      note: {
        node: "neck",
        frames: [20, 20],
        key: { node: "neck", channel: "rotation.x", frame: 20.3 },
        measured: 0.3,
      },
    },
  ],
  silent: [
    { title: "keys on whole frames", motion: point(withKeyAt(12)) },
    { title: "what rounding leaves of a frame", motion: point(withKeyAt(12.001)) },
    {
      title: "a document that was sampled at another rate",
      motion: point(Array.from({ length: 50 }, (_, i) => [1 + i * 0.8, i / 10])),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "head",
    frames: [122, 122],
    slip: "a key of the head slips to frame 122.4 as the timing is stretched",
    edits: [() => [{ kind: "move", node: "head", channel: "rotation.y", frame: 122, toFrame: 122.4 }]],
  },
  picture: { draws: "curve", node: "point", channel: "translation.x", frames: [8, 16] },
});
