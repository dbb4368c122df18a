import { defineExamples } from "../../shared/examples/example.ts";
import { bipedDocument, type Curves, eased, easedKeys, everyFrame } from "../../shared/examples/motions.ts";
import { loneJoint } from "./check.ts";

/** A biped that moves; nothing is shown of how it stands afterwards, where a last frame is given. */
const figure =
  (curves: Curves, last = 48) =>
  () =>
    bipedDocument(curves, { range: [1, last] });
const turn = (from: number, to: number, angle: number) => easedKeys([1, 48], [from, to], angle);
const head = turn(10, 20, 50);

/** A back that leans on a little all the time, so that nothing freezes. */
const breath: Curves = {
  "spine rotation.x": [
    [1, 0],
    [48, 2],
  ],
};

export const loneJointExamples = defineExamples(loneJoint, {
  faulty: [
    {
      title: "a head that turns 50° and a neck that answers with one",
      motion: figure({ "head rotation.y": head, "neck rotation.y": turn(12, 22, 1) }),
      right: figure({
        "head rotation.y": turn(10, 20, 32),
        "neck rotation.y": turn(12, 24, 10),
        "spine rotation.y": turn(14, 28, 8),
      }),
      note: {
        node: "head",
        frames: [10, 20],
        key: { node: "neck", channel: "rotation.y" },
        measured: 1 / 50,
      },
    },
    {
      title: "a head that bows with nothing under it answering",
      motion: figure({ "head rotation.x": turn(10, 20, 40) }),
      right: figure({ "head rotation.x": turn(10, 20, 28), "neck rotation.x": turn(12, 22, 12) }),
      note: { node: "head", frames: [10, 20], key: { node: "head", channel: "rotation.x" }, measured: 0 },
    },
    {
      title: "a head that turns by a little more than a glance",
      motion: figure({ "head rotation.y": turn(10, 20, 17) }, 25),
      right: figure({ "head rotation.y": turn(10, 20, 13), "neck rotation.y": turn(12, 24, 4) }, 25),
      // The first and the last frame turn by 0.15°, which is rest.
      note: { node: "head", frames: [11, 19], key: { node: "head", channel: "rotation.y" }, measured: 0 },
    },
    {
      title: "a head that turns 50° over hips that answer with two",
      motion: figure({ "head rotation.y": head, "hips rotation.y": turn(12, 22, 2) }),
      right: figure({ "head rotation.y": head, "hips rotation.y": turn(12, 26, 15) }),
      note: {
        node: "head",
        frames: [10, 20],
        key: { node: "hips", channel: "rotation.y" },
        measured: 2 / 50,
      },
    },
    {
      title: "a head that whips round while the chest nods",
      motion: figure({ "head rotation.y": turn(10, 16, 50), "chest rotation.x": turn(8, 20, 20) }),
      right: figure({
        "head rotation.y": turn(10, 16, 30),
        "neck rotation.y": turn(10, 18, 12),
        "chest rotation.y": turn(12, 20, 8),
      }),
      note: { node: "head", frames: [10, 16], key: { node: "head", channel: "rotation.y" }, measured: 0 },
    },
    {
      title: "a neck that goes along when the head has long arrived",
      motion: figure({ "head rotation.y": turn(6, 16, 40), "neck rotation.y": turn(24, 36, 16), ...breath }),
      right: figure({ "head rotation.y": turn(6, 16, 40), "neck rotation.y": turn(8, 20, 16), ...breath }),
      note: { node: "head", frames: [6, 16], key: { node: "neck", channel: "rotation.y" }, measured: 0 },
    },
  ],
  silent: [
    {
      title: "a neck that answers",
      motion: figure({ "head rotation.y": turn(10, 20, 40), "neck rotation.y": turn(12, 24, 16) }),
    },
    {
      title: "hips that answer",
      motion: figure({ "head rotation.y": turn(10, 20, 40), "hips rotation.y": turn(14, 30, 20) }),
    },
    {
      title: "a head that is blocked in poses",
      motion: figure({
        "head rotation.y": {
          interpolation: "step",
          keys: [
            [1, 0],
            [12, 40],
            [24, -20],
            [36, 0],
            [48, 10],
          ],
        },
      }),
    },
    // Free eye movements mostly stay under 15° (Malinov and others 2000); heads make turns of that size alone.
    { title: "a small turn", motion: figure({ "head rotation.y": turn(10, 20, 14) }) },
    {
      title: "a glance that comes back within half a second",
      motion: figure({
        "head rotation.y": everyFrame(
          1,
          48,
          (frame) => eased(10, 14, 0, 40)(frame) - eased(20, 25, 0, 40)(frame),
        ),
      }),
    },
  ],
  provocation: {
    shot: "quay_0070_v1",
    node: "head",
    frames: [124, 132],
    slip: "in the first version the head turns with nothing beneath it answering",
  },
  picture: { draws: "moves", nodes: ["head", "neck", "chest", "hips"], frames: [4, 36] },
});
