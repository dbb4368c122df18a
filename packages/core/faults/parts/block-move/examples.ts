import { defineExamples } from "../../shared/examples/example.ts";
import {
  bipedDocument,
  bipedFigure,
  bipedNodes,
  bipedWithout,
  documentOf,
  eased,
  everyFrame,
} from "../../shared/examples/motions.ts";
import { blockMove } from "./check.ts";

type Course = (frame: number) => number;

/** Turns of hips, chest and head about an axis, as they are seen in the world. */
const turning =
  (hips: Course, chest: Course = hips, head: Course = chest, axis: "x" | "y" = "y") =>
  () =>
    bipedDocument({
      [`hips rotation.${axis}`]: everyFrame(1, 48, hips),
      [`spine rotation.${axis}`]: everyFrame(1, 48, (frame) => chest(frame) - hips(frame)),
      [`head rotation.${axis}`]: everyFrame(1, 48, (frame) => head(frame) - chest(frame)),
    });
/** A turn from frame 10 to frame 30; 5 % of what is seen of it are gone by frame 14, and left at frame 26. */
const by = (angle: number) => eased(10, 30, 0, angle);
const seen = [13, 27] as const;
/** Shares of the turn that are made in these frames, and by which its steps differ in them. */
const main = 0.94678;
const faster = 0.06182;

/** The biped as a bird: wings for arms, and a trunk of one piece that turns with the hips. */
const bird = (body: Course, head: Course) => () => {
  const arms = /Shoulder|Arm|Forearm|Hand|Fingers/;
  const parts = Object.fromEntries(
    Object.entries(bipedFigure.parts ?? {}).filter(([name]) => !arms.test(name)),
  );
  const wing = (side: string) => [`upper_arm_${side}`, `forearm_${side}`, `hand_${side}`];
  return documentOf(
    bipedNodes,
    {
      "hips rotation.y": everyFrame(1, 48, body),
      "head rotation.y": everyFrame(1, 48, (frame) => head(frame) - body(frame)),
    },
    {
      more: { figures: [{ ...bipedFigure, parts: { ...parts, leftWing: wing("l"), rightWing: wing("r") } }] },
    },
  );
};

/** The biped with some joints left out, turned as one piece. */
const without = (joints: RegExp) => () =>
  bipedWithout(joints, { "hips rotation.y": everyFrame(1, 48, by(60)) });

export const blockMoveExamples = defineExamples(blockMove, {
  faulty: [
    {
      title: "a body that turns 60° in one piece, the head by a degree more",
      motion: turning(by(60), by(60), by(61)),
      right: turning(eased(8, 28, 0, 60), eased(11, 31, 0, 60), eased(15, 35, 0, 60)),
      note: {
        node: "chest",
        frames: seen,
        key: { node: "hips", channel: "rotation.y" },
        measured: main / (faster * 60),
      },
    },
    {
      title: "a body that turns 40° and twists by a degree only",
      motion: turning(by(40), by(41)),
      right: turning(by(40), eased(13, 33, 0, 41), eased(16, 36, 0, 41)),
      note: {
        node: "chest",
        frames: seen,
        key: { node: "hips", channel: "rotation.y" },
        measured: main / (faster * 41),
      },
    },
    {
      title: "a trunk that turns 60° over hips that stand, and whose head rides on it",
      motion: turning(() => 0, by(60)),
      right: turning(() => 0, by(60), eased(7, 27, 0, 60)),
      note: { node: "chest", frames: seen, key: { node: "spine", channel: "rotation.y" }, measured: 0 },
    },
    {
      title: "a body that bows with a stiff back",
      motion: turning(by(35), by(35), by(35), "x"),
      right: turning(by(35), eased(13, 33, 0, 35), eased(15, 35, 0, 35), "x"),
      note: { node: "chest", frames: seen, key: { node: "hips", channel: "rotation.x" }, measured: 0 },
    },
    {
      title: "a body that turns 60° in one piece while the head nods",
      motion: () =>
        bipedDocument({
          "hips rotation.y": everyFrame(1, 48, by(60)),
          "head rotation.x": everyFrame(1, 48, (frame) => 10 * Math.sin(frame / 3)),
        }),
      note: { node: "chest", frames: seen, key: { node: "hips", channel: "rotation.y" }, measured: 0 },
    },
    {
      title: "a body that is wound up by the head, and goes round as it then stands",
      motion: turning(by(60), by(60), (frame) => by(60)(frame) + eased(1, 9, 0, 12)(frame)),
      note: { node: "chest", frames: seen, key: { node: "hips", channel: "rotation.y" }, measured: 0 },
    },
    {
      title: "a bird whose head turns with its trunk",
      motion: bird(by(60), by(60)),
      right: bird(by(60), eased(6, 26, 0, 60)),
      note: { node: "chest", frames: seen, key: { node: "hips", channel: "rotation.y" }, measured: 0 },
    },
    {
      title: "a body that turns 40° in one piece, and whose chest turns on alone before it has come to rest",
      motion: turning(
        eased(4, 24, 0, 40),
        (frame) => eased(4, 24, 0, 40)(frame) + eased(21, 45, 0, 60)(frame),
        (frame) => eased(4, 24, 0, 40)(frame) + eased(25, 48, 0, 60)(frame),
      ),
      right: turning(
        eased(4, 24, 0, 40),
        (frame) => eased(7, 27, 0, 40)(frame) + eased(24, 45, 0, 60)(frame),
        (frame) => eased(10, 30, 0, 40)(frame) + eased(28, 48, 0, 60)(frame),
      ),
      note: {
        node: "chest",
        frames: [6, 23],
        key: { node: "hips", channel: "rotation.y" },
        measured: 0.09647,
      },
    },
  ],
  silent: [
    { title: "a bird whose head leads its trunk", motion: bird(by(50), eased(6, 26, 0, 50)) },
    {
      title: "a turn that is blocked in poses",
      motion: () =>
        bipedDocument({
          "hips rotation.y": {
            interpolation: "step",
            keys: [
              [1, 0],
              [12, 40],
              [24, -20],
              [36, 20],
              [48, 0],
            ],
          },
        }),
    },
    { title: "a head that leads", motion: turning(by(50), by(50), eased(6, 26, 0, 50)) },
    {
      title: "a chest that comes after the hips, and a head that comes after it",
      motion: turning(by(50), eased(13, 33, 0, 50), eased(15, 35, 0, 50)),
      unexcused: turning(by(50), eased(13, 33, 0, 50)),
    },
    {
      title: "a trunk that turns by 25° over hips that stand, with its head",
      motion: turning(() => 0, by(25)),
      unexcused: turning(() => 0, by(60)),
    },
    { title: "a small turn", motion: turning(by(10)) },
    { title: "a figure without a chest", motion: without(/spine|chest/) },
    { title: "a figure without a head", motion: without(/head|neck/) },
  ],
  provocation: {
    shot: "steps_0110_v1",
    node: "chest",
    frames: [98, 110],
    slip: "in the first version the porter turns with the hips alone, and all above them goes along",
  },
  picture: { draws: "moves", nodes: ["head", "chest", "hips"], frames: [4, 40] },
});
