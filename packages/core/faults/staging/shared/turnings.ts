import { referenceRate } from "../../../base/constants.ts";
import { conjugate, rotated, turnedBy } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { scaled, type Vector } from "../../../base/vector.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { outerWorldOf, worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import type { Lens } from "../../../staging/camera.ts";
import { gridOf } from "../../../time/grid.ts";
import { keyingOf } from "../../shared/keying/rekey.ts";
import { tracksOf } from "../../shared/keying/track.ts";
import { localTurns, turnedNode } from "../../shared/posing/node-turns.ts";
import type { Samples } from "../../shared/posing/offsets.ts";
import { type AtSample, type KeysWithin, raisedKeys, turnedAtKeys } from "../../shared/posing/turned-keys.ts";

/** A stretch of samples, as a finding has it. */
interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Frames (at 24 per second) over which a turn comes and goes beside the frames that need it: a quarter of a second. */
const ramp = 6;

/** Axes of what a camera sees, in the world: the line of sight, to the right, upwards. */
export function axesOfSight({ turn }: Lens, sample: number): readonly [Vector, Vector, Vector] {
  const of = (axis: Vector) => rotated(turn, axis, 4 * sample);
  return [of([0, 0, -1]), of([1, 0, 0]), of([0, 1, 0])];
}

/** A joint, and the turn that is asked of it. */
export interface Turning {
  readonly node: number;
  readonly turnAt: AtSample;
}

/**
 * Ways to make turns over a stretch, the smallest change first: all its keys raised or lowered alike, then each turned by
 * what it needs, then turns that are keyed where they come and go.
 * @param turnings alternatives, the smallest first
 */
export function* waysToTurn(
  study: Study,
  stretch: Stretch,
  turnings: readonly Turning[],
): Generator<KeyEdit[]> {
  const middle = Math.round((stretch.from + stretch.to) / 2);
  for (const make of [raisedKeys, turnedAtKeys]) {
    for (const { node, turnAt } of turnings) {
      for (const within of keysOf(study, node, stretch)) {
        const edits = make(study, node, within, turnAt, middle);
        if (edits.length > 0) yield edits;
      }
    }
  }
  for (const { node, turnAt } of turnings) yield turnedOver(study, node, stretch, turnAt);
}

/** Keys of a node to change over a stretch: of sparse ones those within it; else eased in before it and out behind. */
export function* keysOf(study: Study, node: number, { from, to }: Stretch): Generator<KeysWithin> {
  const { count, step, frames } = gridOf(study);
  const span = { from: frames[from], to: frames[to] };
  const isDense = tracksOf(study, node).some(
    ({ curve }) => curve !== null && keyingOf(curve, span, step) === "dense",
  );
  if (!isDense) yield { lo: from, hi: to, shareAt: () => 1 };
  const reach = reachOf(study);
  yield {
    lo: Math.max(0, from - reach),
    hi: Math.min(count - 1, to + reach),
    shareAt: (i) => eased(i, { from, to }, reach),
  };
}

function reachOf(study: Study): number {
  return Math.max(2, Math.round((ramp * gridOf(study).rate) / referenceRate));
}

/** 1 in a stretch, 0 from so many samples beside it on. */
function eased(i: number, { from, to }: Stretch, reach: number): number {
  const gone = Math.min(1, Math.max(0, i < from ? (i - from + reach) / reach : (to + reach - i) / reach));
  return gone * gone * (3 - 2 * gone);
}

/** Edits that turn a joint over a stretch, eased in before it and out behind. */
function turnedOver(study: Study, node: number, { from, to }: Stretch, turnAt: AtSample): KeyEdit[] {
  const { count } = gridOf(study);
  const reach = reachOf(study);
  const samples: Samples = { lo: Math.max(0, from - reach), hi: Math.min(count - 1, to + reach) };
  const turns = localTurns(study, node, samples);
  const parent = rigOf(study).parent[node];
  const { orientation } = parent < 0 ? outerWorldOf(study, undefined) : worldOf(study, parent);
  for (let i = samples.lo; i <= samples.hi; i++) {
    const wanted = turnAt(Math.min(to, Math.max(from, i)));
    if (wanted === null) continue;
    const own = rotated(conjugate(orientation, 4 * i), scaled(wanted, eased(i, { from, to }, reach)));
    const turn = turns.subarray(4 * (i - samples.lo), 4 * (i - samples.lo) + 4);
    turnedBy(turn, rotated(conjugate(turn, 0), own), turn);
  }
  return turnedNode(study, node, samples, turns);
}
