import { defineExamples } from "../../shared/examples/example.ts";
import { keyAt, rekeyed } from "../../shared/examples/keying.ts";
import { bipedDocument, type Curves } from "../../shared/examples/motions.ts";
import { lonePose } from "./check.ts";

/** How a body leans forward and swings its arms, two degrees and a centimetre a frame at the most. */
const course: Readonly<Record<string, readonly [start: number, end: number]>> = {
  "hips translation.z": [0.4, 0.6],
  "spine rotation.x": [20, 40],
  "upper_arm_l rotation.z": [-60, -20],
  "upper_arm_r rotation.z": [60, 20],
};

interface Ends {
  /** Frames on which the body is at rest before it all, and behind it. */
  readonly before?: number;
  readonly behind?: number;
  readonly interpolation?: "linear" | "step";
}

/** The body moves from frame 4 to frame 34, between so many frames of a rest pose. */
const between = ({ before = 0, behind = 0, interpolation = "linear" }: Ends, last = 34) => {
  const curves: Curves = Object.fromEntries(
    Object.entries(course).map(([channel, [start, end]]) => {
      const rest = (frame: number) => [frame, 0, { interpolation }] as [number, number, object];
      const first = before === 0 ? [] : [rest(4 - before), rest(3)];
      const after = behind === 0 ? [] : [rest(last + 1), rest(last + behind)];
      const move: [number, number, object][] = [
        [4, start, {}],
        [last, end, behind === 0 ? {} : { interpolation }],
      ];
      const keys = [...first, ...move, ...after];
      return [channel, keys.filter(([frame], i) => i === 0 || frame > keys[i - 1][0])];
    }),
  ) as Curves;
  return bipedDocument(curves, { range: [4 - before, last + behind] });
};

export const lonePoseExamples = defineExamples(lonePose, {
  faulty: [
    {
      title: "a rest pose in front of a move",
      motion: () => between({ before: 1 }),
      right: () => between({}),
      note: {
        node: "hips",
        frames: [3, 4],
        key: { node: "upper_arm_l", channel: "rotation.z", frame: 3 },
        measured: 1,
      },
    },
    {
      title: "a rest pose that was left in for two frames at the end",
      motion: () => between({ behind: 2 }),
      right: () => between({}),
      note: {
        node: "hips",
        frames: [34, 36],
        key: { node: "spine", channel: "rotation.x", frame: 35 },
        measured: 1,
      },
    },
  ],
  silent: [
    { title: "a shot that begins in the middle of its motion", motion: () => between({}) },
    {
      title: "a rest pose that stands for three frames: a hold",
      motion: () => between({ before: 3 }),
      unexcused: () => between({ before: 2 }),
    },
    {
      title: "a pose that step keys hold and cut from",
      motion: () => between({ before: 1, interpolation: "step" }),
      unexcused: () => between({ before: 1 }),
    },
    {
      title: "a move of less than half a second, which there is nothing to hold the pose against",
      motion: () => between({ before: 1 }, 14),
      unexcused: () => between({ before: 1 }, 34),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hips",
    frames: [1, 2],
    slip: "the first key of the hips still has the mark of another take, half a metre to the side",
    edits: [
      (shot, before) =>
        rekeyed(shot, "hips", "translation.x", [
          { ...keyAt(before, "hips", "translation.x", 1), value: 50, interpolation: "linear" },
          { ...keyAt(before, "hips", "translation.x", 1), frame: 2 },
        ]),
    ],
  },
  picture: { draws: "courses", nodes: ["hand_l", "head"], of: "height" },
});
