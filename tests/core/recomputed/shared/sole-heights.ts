import type { Note } from "@keyside/core";
import { dot, range, type Vec } from "./geometry.ts";
import type { Sampled } from "./sampled.ts";

/**
 * Height of the lowest point of a sole over its surface at each sample of a note, as the note's evidence tells it. That
 * holds against the poses: the sole is a fixed way under each joint of the foot, and no thicker than a foot is.
 * @throws Error where it does not, or where the evidence is not of the note's frames
 */
export function soleHeights(note: Note, shot: Sampled): readonly number[] {
  soleUnder(note, shot);
  return note.evidence[0].values;
}

/** The same heights with the sole of one shot under the poses of another one. */
export function soleHeightsOver(note: Note, shot: Sampled, posed: Sampled): readonly number[] {
  const { normal, joints, under } = soleUnder(note, shot);
  const [from, to] = shot.spanOf(note);
  return range(from, to).map((i) =>
    Math.min(...joints.map((joint, k) => dot(normal, posed.at(joint, i)) - under[k])),
  );
}

/** What lies between the joints of the foot and the surface. */
interface Sole {
  readonly normal: Vec;
  readonly joints: readonly number[];
  readonly under: readonly number[];
}

function soleUnder(note: Note, shot: Sampled): Sole {
  const [evidence] = note.evidence;
  const [from, to] = shot.spanOf(note);
  if (shot.sample(evidence.firstFrame) !== from || evidence.values.length !== to - from + 1)
    throw new Error("evidence of other frames");
  const foot = shot.nodeOf(note);
  const joints = range(foot, foot + shot.rig.subtreeSize[foot] - 1);
  const surfaces = shot.contacts(shot.figureOf(foot)).map(({ surface }) => surface);
  const normals: readonly Vec[] = [[0, 1, 0], ...surfaces.map(({ normal }) => normal)];
  for (const normal of normals) {
    const over = joints.map((joint) => range(from, to).map((i) => dot(normal, shot.at(joint, i))));
    const under = over.map((heights) => Math.min(...heights.map((height, k) => height - evidence.values[k])));
    const isFound = evidence.values.every((value, k) => {
      const lowest = Math.min(...over.map((heights, joint) => heights[k] - under[joint]));
      return Math.abs(lowest - value) < 1e-6;
    });
    if (isFound) return { normal, joints, under };
  }
  throw new Error("evidence that the poses do not bear out");
}
