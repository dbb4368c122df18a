import type { Channel } from "../../../document/model.ts";
import { withBall } from "../../props/shared/held-motions.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame, valueIn } from "../../shared/examples/keying.ts";
import {
  ankleHeight,
  bipedDocument,
  type DocumentOptions,
  eased,
  everyFrame,
  halfStance,
  jumpDocument,
  motionDocument,
  onTwos,
  standing,
} from "../../shared/examples/motions.ts";
import { lateReach } from "./check.ts";

type Course = (frame: number) => number;
/** From 0 to 1 between two frames: `power` 1 at an even speed, 2 while speeding up evenly, more when it comes late. */
const hurried =
  (from: number, to: number, power: number): Course =>
  (frame) =>
    Math.min(1, Math.max(0, (frame - from) / (to - from))) ** power;

/** A body that stands and steps to the front with its left foot. */
const step = (way: Course, from: number) => () =>
  motionDocument({
    first: 1,
    last: 48,
    hips: (frame) => [-0.03, 0.88, 0.12 * eased(26, 44, 0, 1)(frame)],
    right: () => standing("right"),
    left: (frame) => {
      const lift = 0.14 * eased(from, from + 4, 0, 1)(frame) * (1 - way(frame));
      return { at: [halfStance, ankleHeight + lift, 0.36 * way(frame)] };
    },
  });

/** An arm that comes up from the side to a bell and stays on it. */
const ring =
  (way: Course, more: DocumentOptions["more"] = bell) =>
  () =>
    bipedDocument(
      { "upper_arm_l rotation.z": everyFrame(1, 48, (frame) => -70 + 80 * way(frame)) },
      { more },
    );
const bell = { contacts: [{ node: "hand_l", with: "bell", frames: [30, 48] as [number, number] }] };

/** An arm that comes up late to a ball, and goes down with it. */
const caught = (flies: boolean) => () =>
  withBall(
    {
      "upper_arm_l rotation.z": everyFrame(
        1,
        48,
        (frame) => -70 + 80 * hurried(14, 30, 4)(frame) - 20 * eased(31, 46, 0, 1)(frame),
      ),
    },
    [30, 48],
    flies,
  );

/** Share of a way that a reach at some power of time has left three of 16 frames before its end. */
const left = (power: number) => 1 - (13 / 16) ** power;

/** Distance, over its length, that an arm has left of so large a share of a swing by 80°. */
const chord = (share: number) => Math.sin((share * 40 * Math.PI) / 180);

/** A step of frames 57 to 68 that is up by frame 60 and waits there until frame 65: the frame that is shown. */
function dawdling(frame: number): number {
  if (frame < 60) return 57 + ((frame - 57) * 4) / 3;
  return frame < 65 ? 61 + 0.3 * (frame - 60) : 62.5 + (5.5 * (frame - 65)) / 3;
}

export const lateReachExamples = defineExamples(lateReach, {
  faulty: [
    {
      title: "a step that waits in the air and is thrown at its place",
      motion: step(hurried(10, 26, 4), 10),
      right: step(eased(10, 26, 0, 1), 10),
      note: {
        node: "foot_l",
        frames: [15, 26],
        key: [
          { node: "thigh_l", channel: "rotation.x" },
          { node: "shin_l", channel: "rotation.x" },
        ],
        measured: left(4) / (1 - (4 / 16) ** 4),
      },
    },
    {
      title: "a hand that comes to a bell in the last frames",
      motion: ring(hurried(14, 30, 4)),
      right: ring(eased(14, 30, 0, 1)),
      note: {
        node: "hand_l",
        frames: [19, 30],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        // Along chords of its arc; it sets out at frame 19.
        measured: chord(left(4)) / chord(1 - (5 / 16) ** 4),
      },
    },
  ],
  silent: [
    { title: "a step that eases into its place", motion: step(eased(10, 26, 0, 1), 10) },
    {
      title: "a step of five frames",
      motion: step(hurried(21, 26, 2.5), 21),
      unexcused: step(hurried(10, 26, 4), 10),
    },
    {
      title: "an arm that swings up and touches nothing",
      motion: ring(hurried(14, 30, 4), {}),
      unexcused: ring(hurried(14, 30, 4)),
    },
    {
      title: "a hand that catches a ball that flies, and gives with it",
      motion: caught(true),
      unexcused: caught(false),
    },
    {
      title: "an arm on twos",
      motion: () => ({
        ...bipedDocument({
          "upper_arm_l rotation.z": onTwos(1, 47, (frame) => -70 + 80 * hurried(14, 30, 4)(frame)),
        }),
        ...bell,
      }),
      unexcused: ring(hurried(14, 30, 4)),
    },
    { title: "feet on which a body comes down from a jump", motion: () => jumpDocument() },
  ],
  provocation: {
    shot: "steps_0110_v2",
    node: "foot_r",
    frames: [52, 66],
    slip: "the breakdowns of the right leg slid toward its landing: the foot waits in the air and is thrown at the tread",
    edits: [
      (shot, before) =>
        ["thigh_r", "shin_r", "foot_r"].flatMap((node) =>
          shot.curves
            .filter((curve) => curve.node === node && curve.channel.startsWith("rotation"))
            .flatMap(({ channel }) =>
              onEveryFrame(shot, node, channel as Channel, 57, 68, (_, frame) =>
                valueIn(before, node, channel as Channel, dawdling(frame)),
              ),
            ),
        ),
    ],
  },
  picture: { draws: "path", node: "hand_l", seen: "front", at: [14, 27, 30] },
});
