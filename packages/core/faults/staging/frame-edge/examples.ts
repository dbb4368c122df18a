import { defineExamples } from "../../shared/examples/example.ts";
import { type Curves, easedKeys, everyFrame } from "../../shared/examples/motions.ts";
import { type Eye, fromTheFront, stagedDocument, withCamera } from "../shared/camera-motions.ts";
import { frameEdge } from "./check.ts";

/** From the hands up. */
const near: Eye = { at: [0, 1.3, 1.9] };
/** Both arms hang. */
const down: Curves = {
  "upper_arm_l rotation.z": everyFrame(1, 60, () => -80),
  "upper_arm_r rotation.z": everyFrame(1, 60, () => 80),
};
/** The left arm is raised by frame 24, and stays. */
const raised = (degrees: number): Curves => ({
  ...down,
  "upper_arm_l rotation.z": easedKeys([1, 60], [10, 24], degrees, -80),
});
/** The camera tilts, and is back again. */
const lookingDown = (degrees: number): Curves[string] =>
  [1, 10, 20, 30, 42, 52, 60].map((frame) => [frame, frame > 10 && frame < 52 ? degrees : 0]);
/** The figure goes to its left by so much. */
const aside = (metres: number, from: number, to: number): Curves => ({
  ...down,
  "hips translation.x": easedKeys([1, 60], [from, to], metres),
});

export const frameEdgeExamples = defineExamples(frameEdge, {
  faulty: [
    {
      title: "a hand that is raised onto the upper edge",
      motion: () => stagedDocument(raised(120), { at: [0, 0.85, 3.7] }),
      right: () => stagedDocument(raised(75), { at: [0, 0.85, 3.7] }),
      note: {
        node: "hand_l",
        frames: [21, 60],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        measured: 0.0395,
      },
    },
    {
      title: "a head that is cut by a camera that looks too low",
      motion: () => stagedDocument(down, { at: [0, 0.6, 3.8] }),
      note: {
        node: "head",
        frames: [1, 60],
        measured: 0.0877,
      },
      unfixed: "the camera stands, and so its picture was chosen: no key of the head brings it in",
    },
    {
      title: "a head that is cut while the camera looks down",
      motion: () => stagedDocument({ ...down, "eye rotation.x": lookingDown(-9) }),
      right: () => stagedDocument({ ...down, "eye rotation.x": lookingDown(-2) }),
      note: {
        node: "head",
        frames: [17, 45],
        key: { node: "eye", channel: "rotation.x" },
        measured: 0.1,
      },
    },
    {
      title: "a head that a camera cuts where it comes to rest",
      motion: () => stagedDocument({ ...down, "eye rotation.x": easedKeys([1, 60], [10, 34], -9) }),
      right: () => stagedDocument({ ...down, "eye rotation.x": easedKeys([1, 60], [10, 34], -2) }),
      note: {
        node: "head",
        frames: [32, 60],
        key: { node: "eye", channel: "rotation.x" },
        measured: 0.113,
      },
    },
  ],
  silent: [
    {
      title: "a shot without a camera",
      motion: () => stagedDocument(raised(120), null),
      unexcused: () => stagedDocument(raised(120), { at: [0, 0.85, 3.7] }),
    },
    { title: "a figure that stands free", motion: () => stagedDocument(raised(120), { at: [0, 1, 7] }) },
    { title: "a figure that leaves", motion: () => stagedDocument(aside(4, 10, 50), fromTheFront) },
    { title: "a figure that enters", motion: () => stagedDocument(aside(-3, 4, 50), { at: [-3, 1, 5] }) },
    { title: "a head in a close shot", motion: () => stagedDocument(down, { at: [0, 1.35, 1.2] }) },
    { title: "hands that hang onto the lower edge", motion: () => stagedDocument(down, near) },
    {
      title: "a camera that passes the head",
      motion: () => stagedDocument({ ...down, "eye rotation.x": easedKeys([1, 60], [10, 40], -40) }),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "head",
    frames: [58, 66],
    slip: "the camera is set too low, and cuts the dancer's head",
    replace: withCamera([0, 40, 340], 0),
  },
  picture: { draws: "figure", seen: "front", at: [10, 40], marks: ["hand_l"] },
});
