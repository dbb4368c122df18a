import { defineExamples } from "../../shared/examples/example.ts";
import {
  bipedDocument,
  chainDocument,
  eased,
  everyFrame,
  jump,
  jumpDocument,
  type Keyed,
  onTwos,
  pathDocument,
  pointDocument,
  standingFor,
  stepping,
} from "../../shared/examples/motions.ts";
import { hitch } from "./check.ts";

/** An arm that swings over by these degrees a frame. */
const swing = (...steps: number[]) => {
  const gone = stepping(12, steps);
  return () => chainDocument(1, { "joint_1 rotation.z": everyFrame(1, 40, (frame) => 150 - gone(frame)) });
};
/** A point that goes these millimetres a frame. */
const going = (...steps: number[]) => {
  const gone = stepping(12, steps);
  return () => pathDocument(1, 48, (frame) => [gone(frame) / 1000, 0, 0]);
};
/** A point that sets out, and has some steps before it is at its pace. */
const settingOut = (...steps: number[]) => going(4, 12, 30, ...steps, 40, 40, 28, 12, 4);
/** A point that goes to a place and on from it, at 5 cm a frame, with keys that hold it there for some frames. */
const heldFor =
  (frames: number, interpolation: "linear" | "step" = "linear", next = 2) =>
  () => {
    const keys: Keyed = [
      [1, 0],
      [21, 1, { interpolation }],
      [21 + frames, 1],
      [41 + frames, next],
    ];
    return pointDocument({ "translation.x": keys });
  };
const turning = (still: number) => () =>
  bipedDocument({
    "head rotation.y": everyFrame(1, 48, (frame) => eased(6, 40, 0, 80)(standingFor(still, 22)(frame))),
  });
const twoJoints = (still: number) => () =>
  chainDocument(2, {
    "joint_1 rotation.y": everyFrame(1, 48, (frame) => 2.5 * standingFor(still, 25)(frame)),
    "joint_2 rotation.z": everyFrame(1, 48, (frame) => 0.2 * frame),
  });
/** A turning body whose arm swings too, and stands for two frames. */
const carried = (still: number) => ({
  "chest rotation.y": everyFrame(1, 60, (frame) => 2 * frame),
  "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => -2 * standingFor(still, 25)(frame)),
});
/** The same, much slower: the hand goes by about 1 cm a frame, the elbow by a third of that. */
const reach = (still: number) => ({
  "chest rotation.y": everyFrame(1, 60, (frame) => 0.3 * frame),
  "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => -1.1 * standingFor(still, 25)(frame)),
});
/** A body that sets out and speeds up by 1.1 cm from frame to frame, whose arm swings forward and stands. */
const speedingUp = (still: number) => ({
  "hips translation.z": everyFrame(1, 60, (frame) => {
    const run = Math.min(Math.max(frame - 18, 0), 16);
    return 0.55 * run * run + 17.6 * Math.max(frame - 34, 0);
  }),
  "upper_arm_l rotation.y": everyFrame(1, 60, (frame) => -1.5 * (standingFor(still, 25)(frame) - 25)),
});
/** An arm that swings and stands for a frame. */
const sweep = (at: number) => ({
  "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => -2 * standingFor(1, at)(frame)),
});

export const hitchExamples = defineExamples(hitch, {
  faulty: [
    {
      title: "an arm's swing whose breakdown comes a frame late, so that it hardly moves for a frame",
      motion: swing(1, 3, 6, 9, 11, 2, 20, 11, 11, 9, 6, 3, 1),
      right: swing(1, 3, 6, 9, 11, 11, 11, 11, 11, 9, 6, 3, 1),
      note: {
        node: "joint_1",
        frames: [18, 18],
        key: { node: "joint_1", channel: "rotation.z", frame: 18 },
        measured: 2,
      },
    },
    {
      title: "a point that keys hold for three frames in the middle of its way",
      motion: heldFor(3),
      right: heldFor(0),
      note: {
        node: "point",
        frames: [22, 24],
        key: [
          { node: "point", channel: "translation.x", frame: 21 },
          { node: "point", channel: "translation.x", frame: 24 },
        ],
        measured: 0,
      },
    },
    {
      title: "a turning head of which one frame is doubled",
      motion: turning(1),
      right: turning(0),
      note: {
        node: "head",
        frames: [23, 23],
        key: { node: "head", channel: "rotation.y" },
        measured: 0,
      },
    },
    {
      title: "a forearm that goes on turning while its upper arm stands for two frames, which is named",
      motion: twoJoints(2),
      right: twoJoints(0),
      note: {
        node: "joint_1",
        frames: [26, 27],
        key: { node: "joint_1", channel: "rotation.y" },
        measured: 0,
      },
    },
    {
      title: "a strong ease, whose steps double from before the hitch to after it",
      motion: going(4, 10, 20, 31, 41, 4, 70, 69, 64, 53, 40, 28, 17, 9, 4, 1),
      right: going(4, 10, 20, 31, 41, 55, 65, 69, 64, 53, 40, 28, 17, 9, 4, 1),
      note: {
        node: "point",
        frames: [18, 18],
        key: { node: "point", channel: "translation.x" },
        measured: 0.004,
      },
    },
    {
      title: "a late breakdown: three frames of almost no travel, and a step that makes up for them",
      motion: going(4, 12, 28, 40, 40, 2, 2, 2, 154, 40, 40, 28, 12, 4),
      right: going(4, 12, 28, 40, 40, 40, 40, 40, 40, 40, 40, 28, 12, 4),
      note: {
        node: "point",
        frames: [18, 20],
        key: { node: "point", channel: "translation.x" },
        measured: 0.002,
      },
    },
    {
      title: "a move that stands for three frames as it sets out, and makes up for them in one step",
      motion: settingOut(0, 0, 0, 160),
      right: settingOut(40, 40, 40, 40),
      note: {
        node: "point",
        frames: [16, 18],
        key: { node: "point", channel: "translation.x" },
        measured: 0,
      },
    },
    {
      title:
        "an early breakdown: a step that runs ahead, and two frames of almost no travel that wait for the move",
      motion: going(4, 12, 28, 40, 40, 116, 2, 2, 40, 40, 40, 28, 12, 4),
      right: going(4, 12, 28, 40, 40, 40, 40, 40, 40, 40, 40, 28, 12, 4),
      note: {
        node: "point",
        frames: [19, 20],
        key: { node: "point", channel: "translation.x" },
        measured: 0.002,
      },
    },
    {
      title: "a move that stands for two frames while it gathers speed, more than doubling from step to step",
      motion: going(11, 28, 0, 0, 40, 43, 36, 21, 10),
      right: going(11, 28, 40, 43, 36, 21, 10),
      note: {
        node: "point",
        frames: [15, 16],
        key: { node: "point", channel: "translation.x" },
        measured: 0,
      },
    },
    {
      title:
        "a move that stands for three frames just after it has set out, three times as far from step to step",
      motion: going(3, 10, 0, 0, 0, 32, 46, 50, 50, 46, 37, 24, 11),
      right: going(3, 10, 20, 32, 42, 48, 50, 50, 46, 37, 24, 11),
      note: {
        node: "point",
        frames: [15, 17],
        key: { node: "point", channel: "translation.x" },
        measured: 0,
      },
    },
    {
      title: "a move that eases into a stop of three frames, and is at full speed again at once",
      motion: going(15, 30, 44, 50, 36, 20, 0, 0, 0, 52, 50, 47, 40, 28, 12, 4),
      right: going(15, 30, 44, 50, 52, 52, 52, 52, 52, 52, 50, 47, 40, 28, 12, 4),
      note: {
        node: "point",
        frames: [19, 21],
        key: { node: "point", channel: "translation.x" },
        measured: 0,
      },
    },
    {
      title: "two frames of no travel just before a move has come to rest, made up for by one step",
      motion: going(8, 20, 34, 44, 50, 0, 0, 120, 10, 4),
      right: going(8, 20, 34, 44, 50, 46, 38, 24, 10, 4),
      note: {
        node: "point",
        frames: [18, 19],
        key: { node: "point", channel: "translation.x" },
        measured: 0,
      },
    },
    {
      title: "a hand whose arm stands for two frames on a turning body, though no joint of it turns fast",
      motion: () => bipedDocument(reach(2)),
      right: () => bipedDocument(reach(0)),
      note: {
        node: "upper_arm_l",
        frames: [26, 27],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        measured: 0,
      },
    },
    {
      title: "an arm that a turning body carries on while it stands against it for three frames",
      motion: () => bipedDocument(carried(3)),
      right: () => bipedDocument(carried(0)),
      note: {
        node: "upper_arm_l",
        frames: [26, 28],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        measured: 0,
      },
    },
    {
      title:
        "an arm that stands for three frames on a body that speeds up, so that the hand gets slower nowhere",
      motion: () => bipedDocument(speedingUp(3)),
      right: () => bipedDocument(speedingUp(0)),
      note: {
        node: "upper_arm_l",
        frames: [26, 28],
        key: { node: "upper_arm_l", channel: "rotation.y" },
        measured: 0,
      },
    },
  ],
  silent: [
    {
      title: "a short move, three frames of rest, and another one that sets out anew",
      motion: settingOut(0, 0, 0, 10),
      unexcused: settingOut(0, 0, 0, 160),
    },
    {
      title: "a carried arm whose hand rests on something",
      motion: () =>
        bipedDocument(carried(2), {
          more: { contacts: [{ node: "hand_l", frames: [10, 50], slides: true }] },
        }),
      unexcused: () => bipedDocument(carried(2)),
    },
    {
      title: "a stop of three frames that the part eases into and out of",
      motion: going(30, 50, 52, 46, 30, 14, 4, 1, 1, 4, 14, 30, 46, 52, 50, 30),
    },
    {
      title: "a stop for good, and a pop two frames behind it",
      motion: () =>
        pathDocument(1, 48, (frame) => [0.05 * Math.min(frame, 24) + (frame === 27 ? 0.06 : 0), 0, 0]),
      unexcused: () =>
        pathDocument(1, 48, (frame) => [0.05 * (Math.min(frame, 24) + Math.max(frame - 26, 0)), 0, 0]),
    },
    {
      title: "a frame next to one that leaves the path and comes back: that is a pop",
      motion: going(40, 40, 40, 8, -60, 132, 40, 40, 40, 40),
    },
    { title: "a hold of four frames, which was meant", motion: heldFor(4), unexcused: heldFor(3) },
    {
      title: "a pose that a step key holds for two frames",
      motion: heldFor(2, "step"),
      unexcused: heldFor(2),
    },
    {
      title: "motion on twos",
      motion: () => pointDocument({ "translation.x": onTwos(1, 47, (frame) => 0.04 * frame) }),
    },
    {
      title: "a turn-round with a frame of rest",
      motion: heldFor(1, "linear", 0),
      unexcused: heldFor(1),
    },
    {
      title: "a swing to and fro",
      motion: () => pathDocument(1, 60, (frame) => [0.4 * Math.sin((Math.PI * frame) / 8), 0, 0]),
    },
    {
      title: "an arm whose hand meets something there",
      motion: () => bipedDocument(sweep(20), { more: { contacts: [{ node: "hand_l", frames: [20, 21] }] } }),
      unexcused: () => bipedDocument(sweep(20)),
    },
    {
      title: "an arm that is stopped for a frame by a landing",
      motion: () => jumpDocument({}, sweep(jump().landing)),
      unexcused: () => bipedDocument(sweep(jump().landing)),
    },
    {
      title: "one eased move that ends where the next one begins",
      motion: going(4, 18, 30, 36, 36, 30, 18, 2, 16, 30, 36, 36, 30, 18, 4),
    },
    {
      title: "steps that lurch anyhow",
      motion: going(20, 42, 25, 20, 22, 50, 5, 48, 20, 24, 20, 44, 22, 18, 20, 8),
    },
    {
      title: "a slow-down in the middle that is eased",
      motion: () =>
        pathDocument(1, 60, (frame) => [0.05 * frame + 0.3 * Math.sin((Math.PI * frame) / 19), 0, 0]),
    },
    {
      title: "slow motion",
      motion: () => pathDocument(1, 60, (frame) => [0.004 * standingFor(1, 20)(frame), 0, 0]),
    },
  ],
  provocation: {
    shot: "jetty_0040_v1",
    node: "body",
    frames: [1104, 1104],
    slip: "in the first version the haul's breakdown is keyed a frame late: it stands still, then makes up for it",
  },
  picture: { draws: "path", node: "tip", seen: "front", frames: [12, 25] },
});
