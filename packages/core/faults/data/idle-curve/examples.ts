import { defineExamples } from "../../shared/examples/example.ts";
import { documentOf, everyFrame, type Keyed, pointDocument } from "../../shared/examples/motions.ts";
import { idleCurve } from "./check.ts";

const point = (keyed: Keyed) => () => pointDocument({ "translation.x": keyed }, { range: [1, 24] });
const held = (count: number): Keyed => Array.from({ length: count }, (_, i) => [1 + 4 * i, 0.3]);
const handled = (lean: number) =>
  point({
    interpolation: "bezier",
    keys: [
      [1, 0.3, { out: [4, lean] }],
      [12, 0.3],
      [24, 0.3],
    ],
  });
const turned =
  (...frames: number[]) =>
  () =>
    documentOf(
      [{ id: "point" }],
      {
        "point rotation": frames.map((frame): [number, [number, number, number, number]] => [
          frame,
          [0, 0.6, 0, 0.8],
        ]),
      },
      { range: [1, 24] },
    );

/** A curve of six keys that do nothing, and one that moves, each of whose keys stands so many frames further on. */
const withPoses = (step: number) => () =>
  pointDocument(
    {
      "translation.x": held(6),
      "translation.y": Array.from({ length: 6 }, (_, i) => [step + 4 * i, 0.1 * (i % 3)]) as Keyed,
    },
    { range: [1, 24] },
  );

export const idleCurveExamples = defineExamples(idleCurve, {
  faulty: [
    {
      title: "a curve whose six keys all hold the same value",
      motion: point(held(6)),
      right: point(held(1)),
      note: {
        node: "point",
        frames: [1, 24],
        key: { node: "point", channel: "translation.x" },
        measured: 6,
      },
    },
    {
      title: "a curve that is keyed on every frame and never changes",
      motion: point(everyFrame(1, 24, () => 0.3)),
      right: point(held(1)),
      note: {
        node: "point",
        frames: [1, 24],
        key: { node: "point", channel: "translation.x" },
        measured: 24,
      },
    },
    {
      title: "level handles between equal keys",
      motion: handled(0),
      right: point(held(1)),
      note: {
        node: "point",
        frames: [1, 24],
        key: { node: "point", channel: "translation.x" },
        measured: 3,
      },
    },
    {
      title: "quaternion keys of one orientation",
      motion: turned(1, 8, 16, 24),
      right: turned(1, 24),
      note: { node: "point", frames: [1, 24], key: { node: "point", channel: "rotation" }, measured: 4 },
    },
    {
      title: "two idle curves of one node, told once",
      motion: () => pointDocument({ "translation.x": held(6), "translation.y": held(5) }, { range: [1, 24] }),
      right: () => pointDocument({ "translation.x": held(1), "translation.y": held(1) }, { range: [1, 24] }),
      note: {
        node: "point",
        frames: [1, 24],
        key: { node: "point", channel: "translation.x" },
        measured: 11,
      },
    },
  ],
  silent: [
    { title: "one key that pins a pose", motion: point(held(1)) },
    { title: "two keys that pin a pose", motion: point(held(2)) },
    {
      title: "a curve that is keyed with each pose of a joint that moves",
      motion: withPoses(1),
      unexcused: withPoses(2),
    },
    {
      title: "a curve that changes",
      motion: point([
        [1, 0.3],
        [20, 0.3],
        [24, 0.31],
      ]),
    },
    { title: "a handle that leans", motion: handled(0.1) },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "head_end",
    frames: [1, 136],
    slip: "all channels of the head's end are keyed with each pose, and its size never changes",
    edits: [
      () =>
        [1, 40, 90, 136].map((frame) => ({
          kind: "set",
          node: "head_end",
          channel: "scale.x",
          frame,
          value: 1,
        })),
    ],
  },
  picture: { draws: "curve", node: "point", channel: "translation.x" },
});
