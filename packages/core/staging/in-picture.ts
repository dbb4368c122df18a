import type { Study } from "../base/study.ts";
import { statureNear } from "../motion/path/moves.ts";
import { rigOf } from "../rig/rig.ts";
import { lensOf } from "./camera.ts";
import { isInPicture, screenOf, seenWidth } from "./screen.ts";
import { visibilityOf } from "./visible.ts";

/** What is about a joint, in body heights: half of a head's height (Drillis and Contini 1966: 0.13; from memory). */
const flesh = 0.065;

/**
 * How large a metre at a node is in the picture where it is largest over some samples, in picture heights. Where the
 * node itself is out of the picture, what hangs below it counts: hips that jerk are seen on the head.
 * @param nodes rig indices; the first one whose own place is in the picture counts
 * @returns 0 where nothing of them is in the picture at any of the samples; null where no camera holds at any of them
 */
export function scaleInPicture(
  study: Study,
  nodes: readonly number[],
  from: number,
  to: number,
): number | null {
  const lens = lensOf(study);
  if (lens === null || !lens.seen.subarray(from, to + 1).includes(1)) return null;
  for (const node of nodes) {
    const scale = largestScale(study, node, from, to);
    if (scale > 0) return scale;
  }
  const { subtreeSize } = rigOf(study);
  let largest = 0;
  for (const node of nodes) {
    for (let below = node + 1; below < node + subtreeSize[node]; below++)
      largest = Math.max(largest, largestScale(study, below, from, to));
  }
  return largest;
}

/** Picture heights a metre at a node, the largest of the samples at which it is in the picture; 0 where it is at none. */
function largestScale(study: Study, node: number, from: number, to: number): number {
  const lens = lensOf(study);
  const seen = screenOf(study, node);
  if (lens === null || seen === null) return 0;
  const radius = flesh * statureNear(study, node);
  const visible = visibilityOf(study, node);
  let largest = 0;
  for (let i = from; i <= to; i++) {
    const at = seenWidth * i;
    if (!(seen[at + 3] > largest) || (visible !== null && visible[i] === 0)) continue;
    if (isInPicture(lens, i, seen, at, radius)) largest = seen[at + 3];
  }
  return largest;
}
