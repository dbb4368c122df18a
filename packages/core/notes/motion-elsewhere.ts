import { referenceRate } from "../base/constants.ts";
import type { Study } from "../base/study.ts";
import { distanceBetween } from "../base/vector.ts";
import { statureNear } from "../motion/path/moves.ts";
import { worldOf } from "../rig/pose.ts";
import { rigOf } from "../rig/rig.ts";
import { gridOf, sampleAt } from "../time/grid.ts";
import type { TimeMap } from "./compare-times.ts";
import { nodeNameOf } from "./wording.ts";

/** A part that moves by less than this outside of some frames stays, in body heights: 8 mm of a grown person. */
export const elsewhereShare = 0.005;
/** Frames (at 24 per second) on each side of a note over which what mends it may lead in and out: a quarter of a second. */
export const leadFrames = 6;
/** A frame of one version is one of the other where they meet within this part of a step. */
const sameMoment = 0.01;

/** The part that moved farthest where nothing was noted. */
export interface MotionElsewhere {
  readonly node: string;
  /** Its name for people. */
  readonly part: string;
  /** Frame of the newer version. */
  readonly frame: number;
  readonly metres: number;
}

/**
 * How far the motion of two versions of a shot comes apart outside some frames, of nodes that both have.
 * @param times which frames of the versions belong together; frames between samples of the newer one are left out
 * @param spans frames of the older version within which motion was to change, both ends included
 * @returns the part that moved farthest for its figure; null where none moved by 0.5 % of the stature
 */
export function motionElsewhere(
  before: Study,
  after: Study,
  times: TimeMap,
  spans: readonly (readonly [number, number])[],
): MotionElsewhere | null {
  const [older, newer] = [gridOf(before), gridOf(after)];
  const lead = (leadFrames / referenceRate) * older.rate * older.step;
  const sampleOf = new Int32Array(older.count).fill(-1);
  for (let i = 0; i < older.count; i++) {
    const frame = older.frames[i];
    if (spans.some(([from, to]) => frame >= from - lead && frame <= to + lead)) continue;
    const there = times.toAfter(frame);
    const sample = sampleAt(newer, there);
    if (Math.abs(newer.frames[sample] - there) <= sameMoment * newer.step) sampleOf[i] = sample;
  }
  const { ids } = rigOf(before);
  const { indexOf } = rigOf(after);
  let [worst, found]: [number, MotionElsewhere | null] = [1, null];
  ids.forEach((id, node) => {
    const other = indexOf.get(id);
    if (other === undefined) return;
    const [a, b] = [worldOf(before, node).position, worldOf(after, other).position];
    const limit = elsewhereShare * statureNear(before, node);
    for (let i = 0; i < older.count; i++) {
      if (sampleOf[i] < 0) continue;
      const metres = distanceBetween(a, i, b, sampleOf[i]);
      if (metres / limit <= worst) continue;
      worst = metres / limit;
      found = { node: id, part: nodeNameOf(before, node), frame: newer.frames[sampleOf[i]], metres };
    }
  });
  return found;
}
