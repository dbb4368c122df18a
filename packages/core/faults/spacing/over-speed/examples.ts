import { defineExamples } from "../../shared/examples/example.ts";
import { keyAt, rekeyed } from "../../shared/examples/keying.ts";
import {
  bipedDocument,
  chainDocument,
  eased,
  everyFrame,
  straight,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { overSpeed } from "./check.ts";

/** An elbow that bends between two frames. */
const elbow = (from: number, to: number, angle: number) => () =>
  bipedDocument({ "forearm_l rotation.y": straight(from, to, angle) });
const head = (to: number, angle: number) => () =>
  bipedDocument({ "head rotation.y": straight(20, to, angle) });
/** A turn of 45° by step keys; a pose is shown for some frames. */
const switched = (frames: number) => () =>
  bipedDocument({
    "head rotation.y": {
      interpolation: "step",
      keys: Array.from({ length: Math.ceil(48 / frames) }, (_, i): [number, number] => [
        1 + frames * i,
        45 * (i % 2),
      ]),
    },
  });
/** An upper arm, which lies along x, that turns at 7,700°/s. */
const upperArm = (axis: "x" | "z") => () =>
  bipedDocument(
    { [`upper_arm_l rotation.${axis}`]: everyFrame(1, 60, (frame) => (7700 * frame) / 120) },
    { rate: 120 },
  );
/** Hips that run, or fall, by 3 m from frame 20 on. */
const run = (to: number) => () => bipedDocument({ "hips translation.z": straight(20, to, 3) });
/** Hips that go 0.6 m from frame 20 on. */
const hop = (to: number) => () => bipedDocument({ "hips translation.z": straight(20, to, 0.6) });
/** An arm that swings by some degrees from each frame to the next, from frame 20 on. */
const swung = (...steps: readonly number[]) => {
  const way = (frame: number) => steps.slice(0, Math.max(0, frame - 20)).reduce((sum, step) => sum + step, 0);
  return () => bipedDocument({ "upper_arm_l rotation.y": everyFrame(1, 48, way) });
};
/** Spine and chest, each of which turns by half of 40°. */
const trunk = (to: number) => () =>
  bipedDocument({ "spine rotation.y": straight(20, to, 20), "chest rotation.y": straight(20, to, 20) });
const fall = (to: number) => () => bipedDocument({ "hips translation.y": straight(20, to, -3) });

export const overSpeedExamples = defineExamples(overSpeed, {
  faulty: [
    {
      title: "an elbow that bends by 150° within a frame",
      motion: elbow(20, 21, -150),
      right: elbow(20, 24, -150),
      note: {
        node: "forearm_l",
        frames: [20, 21],
        key: { node: "forearm_l", channel: "rotation.y", frame: 21 },
        measured: 150 * 24,
      },
    },
    {
      title: "a head that turns by 138° within three frames",
      motion: head(23, 138),
      right: head(27, 138),
      note: {
        node: "head",
        frames: [20, 23],
        key: { node: "head", channel: "rotation.y", frame: 23 },
        measured: (138 / 3) * 24,
      },
    },
    {
      title: "hips that go 0.6 m between two frames",
      motion: hop(21),
      right: hop(23),
      unfixed: "a way of 0.6 m that is spread out has to be stepped: the feet would slide",
      note: {
        node: "hips",
        frames: [20, 21],
        key: { node: "hips", channel: "translation.z" },
        measured: 0.6 * 24,
      },
    },
    {
      title: "hips that go 3 m within four frames",
      motion: run(24),
      right: run(30),
      unfixed: "a way of 3 m that is spread out has to be walked: the feet would slide",
      note: {
        node: "hips",
        frames: [20, 24],
        key: { node: "hips", channel: "translation.z", frame: 24 },
        measured: (3 / 4) * 24,
      },
    },
    {
      title: "an arm that is there within a frame",
      motion: swung(35),
      right: swung(2, 5, 10, 11, 5, 2),
      note: {
        node: "hand_l",
        frames: [20, 21],
        key: [
          { node: "upper_arm_l", channel: "rotation.y", frame: 20 },
          { node: "upper_arm_l", channel: "rotation.y", frame: 21 },
        ],
        measured: 14.34,
      },
    },
    {
      title: "a head that is turned within a frame",
      motion: head(21, 30),
      right: head(24, 30),
      note: {
        node: "head",
        frames: [20, 21],
        key: { node: "head", channel: "rotation.y", frame: 21 },
        // Eased between two frames it turns at 1.875 times its mean speed (Flash and Hogan 1985).
        measured: 1.875 * 30 * 24,
      },
    },
    {
      title: "a trunk of which two joints share a turn that is too quick",
      motion: trunk(21),
      right: trunk(26),
      note: {
        node: "chest",
        frames: [20, 21],
        key: [
          { node: "spine", channel: "rotation.y", frame: 21 },
          { node: "chest", channel: "rotation.y", frame: 21 },
        ],
        measured: 1.875 * 40 * 24,
      },
    },
  ],
  silent: [
    {
      title: "an arm that gains its speed over several frames, as in a blow",
      motion: swung(10, 25, 45, 40, 20, 5),
      unexcused: swung(45, 40, 20, 5),
    },
    // Grossman and others 1988: heads that were turned as fast as could be reached 780°/s (median of 20 people).
    { title: "a head that turns at 780°/s", motion: head(23, 97.5) },
    {
      title: "a forearm that is flung out by 110° within four frames",
      motion: () => bipedDocument({ "forearm_r rotation.y": everyFrame(1, 48, eased(20, 24, 0, 110)) }),
    },
    { title: "a walk", motion: () => walkDocument() },
    {
      title: "a cut by step keys from one held pose to the next",
      motion: switched(8),
      unexcused: switched(1),
    },
    {
      title: "poses on twos, each of which is shown for two frames",
      motion: switched(2),
      unexcused: switched(1),
    },
    {
      title: "a figure that is no human",
      motion: () => chainDocument(3, { "joint_2 rotation.z": straight(20, 21, 150) }),
      unexcused: elbow(20, 21, 150),
    },
    {
      // The upper arm turns about its own length at 7,500 to 7,700°/s in throws (review PMC3445080).
      title: "an upper arm that turns about its own length as fast as in a throw",
      motion: upperArm("x"),
      unexcused: upperArm("z"),
    },
    { title: "a fall, however fast", motion: fall(24), unexcused: run(24) },
    {
      title: "a figure with other limits",
      motion: elbow(20, 21, -150),
      config: {
        checks: {
          "over-speed": {
            values: { elbow: { value: 5000, unit: "deg/s" }, quickHand: { value: 25, unit: "m/s" } },
          },
        },
      },
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "head",
    frames: [118, 119],
    slip: "after the landing the key of a look over the shoulder stands one frame behind the one before it",
    edits: [
      (shot) =>
        rekeyed(shot, "head", "rotation.y", [
          keyAt(shot, "head", "rotation.y", 118),
          { frame: 119, value: 62 },
          { frame: 136, value: 64 },
        ]),
    ],
  },
  picture: { draws: "figure", seen: "top", at: [20, 21, 22, 23, 24], only: ["upper_arm_l"] },
});
