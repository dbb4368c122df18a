import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { rekeyed, revalued } from "../../shared/examples/keying.ts";
import {
  bipedFigure,
  bipedNodes,
  type Curves,
  documentOf,
  eased,
  easedKeys,
  everyFrame,
} from "../../shared/examples/motions.ts";
import { competingMoves } from "./check.ts";

const names = ["first", "second", "third", "fourth"] as const;

/** Bipeds in a row, three metres apart; the nodes of the first one are `first_hips` and so on. */
const row = (count: number, curves: Curves) => () => {
  const named = (k: number, id: string) => `${names[k]}_${id}`;
  const each = Array.from({ length: count }, (_, k) => k);
  const nodes = each.flatMap((k) =>
    bipedNodes.map((node) => ({
      ...node,
      id: named(k, node.id),
      ...(node.parent === undefined
        ? { translation: [3 * k, 0.95, 0] as [number, number, number] }
        : { parent: named(k, node.parent) }),
    })),
  );
  const figures = each.map((k) => ({
    ...bipedFigure,
    id: names[k],
    parts: Object.fromEntries(
      Object.entries(bipedFigure.parts ?? {}).map(([part, node]) => [part, named(k, String(node))]),
    ),
  }));
  return documentOf(nodes, curves, { more: { figures } });
};
const pair = (first: Curves[string], second: Curves[string], more: Curves = {}) =>
  row(2, { "first_hips translation.z": first, "second_hips translation.z": second, ...more });
/** A move forward of so many metres; it is fastest in the middle. */
const step = (from: number, to: number, size: number) => easedKeys([1, 72], [from, to], size);
/** A small move that goes over into a large one. */
const twice = (small: readonly [number, number], large: readonly [number, number], size: number) =>
  everyFrame(1, 72, (frame) => eased(...small, 0, 1)(frame) + eased(...large, 0, size)(frame));

/** The same through a camera. */
const through = (motion: () => CurveDocument, at: [number, number, number], yaw: number) => () => {
  const document = motion();
  document.nodes.push({ id: "eye", translation: at, rotation: [0, yaw, 0] });
  document.cameras = [{ id: "shotcam", node: "eye", verticalFieldOfView: 40, aspect: 16 / 9 }];
  return document;
};
const twoLeaps = pair(step(20, 36, 1.2), step(21, 37, 1));

/** An arm that goes up by 150° within a quarter of a second. */
const thrown = easedKeys([1, 72], [25, 32], 150, -70);

export const competingMovesExamples = defineExamples(competingMoves, {
  faulty: [
    {
      title: "two figures that leap a frame apart",
      motion: pair(step(20, 36, 1.2), step(21, 37, 1)),
      right: pair(step(20, 36, 1.2), step(38, 54, 1)),
      note: {
        node: "second_hips",
        frames: [28, 29],
        key: { node: "second_hips", channel: "translation.z" },
        measured: 1,
      },
    },
    {
      title: "the smaller of two leaps, which begins first and is named",
      motion: pair(step(20, 36, 1), step(22, 38, 1.2)),
      right: pair(step(40, 56, 1), step(22, 38, 1.2)),
      note: {
        node: "first_hips",
        frames: [28, 30],
        key: { node: "first_hips", channel: "translation.z" },
        measured: 2,
      },
    },
    {
      title: "leaps after a run-up each, that are fastest at one time",
      // The large part is alone from frame 24 on.
      motion: pair(twice([6, 24], [20, 36], 1.6), twice([10, 24], [21, 37], 1.4)),
      right: pair(twice([6, 24], [20, 36], 1.6), twice([30, 44], [41, 57], 1.4)),
      note: {
        node: "second_hips",
        frames: [28, 29],
        key: { node: "second_hips", channel: "translation.z" },
        measured: 1,
      },
    },
    {
      title: "two leaps that a camera sees from a corner",
      motion: through(twoLeaps, [7, 1, 7], 45),
      right: through(pair(step(20, 36, 1.2), step(38, 54, 1)), [7, 1, 7], 45),
      note: {
        node: "second_hips",
        frames: [28, 29],
        key: { node: "second_hips", channel: "translation.z" },
        measured: 1,
      },
    },
    {
      title: "an arm that is thrown up while the other figure leaps",
      motion: row(2, {
        "first_hips translation.z": step(20, 36, 1.6),
        "second_upper_arm_l rotation.z": thrown,
      }),
      right: row(2, {
        "first_hips translation.z": step(42, 58, 1.6),
        "second_upper_arm_l rotation.z": thrown,
      }),
      note: {
        node: "second_hand_l",
        frames: [28, 29],
        key: { node: "second_upper_arm_l", channel: "rotation.z" },
        measured: 1,
      },
    },
  ],
  silent: [
    {
      title: "two leaps straight at the lens, which the picture hardly shows",
      motion: through(twoLeaps, [1.5, 1, 9], 0),
      unexcused: through(twoLeaps, [7, 1, 7], 45),
    },
    {
      title: "two leaps of which the camera sees one",
      motion: through(twoLeaps, [-5, 1, 12], 60),
      unexcused: twoLeaps,
    },
    { title: "a reaction", motion: pair(step(10, 26, 1.2), step(30, 46, 1)) },
    { title: "a small move beside a large one", motion: pair(step(20, 36, 1.2), step(20, 36, 0.2)) },
    { title: "a figure that moves alone", motion: row(2, { "first_hips translation.z": step(20, 36, 1.2) }) },
    {
      title: "two that stand together",
      motion: pair(step(20, 36, 1.2), step(20, 36, 1), {
        "second_hips translation.x": everyFrame(1, 72, () => 0.8),
      }),
    },
    {
      title: "a crowd",
      motion: row(
        4,
        Object.fromEntries(names.map((of, k) => [`${of}_hips translation.z`, step(20 + k, 36 + k, 1)])),
      ),
    },
  ],
  provocation: {
    shot: "jetty_0040_v2",
    node: "rope",
    frames: [1025, 1025],
    slip: "the rope falls onto the post on the frames on which the heron, still far off, darts forward",
    edits: [
      (shot) => [
        ...revalued(shot, "body", "translation.z", 1001, 1023, (value) => value - 12),
        ...rekeyed(shot, "rope", "translation.y", [
          { frame: 1001, value: 196 },
          { frame: 1018, value: 196 },
          { frame: 1032, value: 136 },
          { frame: 1096, value: 136 },
        ]),
      ],
    ],
  },
  picture: { draws: "moves", nodes: ["first_hips", "second_hips"], frames: [10, 60] },
});
