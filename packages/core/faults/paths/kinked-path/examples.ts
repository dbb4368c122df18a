import { inDegrees, inRadians } from "../../../base/constants.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { rekeyed, valueIn } from "../../shared/examples/keying.ts";
import {
  bipedDocument,
  chainDocument,
  type DocumentOptions,
  eased,
  everyFrame,
  jumpDocument,
  pathDocument,
  pointDocument,
  type Vector,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { kinkedPath } from "./check.ts";

/** A point that rises and sinks again on its way, from key to key. */
const peak = (interpolation: "linear" | "smooth") => () =>
  pointDocument({
    "translation.x": [
      [1, 0],
      [48, 2],
    ],
    "translation.y": {
      interpolation,
      keys: [
        [1, 0],
        [24, 1.2],
        [48, -0.3],
      ],
    },
  });
/** A path that goes on as far each frame, in metres, and turns by an angle at frame 30. */
const corner =
  (degrees: number, step = 0.05) =>
  (frame: number): Vector => {
    const [before, after] = [step * Math.min(frame, 30), step * Math.max(0, frame - 30)];
    return [before + after * Math.cos(inRadians(degrees)), after * Math.sin(inRadians(degrees)), 0];
  };
/** A level path that goes on as far each frame and bends by −25°, but turns by an angle at frame 30. */
const againstBend = (degrees: number) => {
  const points: Vector[] = [[0, 0, 0]];
  let angle = 0;
  for (let frame = 1; frame < 60; frame++) {
    angle += inRadians(frame === 30 ? degrees : -25);
    const [x, , z] = points[frame - 1];
    points.push([x + 0.05 * Math.cos(angle), 0, z + 0.05 * Math.sin(angle)]);
  }
  return (frame: number): Vector => points[frame - 1];
};
const around = (path: (frame: number) => Vector) => () => pathDocument(1, 60, path);

/** How much of a metre is gone; its way bends by 2.5 radians. */
const gone = eased(18, 38, 0, 1);
const bending = (frame: number) => 2.5 * gone(frame);
/** A metre on a bend of 0.4 m radius, which turns by further degrees at some frames. */
const bend = (corners: Readonly<Record<number, number>>) => {
  const points: Vector[] = [[0, 0, 0]];
  let more = 0;
  for (let frame = 1; frame < 60; frame++) {
    const step = gone(frame + 1) - gone(frame);
    more += inRadians(corners[frame] ?? 0);
    const angle = bending(frame) + more;
    const [x, y] = points[frame - 1];
    points.push([x + step * Math.cos(angle), y + step * Math.sin(angle), 0]);
  }
  return around((frame) => points[frame - 1]);
};
/** A body that glides on, with an arm whose turn goes over into another one at once, or within some frames. */
const gliding = (frames: number, options: DocumentOptions = {}) => {
  // How far the other turn has come, in frames at full speed.
  const other = (frame: number) => {
    const since = frame - 30 + frames / 2;
    return since > frames || frames === 0 ? Math.max(frame - 30, 0) : Math.max(since, 0) ** 2 / (2 * frames);
  };
  return bipedDocument(
    {
      "hips translation.z": everyFrame(1, 60, (frame) => 0.1 * frame),
      "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => 3 * (frame - other(frame)) - 60),
      "upper_arm_l rotation.y": everyFrame(1, 60, (frame) => -3 * other(frame)),
    },
    options,
  );
};
/** A joint swings to and back at even speeds, degrees a frame. */
const [there, back] = [80 / 23, 90 / 24];
const turnsBack = (interpolation: "linear" | "smooth") => () =>
  chainDocument(2, {
    "joint_1 rotation.y": {
      interpolation,
      keys: [
        [1, 0],
        [24, 80],
        [48, -10],
      ],
    },
  });
const strike = (options: DocumentOptions = {}) =>
  bipedDocument(
    { "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => 3 * Math.abs(frame - 30) - 90) },
    options,
  );
const bounce = (up: 1 | -1) => around((frame) => [0.04 * frame, up * Math.abs(1.5 - 0.05 * frame), 0]);

export const kinkedPathExamples = defineExamples(kinkedPath, {
  faulty: [
    {
      title: "a point that turns from rising to sinking within a frame",
      motion: peak("linear"),
      right: peak("smooth"),
      note: {
        node: "point",
        frames: [24, 24],
        key: { node: "point", channel: "translation.y", frame: 24 },
        measured: inDegrees(Math.atan2(1.2 / 23, 2 / 47) + Math.atan2(1.5 / 24, 2 / 47)),
      },
    },
    {
      title: "a corner of 90° at an even speed",
      motion: around(corner(90)),
      right: around(corner(0)),
      note: {
        node: "point",
        frames: [30, 30],
        key: [
          { node: "point", channel: "translation.x" },
          { node: "point", channel: "translation.y" },
        ],
        measured: 90,
      },
    },
    {
      title: "a corner against the bend of the path",
      motion: around(againstBend(90)),
      right: around(againstBend(-25)),
      note: {
        node: "point",
        frames: [30, 30],
        key: [
          { node: "point", channel: "translation.z" },
          { node: "point", channel: "translation.x" },
        ],
        measured: 90,
      },
    },
    {
      title: "a joint that turns back at speed",
      motion: turnsBack("linear"),
      right: turnsBack("smooth"),
      // The chord of each step is off the arc's tangent by half the step's turn, both to the same side.
      note: {
        node: "joint_1",
        frames: [24, 24],
        key: { node: "joint_1", channel: "rotation.y", frame: 24 },
        measured: 180 - (back - there) / 2,
      },
    },
    {
      title: "a corner of 60° in the middle of an eased bend",
      motion: bend({ 28: 60 }),
      right: bend({}),
      note: {
        node: "point",
        frames: [28, 28],
        key: [
          { node: "point", channel: "translation.x" },
          { node: "point", channel: "translation.y" },
        ],
        measured: 60 + inDegrees(bending(28) - bending(27)),
      },
    },
    {
      title: "an arm that goes over into another turn at once on a body that glides on",
      motion: () => gliding(0),
      right: () => gliding(10),
      note: {
        node: "hand_l",
        frames: [30, 30],
        key: [
          { node: "upper_arm_l", channel: "rotation.y", frame: 30 },
          { node: "upper_arm_l", channel: "rotation.z", frame: 30 },
        ],
        measured: 90,
      },
    },
  ],
  silent: [
    { title: "an arm that goes over into another turn within ten frames", motion: () => gliding(10) },
    {
      title: "an arm whose hand is on something goes over into another turn",
      motion: () => gliding(0, { more: { contacts: [{ node: "hand_l", frames: [10, 50], slides: true }] } }),
      unexcused: () => gliding(0),
    },
    {
      title: "a circle",
      motion: around((frame) => [0.3 * Math.cos(frame / 3), 0.3 * Math.sin(frame / 3), 0]),
    },
    { title: "a bend that eases", motion: bend({}) },
    { title: "a turn that three frames share", motion: bend({ 27: 20, 28: 65, 29: 20 }) },
    { title: "a corner of 50°", motion: around(corner(50)) },
    { title: "a corner of a slow path", motion: around(corner(90, 0.008)) },
    { title: "a walk", motion: () => walkDocument() },
    { title: "a jump, whose landing the whole body feels", motion: () => jumpDocument() },
    {
      title: "a hand that strikes a drum",
      motion: () => strike({ more: { contacts: [{ node: "hand_l", with: "drum", frames: [30, 31] }] } }),
      unexcused: () => strike(),
    },
    { title: "a ball that bounces", motion: bounce(1), unexcused: bounce(-1) },
    {
      title: "a turn-round that slows down",
      motion: around((frame) => [eased(8, 24, 0, 1)(frame) - eased(28, 44, 0, 1)(frame), 0, 0]),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "upper_arm_r",
    frames: [116, 116],
    slip: "the right arm's lift ends on the frame on which its swing forward begins, both at speed",
    edits: [
      (shot) => {
        const swing = valueIn(shot, "upper_arm_r", "rotation.x", 108);
        const lift = valueIn(shot, "upper_arm_r", "rotation.z", 108);
        return [
          ...rekeyed(shot, "upper_arm_r", "rotation.z", [
            { frame: 108, value: lift },
            { frame: 110, value: lift - 4, slope: -5, interpolation: "linear" },
            { frame: 116, value: lift - 40, slope: -6, leaves: 0 },
            { frame: 136, value: lift - 40 },
          ]),
          ...rekeyed(shot, "upper_arm_r", "rotation.x", [
            { frame: 108, value: swing },
            { frame: 116, value: swing, interpolation: "linear" },
            { frame: 121, value: swing - 34, slope: -7 },
            { frame: 127, value: swing - 50 },
            { frame: 136, value: swing - 50 },
          ]),
        ];
      },
    ],
  },
  picture: { draws: "path", node: "point", seen: "front", frames: [12, 36], at: [12, 24, 36] },
});
