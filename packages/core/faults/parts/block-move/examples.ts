import { defineExamples } from "../../shared/examples/example.ts";
import { bipedDocument, bipedWithout, eased, everyFrame } from "../../shared/examples/motions.ts";
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
/** A turn from frame 10 to frame 30; its steps are over half a degree from the third one to the last but two. */
const by = (angle: number) => eased(10, 30, 0, angle);
const seen = [12, 28] as const;

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
        // 0.983 of the degree falls into the frames that are seen; 0.5296 of the turn into the 6 frames of its middle half.
        measured: 0.983 / ((0.5296 * 60) / 6),
      },
    },
    {
      title: "a body that turns 40° and twists by a degree only",
      motion: turning(by(40), by(41)),
      right: turning(by(40), eased(13, 33, 0, 41)),
      note: {
        node: "chest",
        frames: seen,
        key: { node: "hips", channel: "rotation.y" },
        measured: 0.983 / ((0.5296 * 41) / 6),
      },
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
  ],
  silent: [
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
    { title: "a chest that comes after the hips", motion: turning(by(50), eased(13, 33, 0, 50)) },
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
