import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame } from "../../shared/examples/keying.ts";
import {
  bipedDocument,
  chainDocument,
  eased,
  everyFrame,
  onTwos,
  pathDocument,
  pointDocument,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { jitter } from "./check.ts";

/** Noise between two frames that is off to one side and to the other by turns, every `step` frames; 0 elsewhere. */
const noise =
  (from: number, to: number, size: number, step = 1) =>
  (frame: number) =>
    frame < from || frame > to ? 0 : size * (-1) ** ((frame - from) / step);
const move = eased(1, 72, 0, 0.4);
const point = (size: number, from = 20, to = 42) => {
  const off = noise(from, to, size);
  return () => pathDocument(1, 72, (frame) => [move(frame), off(frame), 0]);
};
const forearm = (size: number) => {
  const off = noise(20, 50, size);
  return () =>
    chainDocument(3, {
      "joint_1 rotation.z": everyFrame(1, 72, eased(4, 66, 0, 40)),
      "joint_2 rotation.z": everyFrame(1, 72, (frame) => eased(8, 70, 0, 50)(frame) + off(frame)),
    });
};
const shoulder =
  (size: number, more = {}) =>
  () =>
    bipedDocument(
      {
        "shoulder_l rotation.z": everyFrame(1, 96, noise(30, 70, size)),
        "forearm_l rotation.y": everyFrame(1, 96, eased(20, 80, 0, -60)),
      },
      { more },
    );
const poses = (size: number, last = 61) => {
  const off = noise(21, last, size, 2);
  return () =>
    pointDocument({ "translation.x": onTwos(1, 79, (frame) => eased(-5, 85, 0, 0.4)(frame) + off(frame)) });
};
/**
 * A point that goes through one cycle four times a second: along an arc, across it and forward, each at its own time, as the
 * tip of a wing does. Noise of so many metres knows nothing of the cycle.
 */
const beating = (noisy: number) => () =>
  pathDocument(1, 72, (frame) => {
    const at = (2 * Math.PI * 4 * frame) / 24;
    const off = noisy * Math.sin(2.7 * frame * frame);
    return [0.3 * Math.sin(at + 0.4) + off, 0.2 * Math.cos(2 * at + 0.8) + off, 0.2 * Math.sin(2 * at - 0.5)];
  });
/** Poses to and fro by 30°, each held on a step key for some frames. */
const held = (frames: number) => () =>
  chainDocument(2, {
    "joint_1 rotation.z": {
      interpolation: "step",
      keys: Array.from({ length: Math.floor(96 / frames) }, (_, i): [number, number] => [
        1 + frames * i,
        30 * (i % 2),
      ]),
    },
  });
const shaken = (hertz: number) => () =>
  pathDocument(1, 72, (frame) => [0.1 * Math.sin((2 * Math.PI * hertz * frame) / 24 + 0.4), 0, 0]);

export const jitterExamples = defineExamples(jitter, {
  faulty: [
    {
      title: "a point that is 1 cm off to either side on its way, from frame to frame",
      motion: point(0.01),
      right: point(0),
      note: {
        node: "point",
        frames: [20, 42],
        key: { node: "point", channel: "translation.y", frame: 20 },
        // It turns round on every frame.
        measured: 24,
      },
    },
    {
      title: "a forearm that trembles by a degree",
      motion: forearm(1.2),
      right: forearm(0),
      note: {
        node: "joint_2",
        frames: [20, 50],
        key: { node: "joint_2", channel: "rotation.z", frame: 20 },
        measured: 24,
      },
    },
    {
      title: "a shoulder that trembles, and with it all that hangs on it",
      motion: shoulder(1.5),
      right: shoulder(0),
      note: {
        node: "shoulder_l",
        frames: [30, 70],
        key: { node: "shoulder_l", channel: "rotation.z", frame: 30 },
        measured: 24,
      },
    },
    {
      title: "poses on twos that are off to either side",
      motion: poses(0.03),
      right: poses(0),
      note: {
        node: "point",
        frames: [21, 61],
        key: { node: "point", channel: "translation.x", frame: 21 },
        measured: 12,
      },
    },
  ],
  silent: [
    {
      title: "a shiver that is acted, as a waiver says",
      motion: shoulder(1.5, {
        waivers: [{ check: "jitter", node: "shoulder_l", reason: "shivers with cold" }],
      }),
      unexcused: shoulder(1.5),
    },
    { title: "noise under the floor", motion: point(0.001), unexcused: point(0.01) },
    {
      title: "noise that is lost in fast movement",
      motion: () => pathDocument(1, 72, (frame) => [noise(1, 72, 0.004)(frame), 0.25 * frame, 0]),
      unexcused: () => pathDocument(1, 72, (frame) => [noise(1, 72, 0.004)(frame), 0.005 * frame, 0]),
    },
    { title: "an eased move", motion: point(0) },
    { title: "a walk", motion: () => walkDocument() },
    { title: "waving at 3 Hz", motion: shaken(3) },
    { title: "shaking at 6 Hz", motion: shaken(6) },
    { title: "a wing's tip that beats at 4 Hz", motion: beating(0), unexcused: beating(0.2) },
    { title: "a single pop", motion: point(0.05, 30, 30) },
    { title: "a short accent", motion: point(0.02, 30, 35) },
    { title: "a clean move on twos", motion: poses(0) },
    {
      title: "a shudder of eight drawings on twos",
      motion: poses(0.03, 35),
      unexcused: poses(0.03),
    },
    {
      title: "poses to and fro that are held on step keys for 8 frames",
      motion: held(8),
      unexcused: held(2),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "upper_arm_r",
    frames: [7, 36],
    slip: "through the turn the right arm has a key on every frame, as taken from a capture, with its noise left in",
    edits: [
      (shot) =>
        onEveryFrame(shot, "upper_arm_r", "rotation.x", 8, 36, (value, frame) => {
          const off = 0.8 + 0.5 * Math.sin(1.7 * frame);
          return value + (frame % 2 === 0 ? -off : off);
        }),
    ],
  },
  picture: { draws: "path", node: "point", seen: "front", frames: [16, 46] },
});
