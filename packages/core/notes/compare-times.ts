import { curveName } from "../document/inputs.ts";
import type { Curve, Shot } from "../document/model.ts";
import { heaviestChain, type KeyPairs, pairedInTime, pairedKeys, type Tie } from "./compare-keys.ts";

/** Which frame of one version is which frame of another. */
export interface TimeMap {
  /** Frames that belong together, ascending in both; straight lines run between them, and on at the same pace outside. */
  readonly knots: readonly (readonly [before: number, after: number])[];
  toAfter(frame: number): number;
  toBefore(frame: number): number;
}

/** How two versions of a shot run against each other. */
export interface Times {
  /** Of the shot as a whole. */
  readonly shot: TimeMap;
  /** Of one curve ({@link curveName}), by its own keys; null where none of its keys is in both versions. */
  curve(name: string): TimeMap | null;
  /**
   * Whether two keys, by their own frames, are the same key: true or false where the curve's keys say so, null where
   * neither of them has a partner. A key whose value was changed is known by the keys around it.
   */
  sameKey(name: string, before: number, after: number): boolean | null;
}

/** A frame pair that deviates from what heavier ones around it say by less than this many frames fits in with them. */
const slack = 0.5;
/** A pair gives way to others that so many times as many curves speak for. */
const heavier = 2;

/**
 * Works out from the keys which frame of one version is which of the other: keys that were re-timed keep their
 * values. Every key that is in both versions speaks for its pair of frames; the heaviest chain of pairs that ascends
 * in both is the shot's time map. A few curves that were moved against the rest do not bend it: they have maps of
 * their own.
 * @param before the older version
 * @param after the newer version
 * @returns maps from frame to frame, in the numberings of the two documents
 */
export function timesBetween(before: Shot, after: Shot): Times {
  const curvesAfter = new Map(after.curves.map((curve) => [curveName(curve.node, curve.channel), curve]));
  const paired = new Map<string, Paired>();
  const votes = new Map<number, Map<number, number>>();
  for (const curve of before.curves) {
    const name = curveName(curve.node, curve.channel);
    const other = curvesAfter.get(name);
    if (other === undefined || paired.has(name)) continue;
    const keys = pairedKeys(curve, other);
    paired.set(name, { before: curve, after: other, keys });
    for (let k = 0; k < keys.before.length; k++) {
      const [i, j] = [keys.before[k], keys.after[k]];
      if (!turns(curve, i) || !turns(other, j)) continue;
      const row = votes.get(curve.frames[i]) ?? new Map<number, number>();
      row.set(other.frames[j], (row.get(other.frames[j]) ?? 0) + 1);
      votes.set(curve.frames[i], row);
    }
  }
  const ties = [...votes].flatMap(([frame, row]) =>
    [...row].map(([to, weight]) => ({ before: frame, after: to, weight })),
  );
  const shift = after.range[0] - before.range[0];
  const shot = mapThrough(fittingChain(ties), shift);
  return timesOf(shot, shift, paired);
}

function timesOf(shot: TimeMap, shift: number, byValue: ReadonlyMap<string, Paired>): Times {
  const known = new Map<string, CurveTimes | null>();
  const curveTimes = (name: string) => {
    let found = known.get(name);
    if (found === undefined) {
      const pair = byValue.get(name);
      found = pair === undefined ? null : curveTimesOf(pair, shot, shift);
      known.set(name, found);
    }
    return found;
  };
  return {
    shot,
    curve: (name) => curveTimes(name)?.map ?? null,
    sameKey(name, frame, to) {
      const pair = curveTimes(name)?.pair;
      if (pair === undefined) return null;
      const i = keyAt(pair.before, frame);
      const j = keyAt(pair.after, to);
      if (i < 0 || j < 0) return null;
      const [there, back] = [partnerOf(pair, i, "before"), partnerOf(pair, j, "after")];
      return there < 0 && back < 0 ? null : there === j;
    },
  };
}

interface CurveTimes {
  readonly pair: Paired;
  readonly map: TimeMap;
}

/** A curve's own time: by its values, and where these repeat by what stands at the same time. */
function curveTimesOf(byValue: Paired, shot: TimeMap, shift: number): CurveTimes | null {
  const first = byValue.keys.before.length === 0 ? shot : mapThrough(keyTies(byValue), shift);
  const keys = pairedInTime(byValue.before, byValue.after, byValue.keys, first.toAfter);
  if (keys.before.length === 0) return null;
  const pair = { ...byValue, keys };
  return { pair, map: mapThrough(keyTies(pair), shift) };
}

interface Paired {
  readonly before: Curve;
  readonly after: Curve;
  readonly keys: KeyPairs;
}

function keyTies({ before, after, keys }: Paired): Tie[] {
  return keys.before.map((i, k) => ({
    before: before.frames[i],
    after: after.frames[keys.after[k]],
    weight: 1,
  }));
}

/** Index of the key at a frame; -1 where there is none. */
function keyAt({ frames }: Curve, frame: number): number {
  return frames.findIndex((at) => alike(at, frame));
}

/**
 * The key of the other version that is a key's partner: the one that it is paired with, or the one that stands alone
 * between the same pairs, as it does itself; -1 where there is none.
 */
function partnerOf({ before, after, keys }: Paired, key: number, side: "before" | "after"): number {
  const [own, other] = side === "before" ? [keys.before, keys.after] : [keys.after, keys.before];
  const [ownCount, otherCount] = [before.frames.length, after.frames.length];
  const [count, others] = side === "before" ? [ownCount, otherCount] : [otherCount, ownCount];
  const next = own.findIndex((index) => index >= key);
  if (next >= 0 && own[next] === key) return other[next];
  const end = next < 0 ? own.length : next;
  const isAlone = (own[end] ?? count) - (own[end - 1] ?? -1) === 2;
  const first = other[end - 1] ?? -1;
  return isAlone && (other[end] ?? others) - first === 2 ? first + 1 : -1;
}

function alike(a: number, b: number): boolean {
  return Math.abs(a - b) < 1e-6;
}

/** Whether a key holds something else than a key beside it; one within a run of equal keys says nothing of time. */
function turns({ frames, values, width }: Curve, key: number): boolean {
  if (key === 0 || key === frames.length - 1) return frames.length > 1 || width === 4;
  for (let k = 0; k < width; k++) {
    const value = values[key * width + k];
    if (values[(key - 1) * width + k] !== value || values[(key + 1) * width + k] !== value) return true;
  }
  return false;
}

/** The heaviest chain, without the pairs that stand aside from heavier ones on both sides of them. */
function fittingChain(ties: readonly Tie[]): readonly Tie[] {
  const chain = heaviestChain(ties);
  const heaviest = chain.reduce((most, { weight }) => Math.max(most, weight), 0);
  const isOut = new Uint8Array(chain.length);
  const byWeight = chain.map((_, at) => at).filter((at) => heavier * chain[at].weight <= heaviest);
  byWeight.sort((p, q) => chain[p].weight - chain[q].weight || p - q);
  for (const at of byWeight) {
    const least = heavier * chain[at].weight;
    const stays = (k: number) => isOut[k] === 0 && chain[k].weight >= least;
    let [l, r] = [at - 1, at + 1];
    while (l >= 0 && !stays(l)) l--;
    while (r < chain.length && !stays(r)) r++;
    if (l < 0 || r === chain.length) continue;
    const [left, right] = [chain[l], chain[r]];
    const pace = (right.after - left.after) / (right.before - left.before);
    const off = chain[at].after - (left.after + (chain[at].before - left.before) * pace);
    // Measured along the slower of both versions, so that it is the same whichever of them is called the old one.
    if (Math.abs(off) / Math.max(1, pace) > slack) isOut[at] = 1;
  }
  return chain.filter((_, at) => isOut[at] === 0);
}

/** A map through ties that ascend in both; shifted by a number of frames where there are none. */
function mapThrough(ties: readonly Tie[], shift: number): TimeMap {
  const knots = withoutStraight(ties.map(({ before, after }) => [before, after] as const));
  return {
    knots,
    toAfter: (frame) => between(knots, 0, 1, frame, shift),
    toBefore: (frame) => between(knots, 1, 0, frame, -shift),
  };
}

/** Knots without those that the line through their neighbours meets. */
function withoutStraight(knots: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  const kept: (readonly [number, number])[] = [];
  knots.forEach((knot, n) => {
    const last = kept[kept.length - 1];
    const next = knots[n + 1];
    if (last !== undefined && next !== undefined) {
      const pace = (next[1] - last[1]) / (next[0] - last[0]);
      if (Math.abs(last[1] + (knot[0] - last[0]) * pace - knot[1]) < 1e-9) return;
    }
    kept.push(knot);
  });
  return kept;
}

function between(
  knots: readonly (readonly [number, number])[],
  from: 0 | 1,
  to: 0 | 1,
  frame: number,
  shift: number,
): number {
  if (knots.length === 0) return frame + shift;
  // First knot behind the frame, by halving.
  let [low, next] = [0, knots.length];
  while (low < next) {
    const middle = (low + next) >> 1;
    if (knots[middle][from] > frame) next = middle;
    else low = middle + 1;
  }
  const [last, ahead] = [knots[Math.max(0, next - 1)], knots[next]];
  if (next === 0 || ahead === undefined) return frame + last[to] - last[from];
  return last[to] + ((frame - last[from]) / (ahead[from] - last[from])) * (ahead[to] - last[to]);
}
