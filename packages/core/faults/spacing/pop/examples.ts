import { defineExamples } from "../../shared/examples/example.ts";
import {
  bipedDocument,
  chainDocument,
  jump,
  jumpDocument,
  type Keyed,
  pathDocument,
  pointDocument,
} from "../../shared/examples/motions.ts";
import { pop } from "./check.ts";
import {
  arm,
  beside,
  blink,
  blocked,
  carried,
  hand,
  nod,
  nodding,
  nodThenTurn,
  offFor,
  posedArm,
  poses,
  restThenBeats,
  shaking,
  still,
  straight,
  swaying,
  tail,
} from "./motions.ts";

export const popExamples = defineExamples(pop, {
  faulty: [
    {
      title: "a point that is 3 cm off its path for a frame",
      motion: straight(offFor(1, 0.03)),
      right: straight(() => 0),
      note: {
        node: "point",
        frames: [20, 20],
        key: { node: "point", channel: "translation.y" },
        measured: 0.03,
      },
    },
    {
      title: "a point that is 3 cm off its path for two frames",
      motion: straight(offFor(2, 0.03)),
      right: straight(() => 0),
      note: {
        node: "point",
        frames: [20, 21],
        key: { node: "point", channel: "translation.y" },
        measured: 0.03,
      },
    },
    {
      title: "one key of a sparse curve that stands 4 cm off",
      motion: () =>
        pointDocument({ "translation.x": [...still.slice(0, 2), [24, 0.04], ...still.slice(2)] as Keyed }),
      right: () => pointDocument({ "translation.x": still }),
      note: {
        node: "point",
        frames: [24, 24],
        key: { node: "point", channel: "translation.x", frame: 24 },
        measured: 0.04,
      },
    },
    {
      title: "an arm whose hand pops because of its shoulder, which is named",
      motion: arm(8),
      right: arm(0),
      note: {
        node: "joint_1",
        frames: [26, 26],
        key: { node: "joint_1", channel: "rotation.z", frame: 26 },
        measured: 8,
      },
    },
    {
      title: "a pose that pops among poses on twos",
      motion: poses(0.15),
      right: poses(0),
      note: {
        node: "point",
        frames: [25, 25],
        key: { node: "point", channel: "translation.x" },
        measured: 0.15,
      },
    },
    {
      title: "a joint that pops as what carries it leaps to another speed",
      motion: carried(10),
      right: carried(0),
      note: {
        node: "joint_2",
        frames: [26, 26],
        key: { node: "joint_2", channel: "rotation.y", frame: 26 },
        measured: 10,
      },
    },
    {
      title: "a joint that pops on a frame on which a step key gives it another pose",
      motion: beside(10),
      right: beside(0),
      note: {
        node: "joint_1",
        frames: [26, 26],
        key: { node: "joint_1", channel: "rotation.z", frame: 26 },
        measured: 10,
      },
    },
    {
      title: "a tail that twitches on what carries it, and does not swing on",
      motion: tail(0.04, 0),
      right: () => chainDocument(2, {}),
      note: {
        node: "tail_1",
        frames: [27, 27],
        key: { node: "tail_1", channel: "rotation.x", frame: 27 },
        measured: 5,
      },
    },
    {
      title: "a calm hand that is twisted by less than the floor of angles: what it holds leaves its place",
      motion: hand(3),
      right: hand(0),
      note: {
        node: "joint_3",
        frames: [26, 26],
        key: { node: "joint_3", channel: "rotation.y", frame: 26 },
        measured: 3,
      },
    },
    {
      title: "an arm that twitches at rest, however quickly it beats later on",
      motion: restThenBeats(3, 9),
      right: restThenBeats(0, 9),
      note: {
        node: "joint_1",
        frames: [9, 9],
        key: { node: "joint_1", channel: "rotation.z", frame: 9 },
        measured: 3,
      },
    },
    {
      title: "a head that one key makes nod within six frames",
      motion: nodding("head", 40),
      right: nodding("head"),
      note: {
        node: "head",
        frames: [38, 42],
        key: { node: "head", channel: "rotation.x", frame: 40 },
        measured: 12,
      },
    },
    {
      title: "a head that one key moves out and back, half a second before it turns away",
      motion: nodThenTurn(6),
      right: nodThenTurn(0),
      note: { node: "head", frames: [38, 42], key: { node: "head", channel: "rotation.x" }, measured: 6 },
    },
    {
      title: "an arm in blocked work that shows an older pose for a frame, and stands again",
      motion: blocked(1),
      right: blocked(0),
      note: {
        node: "upper_arm_l",
        frames: [31, 31],
        key: { node: "upper_arm_l", channel: "rotation.z", frame: 31 },
        measured: 80,
      },
    },
    {
      title: "a body that one key moves aside and back within six frames",
      motion: swaying(40),
      right: swaying(),
      note: {
        node: "hips",
        frames: [38, 42],
        key: { node: "hips", channel: "translation.x", frame: 40 },
        measured: 0.05,
      },
    },
    {
      title: "an arm that a key of one curve moves aside, between two poses that are keyed in all three",
      motion: posedArm(12),
      right: posedArm(0),
      note: {
        node: "upper_arm_l",
        frames: [38, 42],
        key: { node: "upper_arm_l", channel: "rotation.x", frame: 40 },
        measured: 11.5,
      },
    },
    {
      title: "a head that is held off its way for two frames as the body lands",
      motion: () => jumpDocument({}, nod(2)),
      right: () => jumpDocument(),
      note: {
        node: "head",
        frames: [jump().landing, jump().landing + 1],
        key: { node: "head", channel: "rotation.x" },
        measured: 10,
      },
    },
  ],
  silent: [
    {
      title: "an arm that is posed aside for as long: its other curves have keys there too",
      motion: posedArm(12, true),
      unexcused: posedArm(12),
    },
    {
      title: "an arm whose elbow bends meanwhile: a move of both",
      motion: posedArm(12, false, 15),
      unexcused: posedArm(12),
    },
    {
      title: "a twitch that is lost in the beats of an arm",
      motion: restThenBeats(3, 61),
      unexcused: restThenBeats(3, 9),
    },
    {
      title: "a body that sways to the same side twice within a second",
      motion: swaying(40, 50),
      unexcused: swaying(40),
    },
    {
      title: "a body that shakes from side to side, a key for each swing",
      motion: shaking(5),
      unexcused: shaking(1),
    },
    {
      title: "a hand that one key moves out and back",
      motion: nodding("hand_l", 40),
      unexcused: nodding("head", 40),
    },
    {
      title: "a head that nods twice within a second",
      motion: nodding("head", 40, 50),
      unexcused: nodding("head", 40),
    },
    {
      title: "a spiral",
      motion: () => pathDocument(1, 48, (frame) => [Math.cos(frame / 8), Math.sin(frame / 8), 0.02 * frame]),
    },
    {
      title: "a stop within a frame",
      motion: () => pathDocument(1, 48, (frame) => [0.05 * Math.min(frame, 24), 0, 0]),
    },
    {
      title: "a start within a frame",
      motion: () => pathDocument(1, 48, (frame) => [0.05 * Math.min(49 - frame, 24), 0, 0]),
    },
    {
      title: "a bounce",
      motion: () => pathDocument(1, 48, (frame) => [0.03 * frame, Math.abs(1.2 - 0.05 * frame), 0]),
    },
    {
      title: "a pose of six frames between two that are alike, in blocked work",
      motion: blocked(6),
      unexcused: blocked(1),
    },
    { title: "poses on twos", motion: poses(0) },
    {
      title: "two poses on twos beside the way of the others: four frames are a step aside, and no flicker",
      motion: poses(0.15, 27),
      unexcused: poses(0.15),
    },
    { title: "a blink that step keys switch on and off", motion: blink("step"), unexcused: blink("linear") },
    { title: "a tail that is flung by what carries it", motion: tail(0.04, 1.3), unexcused: tail(0, 1.3) },
    {
      title: "a nod for a frame that a landing makes",
      motion: () => jumpDocument({}, nod(1)),
      unexcused: () => bipedDocument(nod(1)),
    },
  ],
  provocation: {
    shot: "quay_0070_v1",
    node: "hand_r",
    frames: [33, 33],
    slip: "in the first version the right hand has a key of another pose, for one frame of the turn",
  },
  picture: { draws: "path", node: "point", seen: "front", frames: [14, 26] },
});
