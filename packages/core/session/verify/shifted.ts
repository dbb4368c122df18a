import { referenceRate } from "../../base/constants.ts";
import { angleBetween } from "../../base/quaternion.ts";
import { distanceBetween } from "../../base/vector.ts";
import { statureNear } from "../../motion/path/moves.ts";
import { elsewhereShare } from "../../notes/motion-elsewhere.ts";
import { localRotationOf, localTranslationOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { metresPerUnitOf } from "../../rig/stature.ts";
import { gridOf } from "../../time/grid.ts";
import type { Made } from "./law.ts";

/** Checks whose fixes set one part off in time: what is shown is what was keyed, only sooner or later. */
export const ofTiming: readonly string[] = [
  "same-frame",
  "block-move",
  "competing-moves",
  "twinning",
  "no-drag",
  "lone-joint",
  "early-stop",
  "lift-before-push",
  "body-tied-to-steps",
  "hang-time",
  "short-pose",
];
/** Frames (at 24 per second) by which a part is set off at most: more would be another move. */
const mostFrames = 8;
/** Reach at which turns are compared, in body heights: a forearm with its hand. */
const reachShare = 0.25;

/** Whether a point of the world is at every moment where it was a few frames sooner or later. */
export function passesThrough({ study, note, before, after }: Made, node: number): boolean {
  if (!ofTiming.includes(note.check)) return false;
  const { count, rate } = gridOf(study);
  const limit = elsewhereShare * statureNear(study, node);
  const [a, b] = [before.worlds[node].position, after[node].position];
  return isShown(count, mostSamples(rate), -1, -1, (i, k) => distanceBetween(b, i, a, k) <= limit);
}

/** Whether every edited part shows, outside the noted frames, only poses that it showed a few frames sooner or later. */
export function isOnlyShifted({ study, note, changes, before, from, to }: Made): boolean {
  if (!ofTiming.includes(note.check)) return false;
  const { indexOf } = rigOf(study);
  const { count, rate } = gridOf(study);
  const metres = metresPerUnitOf(study);
  for (const id of new Set(changes.map(({ node }) => node))) {
    const node = indexOf.get(id);
    if (node === undefined) continue;
    const limit = elsewhereShare * statureNear(study, node);
    const reach = reachShare * statureNear(study, node);
    const old = before.local(node);
    const [turn, shift] = [localRotationOf(study, node), localTranslationOf(study, node)];
    const isLike = (i: number, k: number) =>
      metres * distanceBetween(shift, i, old.shift, k) <= limit &&
      reach * angleBetween(turn, 4 * i, old.turn, 4 * k) <= limit;
    if (!isShown(count, mostSamples(rate), from, to, isLike)) return false;
  }
  return true;
}

function mostSamples(rate: number): number {
  return Math.round((mostFrames * rate) / referenceRate);
}

/** Whether what is at each sample outside some was there within `most` samples before or after it. */
function isShown(
  count: number,
  most: number,
  from: number,
  to: number,
  isLike: (now: number, then: number) => boolean,
): boolean {
  for (let i = 0; i < count; i++) {
    if (i >= from && i <= to) continue;
    let isKnown = isLike(i, i);
    for (let by = 1; by <= most && !isKnown; by++) {
      isKnown = (i >= by && isLike(i, i - by)) || (i + by < count && isLike(i, i + by));
    }
    if (!isKnown) return false;
  }
  return true;
}
