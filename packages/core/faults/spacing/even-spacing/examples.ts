import { defineExamples } from "../../shared/examples/example.ts";
import { rekeyed } from "../../shared/examples/keying.ts";
import {
  bipedDocument,
  chainDocument,
  eased,
  everyFrame,
  type Keyed,
  pathDocument,
  pointDocument,
  riddenDocument,
  smooth,
  stepping,
  straight,
  type Vector,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { evenSpacing } from "./check.ts";

const swing = (keyed: Keyed) => () => chainDocument(1, { "joint_1 rotation.z": keyed });
const head = (keyed: Keyed) => () => bipedDocument({ "head rotation.y": keyed });
const point = (keyed: Keyed) => () => pointDocument({ "translation.y": keyed });
/** Sixteen steps that are 5 % longer and shorter by turns. */
const ruled = stepping(
  10,
  Array.from({ length: 16 }, (_, i) => (i % 2 === 0 ? 0.0525 : 0.0475)),
);
/** Thrown at 9 m/s and caught after half a second: the sum of an even way and a fall. */
const ball =
  (gravity: number) =>
  (frame: number): Vector => {
    const t = Math.min(12, Math.max(0, frame - 10)) / 24;
    return [9 * t, 1.5 + (gravity / 4) * t - (gravity / 2) * t * t, 0];
  };
const oneEase: Keyed = {
  interpolation: "bezier",
  keys: [
    [1, 0, { interpolation: "linear" }],
    [10, 0, { out: [10, 0] }],
    [40, 1, { in: [-6, -0.4], interpolation: "linear" }],
    [60, 1],
  ],
};

/** An even way, one frame of rest, and an eased way back. */
const paused: Keyed = {
  interpolation: "bezier",
  keys: [
    [1, 0, { interpolation: "linear" }],
    [10, 0, { interpolation: "linear" }],
    [22, 132, { interpolation: "linear" }],
    [23, 132, { out: [6, 0] }],
    [41, 0, { in: [-6, 0], interpolation: "linear" }],
    [60, 0],
  ],
};
/** To and fro about an arc without a rest. */
const swaying = everyFrame(1, 60, (frame) => 40 * Math.sin((2 * Math.PI * frame) / 20));

const ridden = (own: Keyed) => () => riddenDocument(own);

export const evenSpacingExamples = defineExamples(evenSpacing, {
  faulty: [
    {
      title: "an arm that swings from rest to rest on a straight line of the graph",
      motion: swing(straight(10, 22, 132)),
      right: swing(smooth(10, 22, 0, 132)),
      note: {
        node: "joint_1",
        frames: [10, 22],
        key: [
          { node: "joint_1", channel: "rotation.z", frame: 10 },
          { node: "joint_1", channel: "rotation.z", frame: 22 },
        ],
        measured: 0,
      },
    },
    {
      title: "an arm that swings evenly on a body that turns all the time",
      motion: ridden(straight(12, 24, 120)),
      right: ridden(smooth(12, 24, 0, 120)),
      note: {
        node: "joint_2",
        frames: [12, 24],
        key: [
          { node: "joint_2", channel: "rotation.z", frame: 12 },
          { node: "joint_2", channel: "rotation.z", frame: 24 },
        ],
        measured: 0,
      },
    },
    {
      title: "a head that turns evenly",
      motion: head(straight(12, 28, 64)),
      right: head(smooth(12, 28, 0, 64)),
      note: {
        node: "head",
        frames: [12, 28],
        key: [
          { node: "head", channel: "rotation.y", frame: 12 },
          { node: "head", channel: "rotation.y", frame: 28 },
        ],
        measured: 0,
      },
    },
    {
      title: "a point keyed on every frame, even to a twentieth",
      motion: () => pathDocument(1, 48, (frame) => [ruled(frame), 0, 0]),
      right: () => pathDocument(1, 48, (frame) => [eased(10, 26, 0, 0.8)(frame), 0, 0]),
      note: {
        node: "point",
        frames: [10, 26],
        key: { node: "point", channel: "translation.x" },
        // Half of the steps are a twentieth more than their mean, half of them a twentieth less.
        measured: 0.05,
      },
    },
    {
      title: "an arm that swings on a straight line of the graph and eases back after a frame of rest",
      motion: swing(paused),
      right: swing(smooth(10, 22, 0, 132)),
      note: {
        node: "joint_1",
        frames: [10, 22],
        key: [
          { node: "joint_1", channel: "rotation.z", frame: 10 },
          { node: "joint_1", channel: "rotation.z", frame: 22 },
        ],
        measured: 0,
      },
    },
  ],
  silent: [
    { title: "an arm that sways to and fro", motion: swing(swaying) },
    {
      title: "an eased move on every frame",
      motion: () => pathDocument(1, 60, (frame) => [eased(10, 34, 0, 1.2)(frame), 0, 0]),
    },
    { title: "a move that eases on one side", motion: point(oneEase) },
    {
      title: "a move of four frames",
      motion: point(straight(10, 14, 0.3)),
      unexcused: point(straight(10, 16, 0.3)),
    },
    {
      title: "a ball in flight",
      motion: () => pathDocument(1, 60, ball(9.80665)),
      unexcused: () => pathDocument(1, 60, ball(0.5 * 9.80665)),
    },
    {
      title: "a wheel that turns twice",
      motion: () => bipedDocument({ "hand_l rotation.x": straight(10, 40, 720) }),
      unexcused: () => bipedDocument({ "hand_l rotation.x": straight(10, 40, 350) }),
    },
    {
      title: "a constant drive",
      motion: point([
        [1, 0],
        [60, 3],
      ]),
    },
    { title: "a walk", motion: () => walkDocument() },
  ],
  provocation: {
    shot: "jetty_0040_v2",
    node: "rope",
    frames: [1020, 1032],
    slip: "the rope's eye is pushed onto the post before the heron comes, between two keys with a straight line",
    edits: [
      (shot) =>
        rekeyed(shot, "rope", "translation.z", [
          { frame: 1001, value: 76 },
          { frame: 1020, value: 76, interpolation: "linear" },
          { frame: 1032, value: 60 },
          { frame: 1096, value: 60 },
        ]),
    ],
  },
  picture: { draws: "path", node: "tip", seen: "front", frames: [9, 23] },
});
