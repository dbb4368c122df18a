import type { Note } from "@keyside/core";
import { dot, range, type Vec } from "./geometry.ts";
import type { Sampled } from "./sampled.ts";

/**
 * Height of the lowest point of a sole over its surface at each sample of a note, as the note's evidence tells it. That
 * holds against the poses: the sole is a fixed way under each joint of the foot, and no thicker than a foot is.
 * @throws Error where it does not, or where the evidence is not of the note's frames
 */
export function soleHeights(note: Note, shot: Sampled): readonly number[] {
  const [evidence] = note.evidence;
  const [from, to] = shot.spanOf(note);
  if (shot.sample(evidence.firstFrame) !== from || evidence.values.length !== to - from + 1)
    throw new Error("evidence of other frames");
  const foot = shot.nodeOf(note);
  const joints = range(foot, foot + shot.rig.subtreeSize[foot] - 1);
  const surfaces = shot.contacts(shot.figureOf(foot)).map(({ surface }) => surface);
  const normals: readonly Vec[] = [[0, 1, 0], ...surfaces.map(({ normal }) => normal)];
  const isFound = normals.some((normal) => {
    const over = joints.map((joint) => range(from, to).map((i) => dot(normal, shot.at(joint, i))));
    const under = over.map((heights) => Math.min(...heights.map((height, k) => height - evidence.values[k])));
    return evidence.values.every((value, k) => {
      const lowest = Math.min(...over.map((heights, joint) => heights[k] - under[joint]));
      return Math.abs(lowest - value) < 1e-6;
    });
  });
  if (!isFound) throw new Error("evidence that the poses do not bear out");
  return evidence.values;
}
