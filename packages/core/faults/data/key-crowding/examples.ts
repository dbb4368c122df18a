import { defineExamples } from "../../shared/examples/example.ts";
import { keyAt, rekeyed } from "../../shared/examples/keying.ts";
import { bipedDocument, type Keyed, pointDocument } from "../../shared/examples/motions.ts";
import { keyCrowding } from "./check.ts";

const point = (keyed: Keyed) => () => pointDocument({ "translation.x": keyed }, { range: [1, 40] });
/** Keys far apart from each other, and one more. */
const withKey = (...more: [number, number][]) => {
  const keys: [number, number][] = [[1, 0], [12, 0.2], ...more, [24, 0.4], [32, 0.5], [40, 0.6]];
  return point({ interpolation: "smooth", keys: keys.sort(([a], [b]) => a - b) });
};

const followed = (interpolation: "step" | "linear") =>
  point({
    interpolation: "linear",
    keys: [
      [1, 0],
      [12, 1, { interpolation }],
      [12.5, 2],
      [24, 2.5],
      [32, 2.8],
      [40, 3],
    ],
  });

/** A pose of the head in two curves, and the same pose once more right behind it. */
const pose = (again: number | null) => () => {
  const keys = (value: number): Keyed => [
    [1, 0],
    [12, value],
    ...(again === null ? [] : ([[again, value * 1.1]] as [number, number][])),
    [24, value / 2],
    [32, value / 3],
    [40, 0],
  ];
  return bipedDocument({ "neck rotation.x": keys(8), "neck rotation.y": keys(25) });
};

export const keyCrowdingExamples = defineExamples(keyCrowding, {
  faulty: [
    {
      title: "a second key half a frame behind one",
      motion: withKey([12.5, 0.3]),
      right: withKey(),
      note: {
        node: "point",
        frames: [12, 13],
        key: { node: "point", channel: "translation.x", frame: 12.5 },
        measured: 0.5,
      },
    },
    {
      title: "a second key a third of a frame before one",
      motion: withKey([11.7, 0.26]),
      right: withKey(),
      note: {
        node: "point",
        frames: [12, 12],
        // The slip is the earlier one, which stands on no frame.
        key: [11.7, 12].map((frame) => ({ node: "point", channel: "translation.x" as const, frame })),
        measured: 0.3,
      },
    },
    {
      title: "a pose that is keyed twice within a frame in both of its curves, told once",
      motion: pose(12.4),
      right: pose(null),
      note: {
        node: "neck",
        frames: [12, 12],
        key: { node: "neck", channel: "rotation.x", frame: 12.4 },
        measured: 0.4,
      },
    },
  ],
  silent: [
    { title: "keys a frame apart", motion: withKey([13, 0.22]) },
    {
      title: "a step key that is followed at once by its new value",
      motion: followed("step"),
      unexcused: followed("linear"),
    },
    {
      title: "a curve that was sampled at a higher rate throughout",
      motion: point(Array.from({ length: 80 }, (_, i): [number, number] => [1 + i * 0.49, i])),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "head",
    frames: [122, 122],
    slip: "a second key of the head is set a third of a frame behind the one at frame 122",
    edits: [
      (shot) =>
        rekeyed(shot, "head", "rotation.y", [
          keyAt(shot, "head", "rotation.y", 122),
          { frame: 122.3, value: 7.4, slope: 0.5 },
        ]),
    ],
  },
  picture: { draws: "curve", node: "point", channel: "translation.x", frames: [8, 16] },
});
