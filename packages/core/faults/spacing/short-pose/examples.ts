import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame, valueIn } from "../../shared/examples/keying.ts";
import {
  bipedDocument,
  type Curves,
  type DocumentOptions,
  eased,
  everyFrame,
  onTwos,
} from "../../shared/examples/motions.ts";
import { shortPose } from "./check.ts";

type Course = (frame: number) => number;

/** From pose to pose of 12 frames each, and so many frames in the one between: 0, then 1, then `back`. */
const twoMoves =
  (held: number, back = 0.3, frames = 12): Course =>
  (frame) =>
    eased(20, 20 + frames, 0, 1)(frame) -
    eased(20 + frames + held, 20 + 2 * frames + held, 0, 1 - back)(frame);

/** An arm that comes up from the side by 80° and goes down again, and a wrist that trails. */
const raised =
  (course: Course, options: DocumentOptions = {}) =>
  () =>
    bipedDocument(
      {
        "upper_arm_l rotation.z": everyFrame(1, 72, (frame) => -70 + 80 * course(frame)),
        "hand_l rotation.z": everyFrame(1, 72, (frame) => 40 * (course(frame - 2) - course(frame))),
      },
      options,
    );

/** A head that turns aside by 60° and back. */
const looking = (course: Course) => () =>
  bipedDocument({
    "head rotation.y": everyFrame(1, 72, (frame) => 45 * course(frame)),
    "neck rotation.y": everyFrame(1, 72, (frame) => 15 * course(frame)),
  });

type StepKeys = readonly (readonly [frame: number, raised: number])[];

/** An arm in poses that step keys hold: 0 at her side, 1 up. */
const posed = (keys: StepKeys) => () =>
  bipedDocument({
    "upper_arm_l rotation.z": {
      interpolation: "step",
      keys: keys.map(([frame, up]) => [frame, -70 + 80 * up]),
    },
  });

/** A body that starts, in poses that step keys hold: both arms, the head, and the hips, which rise. */
const started = (keys: StepKeys) => () => {
  const course = (from: number, by: number): Curves[string] => ({
    interpolation: "step",
    keys: keys.map(([frame, up]) => [frame, from + by * up]),
  });
  return bipedDocument({
    "hips translation.y": course(0.9, 0.05),
    "upper_arm_l rotation.z": course(-70, 80),
    "upper_arm_r rotation.z": course(70, -60),
    "head rotation.x": course(20, -40),
  });
};

/** A chest that turns aside and back, and a head that looks where it looked. */
const turnedUnder = (looks: number) => () =>
  bipedDocument({
    "chest rotation.y": everyFrame(1, 72, (frame) => 60 * twoMoves(0)(frame)),
    "head rotation.y": everyFrame(1, 72, (frame) => -60 * looks * twoMoves(0)(frame)),
  });

/** A pose that stands from frame 28 to frame 40, thrown up later and left at once: the frame that is shown. */
function hurried(frame: number): number {
  const knots = [
    [5, 5],
    [15, 12],
    [26, 30],
    [27, 40],
    [39, 55],
    [58, 58],
  ] as const;
  const n = knots.findIndex(([now]) => now >= frame);
  if (n <= 0) return frame;
  const [[a, wasA], [b, wasB]] = [knots[n - 1], knots[n]];
  return wasA + ((frame - a) * (wasB - wasA)) / (b - a);
}

export const shortPoseExamples = defineExamples(shortPose, {
  faulty: [
    {
      title: "an arm that goes up to a pose and down again at once",
      motion: raised(twoMoves(0)),
      right: raised(twoMoves(6)),
      note: {
        node: "hand_l",
        frames: [31, 34],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        measured: 4,
      },
    },
    {
      title: "a head that looks aside and turns back at once",
      motion: looking(twoMoves(0)),
      right: looking(twoMoves(6)),
      note: {
        node: "head",
        frames: [31, 34],
        key: { node: "head", channel: "rotation.y" },
        measured: 4,
      },
    },
    {
      title: "a pose of blocked work that stands for two frames",
      motion: posed([
        [1, 0],
        [24, 1],
        [26, 0.4],
        [60, 0],
      ]),
      right: posed([
        [1, 0],
        [24, 1],
        [32, 0.4],
        [60, 0],
      ]),
      note: {
        node: "hand_l",
        frames: [24, 25],
        key: { node: "upper_arm_l", channel: "rotation.z", frame: 26 },
        measured: 2,
      },
    },
    {
      title: "a body that starts, for two frames of blocked work: one note, of arms, head and hips",
      motion: started([
        [1, 0],
        [24, 1],
        [26, 0.4],
        [60, 0],
      ]),
      right: started([
        [1, 0],
        [24, 1],
        [32, 0.4],
        [60, 0],
      ]),
      note: {
        node: "hand_l",
        frames: [24, 25],
        key: { node: "upper_arm_l", channel: "rotation.z", frame: 26 },
        measured: 2,
      },
    },
  ],
  silent: [
    {
      title: "a body that starts in blocked work, and stands so for eight frames",
      motion: started([
        [1, 0],
        [24, 1],
        [32, 0.4],
        [60, 0],
      ]),
    },
    { title: "an arm that stands in its pose for eight frames", motion: raised(twoMoves(6)) },
    {
      title: "a pose in a chain of moves",
      motion: raised((frame) => twoMoves(0)(frame) + eased(45, 57, 0, 0.6)(frame)),
      unexcused: raised((frame) => twoMoves(0)(frame) + eased(55, 67, 0, 0.6)(frame)),
    },
    {
      title: "a wind-up",
      motion: raised((frame) => -0.4 * eased(20, 32, 0, 1)(frame) + 1.4 * eased(32, 44, 0, 1)(frame)),
      unexcused: raised((frame) => -0.6 * eased(20, 32, 0, 1)(frame) + 0.9 * eased(32, 44, 0, 1)(frame)),
    },
    {
      title: "a hand that swings up and back to where it was",
      motion: raised((frame) => 0.35 * twoMoves(0, 0.1, 7)(frame)),
      unexcused: raised((frame) => 0.35 * twoMoves(0, 0.3, 7)(frame)),
    },
    {
      title: "a head that looks where it looked while the chest turns under it",
      motion: turnedUnder(1),
      unexcused: turnedUnder(-1),
    },
    {
      title: "a pose of blocked work on the way to the next",
      motion: posed([
        [1, 0],
        [24, 0.5],
        [26, 1],
        [60, 0],
      ]),
      unexcused: posed([
        [1, 0],
        [24, 1],
        [26, 0.4],
        [60, 0],
      ]),
    },
    {
      title: "blocked poses that follow each other",
      motion: posed([
        [1, 0],
        [24, 1],
        [26, 0.4],
        [29, 0.9],
        [60, 0],
      ]),
      unexcused: posed([
        [1, 0],
        [24, 1],
        [26, 0.4],
        [36, 0.9],
        [60, 0],
      ]),
    },
    {
      title: "a move that stands on its way",
      motion: raised((frame) => eased(20, 32, 0, 0.5)(frame) + eased(32, 44, 0, 0.5)(frame)),
      unexcused: raised((frame) => eased(20, 32, 0, 0.9)(frame) - eased(32, 44, 0, 0.5)(frame)),
    },
    {
      title: "what is out and back within half a second",
      motion: raised(twoMoves(0, 0.3, 6)),
      unexcused: raised(twoMoves(0, 0.3, 12)),
    },
    {
      title: "a hand that touches something in its pose",
      motion: raised(twoMoves(0), {
        more: { contacts: [{ node: "hand_l", with: "bell", frames: [31, 33] }] },
      }),
      unexcused: raised(twoMoves(0)),
    },
    {
      title: "an arm on twos",
      motion: () =>
        bipedDocument({ "upper_arm_l rotation.z": onTwos(1, 71, (frame) => -70 + 80 * twoMoves(0)(frame)) }),
      unexcused: raised(twoMoves(0)),
    },
    { title: "a small shift of the hand", motion: raised((frame) => 0.15 * twoMoves(0)(frame)) },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hand_l",
    frames: [18, 40],
    slip: "the left hand is thrown into its pose late, leaves it at once, and rests longer at her side",
    edits: [
      (shot, before) =>
        ["upper_arm_l", "forearm_l", "hand_l"].flatMap((node) =>
          shot.curves
            .filter((curve) => curve.node === node && curve.channel.startsWith("rotation"))
            .flatMap(({ channel }) =>
              onEveryFrame(shot, node, channel, 5, 58, (_, frame) =>
                valueIn(before, node, channel, hurried(frame)),
              ),
            ),
        ),
    ],
  },
  picture: { draws: "courses", nodes: ["hand_l"], of: "height", frames: [10, 60] },
});
