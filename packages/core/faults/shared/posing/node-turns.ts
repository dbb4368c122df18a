import { radiansPerDegree } from "../../../base/constants.ts";
import { conjugate, logBetween, multiplyQuaternions, turnedBy } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { vectorLength } from "../../../base/vector.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Channel } from "../../../document/model.ts";
import { quaternionCurveOf } from "../../../rig/local.ts";
import { localRotationOf } from "../../../rig/pose.ts";
import { radiansPerUnitOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { toleranceOf } from "../keying/precision.ts";
import { rekeyed } from "../keying/rekey.ts";
import { type Course, trackOf } from "../keying/track.ts";
import { eulersNear } from "./euler.ts";
import { between, offsetTrack, type Samples, spanOf } from "./offsets.ts";

/** How turns are keyed. */
export interface TurnLaying {
  /** Turn (radians) from which a channel without a curve gets one; a degree if left out. */
  readonly newFrom?: number;
  /** See `Laying`, both. */
  readonly loose?: number;
  readonly most?: number;
}

const leastNew = radiansPerDegree;

/**
 * Edits that turn a node against its parent as asked for.
 * @param turns 4 numbers per sample from lo to hi: its local rotation, fixed rotation included; as it is at both ends
 *   unless the range ends there
 */
export function turnedNode(
  study: Study,
  node: number,
  { lo, hi }: Samples,
  turns: Float64Array,
  laying: TurnLaying = {},
): KeyEdit[] {
  return quaternionCurveOf(study, node) === null
    ? turnedByAxes(study, node, { lo, hi }, turns, laying)
    : turnedByQuaternions(study, node, { lo, hi }, turns, laying);
}

function turnedByAxes(
  study: Study,
  node: number,
  { lo, hi }: Samples,
  turns: Float64Array,
  { newFrom = leastNew, loose = 1, most }: TurnLaying,
): KeyEdit[] {
  const rig = rigOf(study);
  const { frames } = gridOf(study);
  const perUnit = radiansPerUnitOf(study);
  const tracks = ["x", "y", "z"].map((axis) => trackOf(study, node, `rotation.${axis}` as Channel));
  const count = hi - lo + 1;
  const offsets = tracks.map(() => new Float64Array(count));
  const own = new Float64Array(4);
  const back = conjugate(rig.fixedRotation, 4 * node);
  const now = new Float64Array(3);
  const value = new Float64Array(1);
  let last = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    multiplyQuaternions(back, 0, turns, 4 * i, own, 0);
    tracks.forEach((track, axis) => {
      track.read(frames[lo + i], value);
      now[axis] = value[0] * perUnit;
    });
    // Near to what the channels do now, and to how far off it the sample before was.
    const wanted = eulersNear(
      rig.order[node],
      own,
      0,
      now.map((angle, axis) => angle + last[axis]),
    );
    last = [0, 1, 2].map((axis) => wanted[axis] - now[axis]);
    last.forEach((off, axis) => {
      offsets[axis][i] = Math.abs(off) < 1e-9 ? 0 : off / perUnit;
    });
  }
  return tracks.flatMap((track, axis) => {
    const largest = offsets[axis].reduce((best, off) => Math.max(best, Math.abs(off)), 0);
    if (track.curve === null && largest * perUnit < newFrom) return [];
    return offsetTrack(study, track, { lo, hi }, offsets[axis], loose, most);
  });
}

function turnedByQuaternions(
  study: Study,
  node: number,
  { lo, hi }: Samples,
  turns: Float64Array,
  { loose = 1 }: TurnLaying,
): KeyEdit[] {
  const rig = rigOf(study);
  const { frames, step } = gridOf(study);
  const track = trackOf(study, node, "rotation");
  const count = hi - lo + 1;
  const back = conjugate(rig.fixedRotation, 4 * node);
  const ways = [new Float64Array(count), new Float64Array(count), new Float64Array(count)];
  const now = new Float64Array(4);
  const wanted = new Float64Array(4);
  let most = 0;
  for (let i = 0; i < count; i++) {
    multiplyQuaternions(back, 0, turns, 4 * i, wanted, 0);
    track.read(frames[lo + i], now);
    const way = logBetween(now, wanted);
    const size = vectorLength(way);
    most = Math.max(most, size);
    for (let k = 0; k < 3; k++) ways[k][i] = size < 1e-9 ? 0 : way[k];
  }
  if (most < toleranceOf(study, node, "rotation")) return [];
  const all = Float64Array.from({ length: 3 * count }, (_, n) => ways[n % 3][Math.floor(n / 3)]);
  const span = spanOf(frames, step, lo, hi, all, false);
  const turn = new Float64Array(3);
  const course: Course = (frame, out) => {
    track.read(frame, now);
    for (let k = 0; k < 3; k++) turn[k] = between(ways[k], (frame - frames[lo]) / step);
    turnedBy(now, turn, out);
  };
  return rekeyed(study, track, span, course, { loose });
}

/** A node's local rotation over samples, to be changed: 4 numbers per sample. */
export function localTurns(study: Study, node: number, { lo, hi }: Samples): Float64Array {
  return localRotationOf(study, node).slice(4 * lo, 4 * hi + 4);
}
