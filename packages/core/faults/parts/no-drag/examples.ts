import type { NodeSpec } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  bipedFigure,
  bipedNodes,
  type Curves,
  documentOf,
  eased,
  everyFrame,
} from "../../shared/examples/motions.ts";
import { noDrag } from "./check.ts";

const loose: readonly NodeSpec[] = [
  { id: "tail_1", parent: "hips", translation: [0, 0, -0.1] },
  { id: "tail_2", parent: "tail_1", translation: [0, 0, -0.15] },
  { id: "tail_3", parent: "tail_2", translation: [0, 0, -0.15] },
  { id: "tail_end", parent: "tail_3", translation: [0, 0, -0.15] },
  { id: "hair_1", parent: "head", translation: [0, 0.1, -0.1] },
  { id: "hair_2", parent: "hair_1", translation: [0, -0.15, 0] },
  { id: "ear_l", parent: "head", translation: [0.07, 0.15, 0] },
  { id: "ear_end_l", parent: "ear_l", translation: [0.03, 0.08, 0] },
];
const parts = {
  ...bipedFigure.parts,
  tail: ["tail_1", "tail_2", "tail_3", "tail_end"],
  hair: ["hair_1", "hair_2"],
  ears: ["ear_l", "ear_end_l"],
};

/** The biped with a tail, hair and an ear, through three sways of 32 frames. */
const figure = (curves: Curves) => () =>
  documentOf([...bipedNodes, ...loose], curves, { more: { figures: [{ ...bipedFigure, parts }] } });
const range = [1, 96] as const;

/** A sway that comes late by some frames. */
const sway = (angle: number, late = 0) => everyFrame(...range, swaying(angle, late));
const swaying =
  (angle: number, late = 0) =>
  (frame: number) =>
    angle * Math.sin((2 * Math.PI * (frame - late)) / 32);

/** Hips that sway by 30°, and links that do so in the world as well, each late by some frames: 30° too if left out. */
const tail = (...links: readonly { late: number; angle?: number }[]) => {
  const all = [{ late: 0 }, ...links].map(({ late, angle = 30 }: { late: number; angle?: number }) =>
    swaying(angle, late),
  );
  const curves = all.slice(1).map((link, k) => [
    `tail_${k + 1} rotation.y`,
    // Each turns against its parent.
    everyFrame(...range, (frame) => link(frame) - all[k](frame)),
  ]);
  return figure({ "hips rotation.y": sway(30), ...Object.fromEntries(curves) });
};
/** A tail that goes with the hips and swings at twice their pace besides, by so many degrees. */
const swingingTail = (angle: number) =>
  figure({
    "hips rotation.y": sway(30),
    "tail_1 rotation.y": everyFrame(...range, (frame) => angle * Math.sin((4 * Math.PI * (frame - 6)) / 32)),
    "tail_2 rotation.y": everyFrame(...range, (frame) => swaying(30, 2)(frame) - swaying(30)(frame)),
    "tail_3 rotation.y": everyFrame(...range, (frame) => swaying(30, 4)(frame) - swaying(30, 2)(frame)),
  });
/** A tail that wags at its first joint, and is a rod beyond it; or of which each link trails the one before. */
const wagging = (share: number) =>
  figure({
    "tail_1 rotation.y": sway(20),
    ...(share === 0
      ? {}
      : { "tail_2 rotation.y": sway(20 * share, 4), "tail_3 rotation.y": sway(20 * share, 8) }),
  });
/** Turns by 25° in a third of a second, there and back. */
const turnedTwice = everyFrame(
  ...range,
  (frame) => eased(18, 26, 0, 25)(frame) - eased(70, 78, 0, 25)(frame),
);
const hangingHair = figure({ "head rotation.y": sway(35), "hair_1 rotation.x": sway(4, 3) });

/** The biped with a strap of three links on its hips that no part of the figure names. */
const withStrap = (curves: Curves) => () =>
  documentOf(
    [
      ...bipedNodes,
      { id: "strap_1", parent: "hips", translation: [0.1, 0, 0] },
      { id: "strap_2", parent: "strap_1", translation: [0.15, 0, 0] },
      { id: "strap_3", parent: "strap_2", translation: [0.15, 0, 0] },
    ] as NodeSpec[],
    curves,
    { more: { figures: [bipedFigure] } },
  );
/** The biped that shakes its head, and what hangs on it: a chain of one link with a hook for its tip, or else another name. */
const withHanging = (name: string) => () =>
  documentOf(
    [
      ...bipedNodes,
      { id: name, parent: "head", translation: [0, 0, 0.1] },
      { id: `${name}_tip`, parent: name, translation: [0, -0.3, 0] },
    ] as NodeSpec[],
    { "head rotation.x": sway(30) },
    { more: { figures: [bipedFigure] } },
  );
/** Hips that sway, and a strap that trails them by a share of what it should. */
const strapped = (share: (frame: number) => number) =>
  withStrap({
    "hips rotation.y": sway(30),
    "strap_1 rotation.y": everyFrame(
      ...range,
      (frame) => share(frame) * (swaying(30, 2)(frame) - swaying(30)(frame)),
    ),
    "strap_2 rotation.y": everyFrame(
      ...range,
      (frame) => share(frame) * (swaying(30, 4)(frame) - swaying(30, 2)(frame)),
    ),
  });

/** Hips that sway by 15°, and a tail of which each link comes late by some frames. */
const slowTail = (late: number) => {
  const links = [0, 1, 2, 3].map((link) => swaying(15, late * link));
  const curves = [1, 2, 3].map((link) => [
    `tail_${link} rotation.y`,
    everyFrame(...range, (frame) => links[link](frame) - links[link - 1](frame)),
  ]);
  return figure({ "hips rotation.y": sway(15), ...(late === 0 ? {} : Object.fromEntries(curves)) });
};

type Wings = Readonly<Record<string, readonly string[]>>;
const asWings = { leftWing: ["wing_1_l", "wing_2_l"], rightWing: ["wing_1_r", "wing_2_r"] };
const asProps = { prop: ["wing_1_l", "wing_2_l", "wing_1_r", "wing_2_r"] };

/** A body that each beat pushes up and down by 2 cm, four times a second, and the tail on it. */
const beating = (wings: Wings) =>
  bird(wings, {
    "body translation.y": everyFrame(...range, (frame) => 2 + 0.02 * Math.sin((2 * Math.PI * frame) / 6)),
  });
/** A body that pitches by 30°, and a tail that does so three frames sooner. */
const steering = (wings: Wings) =>
  bird(wings, {
    "body rotation.x": sway(30),
    "tail_1 rotation.x": everyFrame(...range, (frame) => swaying(30, -3)(frame) - swaying(30)(frame)),
  });
/** Wings that beat by 30°; their outer halves trail the beat by a share of what it is two frames later, or are not keyed. */
const trailing = (left: number | null, right: number | null) => {
  const beat = (late: number) => (frame: number) =>
    (eased(4, 20, 0, 1)(frame) - eased(76, 92, 0, 1)(frame)) * swaying(30, late)(frame);
  const outer = (share: number, sign: 1 | -1) =>
    everyFrame(...range, (frame) => sign * share * (beat(2)(frame) - beat(0)(frame)));
  return bird(asWings, {
    "wing_1_l rotation.z": everyFrame(...range, beat(0)),
    "wing_1_r rotation.z": everyFrame(...range, (frame) => -beat(0)(frame)),
    ...(left === null ? {} : { "wing_2_l rotation.z": outer(left, 1) }),
    ...(right === null ? {} : { "wing_2_r rotation.z": outer(right, -1) }),
  });
};
/**
 * A fish that keeps its place in the water, with three joints behind its head that bend to and fro by 12° each, all through,
 * each behind the one before it by some frames.
 */
const swimming = (late: number) => () => {
  const joints = ["back_1", "back_2", "fin"];
  const nodes: NodeSpec[] = [
    { id: "body", translation: [0, 1, 0] },
    { id: "head", parent: "body", translation: [0, 0, 0.3] },
    ...[...joints, "fin_end"].map((id, k): NodeSpec => {
      return { id, parent: k === 0 ? "body" : joints[k - 1], translation: [0, 0, -0.2] };
    }),
  ];
  const bend = (k: number) => (frame: number) => 12 * Math.sin((2 * Math.PI * (frame - late * k)) / 18);
  return documentOf(
    nodes,
    Object.fromEntries(joints.map((id, k) => [`${id} rotation.y`, everyFrame(...range, bend(k))])),
    {
      range: [...range],
      more: {
        figures: [{ id: "body", parts: { root: ["body"], head: ["head"] } }],
        surroundings: [{ medium: "water" }],
      },
    },
  );
};
const bird = (wings: Wings, curves: Curves) => () =>
  documentOf(
    [
      { id: "body", translation: [0, 2, 0] },
      ...["l", "r"].flatMap((side): NodeSpec[] => [
        { id: `wing_1_${side}`, parent: "body", translation: [side === "l" ? 0.1 : -0.1, 0, 0] },
        { id: `wing_2_${side}`, parent: `wing_1_${side}`, translation: [side === "l" ? 0.3 : -0.3, 0, 0] },
      ]),
      { id: "tail_1", parent: "body", translation: [0, 0, -0.1] },
      { id: "tail_end", parent: "tail_1", translation: [0, 0, -0.2] },
    ],
    curves,
    {
      more: { figures: [{ id: "bird", parts: { root: ["body"], tail: ["tail_1", "tail_end"], ...wings } }] },
    },
  );

export const noDragExamples = defineExamples(noDrag, {
  faulty: [
    {
      title: "a tail without keys behind hips that sway",
      motion: tail(),
      right: tail({ late: 2 }, { late: 4 }, { late: 6 }),
      note: { node: "tail_1", frames: range, measured: 0 },
    },
    {
      title: "a tail whose second link goes with the first one, not after it",
      motion: tail({ late: 2 }, { late: 2, angle: 40 }, { late: 4, angle: 40 }),
      right: tail({ late: 2 }, { late: 4, angle: 40 }, { late: 6, angle: 40 }),
      note: {
        node: "tail_2",
        frames: range,
        key: { node: "tail_2", channel: "rotation.y" },
        measured: 0,
      },
    },
    {
      title: "a tail that is three frames ahead of the hips",
      motion: tail({ late: -3 }, { late: -1 }, { late: 1 }),
      right: tail({ late: 2 }, { late: 4 }, { late: 6 }),
      note: {
        node: "tail_1",
        frames: range,
        key: { node: "tail_1", channel: "rotation.y" },
        measured: -3,
      },
    },
    {
      title: "hair that is keyed and moves by half a degree",
      motion: figure({
        "head rotation.y": sway(35),
        "hair_1 rotation.x": everyFrame(...range, (frame) => 0.3 * Math.sin(frame)),
      }),
      right: hangingHair,
      // At frame 11 the sine is −1 (to the fifth digit), and nowhere farther from where it is at frame 1.
      note: {
        node: "hair_1",
        frames: range,
        key: { node: "hair_1", channel: "rotation.x" },
        measured: 0.3 * (Math.sin(1) + 1),
      },
    },
    {
      title: "hair that stays where it is but for a pop of one frame",
      motion: figure({
        "head rotation.y": sway(35),
        "hair_1 rotation.x": everyFrame(...range, (frame) => (frame === 40 ? 8 : 0.3 * Math.sin(frame))),
      }),
      right: hangingHair,
      note: {
        node: "hair_1",
        frames: range,
        key: { node: "hair_1", channel: "rotation.x" },
        measured: 0.3 * (Math.sin(1) + 1),
      },
    },
    {
      title: "a strap that nobody named and that goes stiff for a second",
      motion: strapped((frame) => 1 - (eased(30, 34, 0, 1)(frame) - eased(58, 62, 0, 1)(frame))),
      right: strapped(() => 1),
      // At frame 59 it has a tenth of its bend again: less than half a degree, which is drift.
      note: {
        node: "strap_1",
        frames: [34, 59],
        key: { node: "strap_1", channel: "rotation.y" },
        measured: 0.464,
      },
    },
    {
      title: "a tail that wags at its first joint alone, as a stick",
      motion: wagging(0),
      right: wagging(0.5),
      note: { node: "tail_2", frames: range, measured: 0 },
    },
    {
      title: "a tail without keys behind hips that turn twice, two seconds apart",
      motion: figure({ "hips rotation.y": turnedTwice }),
      // The first turn. What follows the second one for less than half of a swing is not asked for.
      note: { node: "tail_1", frames: [21, 34], measured: 0 },
    },
    {
      title: "a wing whose outer half is stiff in the beat",
      motion: trailing(0, 1),
      right: trailing(1, 1),
      note: {
        node: "wing_2_l",
        frames: [11, 85],
        key: { node: "wing_2_l", channel: "rotation.z" },
        measured: 0,
      },
    },
    {
      title: "a strap without any curves",
      motion: withStrap({ "hips rotation.y": sway(30) }),
      note: { node: "strap_1", frames: range, measured: 0 },
    },
    {
      title: "a chain on a head, without any curves",
      motion: withHanging("chain"),
      note: { node: "chain", frames: range, measured: 0 },
    },
    {
      title: "a tail in the water that bends all at once",
      motion: swimming(0),
      right: swimming(2),
      note: {
        node: "back_2",
        frames: [4, 86],
        key: { node: "back_2", channel: "rotation.y" },
        measured: 0,
      },
    },
    {
      title: "a tail in the water whose end leads by two frames",
      motion: swimming(-2),
      right: swimming(2),
      note: {
        node: "back_2",
        frames: [2, 92],
        key: { node: "back_2", channel: "rotation.y" },
        measured: -2,
      },
    },
  ],
  silent: [
    {
      title: "a tail that wags, and bends on the way to its tip",
      motion: wagging(0.5),
      unexcused: wagging(0),
    },
    { title: "a tail in the water, of which each joint bends after the one before it", motion: swimming(2) },
    {
      title: "a bone of one link on a head, whose name tells nothing of what it is",
      motion: withHanging("bone_9"),
    },
    {
      title: "a tail that drags more and more, and ends in a tip without curves",
      motion: tail({ late: 2 }, { late: 4 }, { late: 6 }),
    },
    {
      title: "hair and ears of one link without any curves, modelled stiff",
      motion: figure({ "head rotation.y": sway(35) }),
    },
    { title: "hanging hair that the head turns about its own length", motion: hangingHair },
    {
      title: "a tail that is blocked in poses",
      motion: figure({
        "hips rotation.y": {
          interpolation: "step",
          keys: [
            [1, 0],
            [16, 30],
            [32, -30],
            [48, 30],
            [64, -20],
            [96, 0],
          ],
        },
      }),
    },
    {
      title: "a tail that swings to and fro at twice the pace of the hips as well",
      motion: swingingTail(3),
    },
    {
      title: "a tail that bends by what it lags in a slow turn",
      motion: slowTail(0.8),
      unexcused: slowTail(0),
    },
    {
      title: "a bird's tail, which is held against the beat of the wings",
      motion: beating(asWings),
      unexcused: beating(asProps),
    },
    {
      title: "a bird's tail of one joint that turns before its body does: it steers",
      motion: steering(asWings),
      unexcused: steering(asProps),
    },
    {
      title: "wings of one piece, as an insect's: their outer halves have no curves",
      motion: trailing(null, null),
    },
    { title: "a carrier that hardly moves", motion: figure({ "hips rotation.y": sway(2) }) },
  ],
  provocation: {
    shot: "jetty_0040_v1",
    node: "tail_1",
    frames: [1001, 1111],
    slip: "in the first version the tail has no keys: it is stuck to the body",
  },
  picture: {
    draws: "figure",
    seen: "top",
    at: [24, 28, 32, 36, 40],
    only: ["tail_1"],
    marks: ["tail_2", "tail_3"],
  },
});
