import { inRadians, referenceRate } from "../../base/constants.ts";
import { bytes } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { runsWhere, type Span } from "../../time/span.ts";
import { cutsOf, isCutBetween } from "../path/cuts.ts";
import { relativeAngles } from "../path/relative.ts";
import { accelerationOf } from "../path/spacing.ts";
import { uncutTurnsOf } from "../path/uncut.ts";

/** What a carrier does that asks its chain for an answer. */
export interface Driven {
  /** First and last sample of all that is driven. */
  readonly from: number;
  readonly to: number;
  /** 1 where the carrier turns or is pushed enough. */
  readonly at: Uint8Array;
  /** 1 where it is pushed enough. */
  readonly pushed: Uint8Array;
  /** 1 at the samples themselves at which it has turned, or is pushed, by enough. */
  readonly asks: Uint8Array;
}

/**
 * Where the carrier turns or is pushed enough for a loose part to answer; null if never.
 * @param turns of the carrier from the sample before to each, radians; in the world if left out
 */
export function drivenOf(
  study: Study,
  joints: readonly number[],
  values: { turn: number; push: number },
  turns: Float64Array = uncutTurnsOf(study, rigOf(study).parent[joints[0]]),
): Driven | null {
  const { count, rate } = gridOf(study);
  const carrier = rigOf(study).parent[joints[0]];
  const base = worldOf(study, joints[0]).position;
  const tip = worldOf(study, tipOf(study, joints)).position;
  const reach = Math.round(rate / 4);
  const cuts = cutsOf(study, carrier);
  const push = accelerationOf(study, carrier);
  const at = bytes(count);
  const pushes = bytes(count);
  const asks = bytes(count);
  let first = -1;
  let last = -1;
  let sum = 0;
  for (let i = 1; i < count; i++) {
    sum += turns[i] - (i > reach ? turns[i - reach] : 0);
    const pushed = !isCutBetween(cuts, i - 2, i + 1) && pushAcross(push, base, tip, i) > values.push;
    if (sum <= values.turn && !pushed) continue;
    asks[i] = 1;
    // A chain swings on for a while after a push.
    at.fill(1, i, Math.min(count, i + reach));
    if (pushed) pushes.fill(1, i, Math.min(count, i + reach));
    if (first < 0) first = Math.max(0, i - reach);
    last = i;
  }
  return first < 0 || last - first < 3 ? null : { from: first, to: last, at, pushed: pushes, asks };
}

/** The end of a chain: its tip, keyed or not. */
function tipOf(study: Study, joints: readonly number[]): number {
  const last = joints[joints.length - 1];
  return rigOf(study).children[last][0] ?? last;
}

/** What a push at the base has across the chain, m/s²: along its own length it swings nothing. */
function pushAcross(push: Float64Array, base: Float64Array, tip: Float64Array, i: number): number {
  const k = 3 * i;
  const x = tip[k] - base[k];
  const y = tip[k + 1] - base[k + 1];
  const z = tip[k + 2] - base[k + 2];
  const length = lengthOf(x, y, z);
  const a = push[k];
  const b = push[k + 1];
  const c = push[k + 2];
  if (!(length > 0)) return lengthOf(a, b, c);
  return lengthOf(b * z - c * y, c * x - a * z, a * y - b * x) / length;
}

/**
 * Frames at 24 per second over which a chain has to be stiff: half a second, in which one of half a metre swings through
 * a third of its period (√(3g/2L)), so that none that is loose stands still for so long.
 */
const longSwing = 12;

/** Turning, rad/s, up to which a link only drifts: half a degree a frame at 24 per second, as in a moving hold. */
const restSpeed = inRadians(12);

/** A stretch in which a chain is stiff. */
export interface Stiff {
  readonly from: number;
  readonly to: number;
  /** Largest turn of a link against the one before it, from where it stood at the start, radians. */
  readonly turn: number;
}

/** Samples for which a link may leave its place and come back within a stiff stretch: a pop is another fault. */
const longestPop = 2;

/**
 * Whether a stretch is stiff although its chain answers by as much as one that drags slightly would: one that only turns
 * asks a chain for what its carrier turns in the time by which the chain has to lag.
 * @param lag least lag, samples
 */
export function answersSlightly(
  study: Study,
  carrier: number,
  driven: Driven,
  stretch: Stiff,
  lag: number,
): boolean {
  const turns = uncutTurnsOf(study, carrier);
  let fastest = 0;
  for (let i = stretch.from + 1; i <= stretch.to; i++) {
    if (driven.pushed[i] === 1) return false;
    fastest = Math.max(fastest, turns[i]);
  }
  return stretch.turn > lag * fastest;
}

/**
 * The part of a stretch from the first to the last time that a chain is asked for an answer: each time for as long as it
 * would swing, at least half of which is asked for. Null where it is not asked for so long.
 */
function askedIn({ at }: Driven, first: number, last: number, least: number): Span | null {
  let from = -1;
  let to = -1;
  for (const run of runsWhere(last + 1, (i) => i > first && at[i] === 1)) {
    const pad = Math.max(0, Math.ceil((least - (run.to - run.from)) / 2));
    if (2 * (run.to - run.from + 1) < least) continue;
    if (from < 0) from = Math.max(first, run.from - pad);
    to = Math.min(last, run.to + pad);
  }
  return from < 0 || to - from < least ? null : { from, to };
}

/** Stretches in which no link turns against the one before it by more than `still`, although the carrier asks for it. */
export function stiffStretches(
  study: Study,
  joints: readonly number[],
  driven: Driven,
  still: number,
): Stiff[] {
  const rig = rigOf(study);
  const least = Math.min(
    Math.round((longSwing * gridOf(study).rate) / referenceRate),
    driven.to - driven.from,
  );
  const drift = restSpeed / gridOf(study).rate;
  const turns = joints.map((node) => relativeAngles(study, node, rig.parent[node]));
  const turnAt = (from: number, i: number) => {
    let turn = 0;
    for (let k = 0; k < turns.length; k++) turn = Math.max(turn, turns[k](from, i));
    return turn;
  };
  /** The next sample up to `last` at which the chain is where it was; −1 where it has left its place for good. */
  const nextStill = (from: number, at: number, last: number) => {
    for (let i = at + 1; i <= Math.min(last, at + 1 + longestPop); i++) {
      if (turnAt(from, i) <= still) return i;
    }
    return -1;
  };
  const found: Stiff[] = [];
  for (let from = driven.from; from < driven.to; ) {
    let to = from;
    let asked = 0;
    for (let next = nextStill(from, to, driven.to); next >= 0; next = nextStill(from, to, driven.to)) {
      while (to < next) asked += driven.at[++to];
    }
    // At least half of it is asked for: what is pushed for a moment needs no answer before it or long after it.
    const asks =
      to - from < least ? null : 2 * asked >= to - from ? { from, to } : askedIn(driven, from, to, least);
    if (asks === null) {
      from++;
      continue;
    }
    const start = from;
    from = asks.from;
    to = asks.to;
    // Where it comes to rest and leaves it again it still turns.
    while (from < to && turnAt(from, from + 1) > drift) from++;
    while (from < to && turnAt(to - 1, to) > drift) to--;
    // Judged from where it stands then: what it turned before is not of the stretch.
    let turn = 0;
    let last = from;
    for (let i = from; i >= 0; i = nextStill(from, i, to)) {
      turn = Math.max(turn, turnAt(from, i));
      last = i;
    }
    if (last - from >= least) found.push({ from, to: last, turn });
    // From where it stood then it may have gone sooner than from where it stood at the start.
    from = Math.max(start + 1, last);
  }
  return found;
}
