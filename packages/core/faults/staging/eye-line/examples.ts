import type { CurveDocument, NodeSpec } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { type Curves, documentOf, easedKeys } from "../../shared/examples/motions.ts";
import { type Eye, fromTheFront, stagedDocument } from "../shared/camera-motions.ts";
import { eyeLine } from "./check.ts";

/** Degrees that the chest turns of the way: a head that turns alone is another fault. */
const byChest = 15;
/** A bird on a post, two metres off, before the figure and to its left; the head turns to it by so many degrees by frame 20. */
function looking(
  degrees: number,
  eye: Eye | null = fromTheFront,
  { frames = [10, 60] as [number, number], more = {} as Curves } = {},
): CurveDocument {
  const turning = {
    "chest rotation.y": easedKeys([1, 60], [8, 18], byChest),
    "head rotation.y": easedKeys([1, 60], [8, 18], degrees - byChest),
  };
  const document = stagedDocument({ ...turning, ...more }, eye, {
    more: { gazes: [{ figure: "walker", at: "bird", frames }] },
  });
  document.nodes.push({ id: "bird", translation: [1.4, 1.53, 1.4] });
  return document;
}

/** A fish without limbs that turns its head to a worm before it, which is 45° to its left, by so many degrees by frame 18. */
function fishLooking(degrees: number): CurveDocument {
  const nodes: NodeSpec[] = [
    { id: "tail", translation: [0, 1, -0.3] },
    { id: "trunk", parent: "tail", translation: [0, 0, 0.3] },
    { id: "fish_head", parent: "trunk", translation: [0, 0, 0.2] },
    { id: "worm", translation: [1, 1, 1.2] },
  ];
  const parts = { root: "tail", spine: "trunk", head: "fish_head" };
  return documentOf(
    nodes,
    { "fish_head rotation.y": easedKeys([1, 60], [8, 18], degrees) },
    {
      range: [1, 60],
      more: {
        figures: [{ id: "fish", parts }],
        gazes: [{ figure: "fish", at: "worm", frames: [10, 60] as [number, number] }],
      },
    },
  );
}

/** Frames of poses in step keys, and where the target is in the middle of each, degrees to the figure's left. */
const poseFrames = [1, 13, 25, 37, 49];
/**
 * A bird that goes round a figure at an even 15° in twelve frames, and a head in step keys that looks so many degrees to
 * the left in each pose.
 */
function posed(degrees: readonly number[]): CurveDocument {
  const keys = poseFrames.map((frame, k): [number, number] => [frame, degrees[k]]);
  const document = stagedDocument({ "head rotation.y": { interpolation: "step", keys } }, null, {
    range: [1, 60],
    more: { gazes: [{ figure: "walker", at: "bird", frames: [1, 60] }] },
  });
  document.nodes.push({ id: "post" }, { id: "bird", parent: "post", translation: [0, 1.53, 2] });
  const [first, last] = [1, 60];
  const at = (frame: number) => (15 * (frame - poseFrames[0] - 6)) / 12;
  document.curves.push({
    node: "post",
    channel: "rotation.y",
    keys: [
      [first, at(first)],
      [last, at(last)],
    ],
  });
  return document;
}

export const eyeLineExamples = defineExamples(eyeLine, {
  faulty: [
    {
      title: "a shot without a camera: what a document declares counts there too",
      motion: () => looking(25, null),
      right: () => looking(45, null),
      note: { node: "head", frames: [16, 60], key: { node: "head", channel: "rotation.y" }, measured: 20 },
    },
    {
      title: "a head in step keys that keeps a pose while its target goes on",
      motion: () => posed([0, 15, 15, 15, 60]),
      right: () => posed([0, 15, 30, 45, 60]),
      note: { node: "head", frames: [34, 48], key: { node: "head", channel: "rotation.y" }, measured: 27.5 },
    },
    {
      title: "a fish, whose head is ahead of its trunk, that looks 20° beside what it is said to look at",
      motion: () => fishLooking(25),
      right: () => fishLooking(45),
      note: {
        node: "fish_head",
        frames: [16, 60],
        key: { node: "fish_head", channel: "rotation.y" },
        measured: 20,
      },
    },
    {
      title: "a head that stops 20° short of what it looks at",
      motion: () => looking(25),
      right: () => looking(45),
      note: { node: "head", frames: [16, 60], key: { node: "head", channel: "rotation.y" }, measured: 20 },
    },
    {
      title: "a head that looks over it",
      motion: () =>
        looking(45, fromTheFront, { more: { "head rotation.x": easedKeys([1, 60], [8, 18], -15) } }),
      right: () => looking(45),
      note: {
        node: "head",
        frames: [15, 60],
        key: [
          { node: "head", channel: "rotation.x" },
          { node: "head", channel: "rotation.y" },
        ],
        // 15° about an axis that is 30° beside the one across the way that it looks.
        measured: 12.99,
      },
    },
    {
      title: "a head that never turns to what it is said to look at for half a second",
      motion: () => looking(33, fromTheFront, { frames: [30, 42] }),
      right: () => looking(45, fromTheFront, { frames: [30, 42] }),
      note: { node: "head", frames: [30, 42], key: { node: "head", channel: "rotation.y" }, measured: 12 },
    },
  ],
  silent: [
    {
      title: "a head in step keys, past which its target goes in the middle of each pose",
      motion: () => posed([0, 15, 30, 45, 60]),
      unexcused: () => posed([0, 15, 15, 15, 60]),
    },
    { title: "a fish that looks where it is said to", motion: () => fishLooking(45) },
    { title: "a head that is a few degrees off", motion: () => looking(40) },
    {
      title: "thinking: no gaze is declared",
      motion: () => stagedDocument({ "head rotation.y": easedKeys([1, 60], [8, 18], 60) }),
    },
    {
      title: "a head that is still turning to it",
      motion: () => looking(45, fromTheFront, { frames: [6, 18] }),
    },
    { title: "a head that is out of the picture", motion: () => looking(25, { at: [0, 0.2, 1.5] }) },
  ],
  provocation: {
    shot: "steps_0110_v2",
    node: "head",
    frames: [8, 14],
    slip: "the porter is said to watch the step before his feet, and looks past it",
    replace: [
      `"surfaces": [`,
      `"gazes": [\n    { "figure": "hips", "at": "toe_r", "frames": [1, 60] }\n  ],\n  "surfaces": [`,
    ],
  },
  picture: { draws: "figure", seen: "top", at: [6, 40], marks: ["head"] },
});
