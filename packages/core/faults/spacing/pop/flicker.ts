import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { framesAt, longestPose } from "../../../motion/path/held.ts";
import { offPath, type Spike } from "../../../motion/path/spike.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";

/**
 * A flicker in blocked work: a pose that is held is broken by another one for a frame or two, and stands there again.
 * Whatever the poses around do, what has weight does not go anywhere and back while it stands.
 */
export interface Flicker extends Spike {
  readonly isFlicker: true;
}

/** Parts that weigh nothing, or next to it: a mouth or a prop is switched on purpose. */
const switchedParts: readonly BodyPart[] = ["jaw", "prop", "ears", "hair"];
/** A pose of so many frames (at 24 per second) is no pose but a flicker. */
const longestFlicker = 2;
/** The poses on either side are at most this share of a flicker apart (our choice). */
const mostApart = 0.5;

/** Indices of the shown poses of a part with weight that stand for a frame or two between two holds. */
export function briefPosesOf(study: Study, node: number, shown: Int32Array): readonly number[] {
  const figure = figureOfNode(study, node);
  const part = figure < 0 ? undefined : figuresOf(study)[figure].partOf.get(node);
  if (part === undefined || switchedParts.includes(part)) return none;
  const { rate, count } = gridOf(study);
  const [brief, pose] = [Math.min(2, framesAt(rate, longestFlicker)), framesAt(rate, longestPose)];
  const found: number[] = [];
  for (let k = 1; k + 1 < shown.length; k++) {
    const behind = (k + 2 < shown.length ? shown[k + 2] : count) - shown[k + 1];
    if (shown[k + 1] - shown[k] <= brief && shown[k] - shown[k - 1] > pose && behind > pose) found.push(k);
  }
  return found;
}

/**
 * Which of some brief poses are flickers.
 * @param path 3 numbers per sample of the grid
 * @param floor smallest deviation that counts, in the path's unit
 * @returns spikes of the whole path, with grid indices
 */
export function flickersIn(
  path: Float64Array,
  shown: Int32Array,
  brief: readonly number[],
  floor: number,
): readonly Flicker[] {
  return brief.flatMap((k) => {
    const at = shown[k];
    const behind = shown[k + 1];
    const length = behind - at === 1 ? 1 : 2;
    const deviation = offPath(path, at, length);
    const [a, b] = [3 * (at - 1), 3 * behind];
    const apart = lengthOf(path[b] - path[a], path[b + 1] - path[a + 1], path[b + 2] - path[a + 2]);
    if (deviation < floor || apart > mostApart * deviation) return [];
    return [{ at, length, deviation, counted: deviation, limit: floor, isFlicker: true }];
  });
}

const none: readonly never[] = [];
