import { medianOf } from "../../../base/median.ts";
import type { LegPair, Tread } from "../../../motion/body/treads.ts";

/** A landing of a leg that is not halfway between two landings of the leg on the other side. */
export interface OddStep {
  readonly leg: Tread;
  readonly other: Tread;
  /** Samples of the two landings of the other leg. */
  readonly from: number;
  readonly to: number;
  /** When it lands; null where it misses its step: the other one lands twice meanwhile. */
  readonly at: number | null;
  /** How much later than halfway, as a share of the stride; negative for sooner. */
  readonly late: number;
}

/** A stretch of strides in which one leg of a pair is off. */
export interface OddStretch {
  readonly leg: Tread;
  readonly other: Tread;
  readonly from: number;
  readonly to: number;
  /** Landings that are off, or missing. */
  readonly steps: number;
  readonly missed: boolean;
  /** How much later than halfway on the average, as a share of a stride, and samples of a stride. */
  readonly late: number;
  readonly stride: number;
}

/** Strides that differ in time by more than this factor are no gait together (our choice, as for gaits). */
const oneTiming = 1.4;
/** Keys lie a frame apart: what is nearer is no offset. */
const leastSamples = 1;
/** Strides without a fault between two with it that are still one stretch. */
const gap = 1;

/**
 * Stretches in which a leg of a pair is out of step while the other pairs keep theirs.
 * @param offset share of a stride by which a landing is off
 */
export function oddStretchesOf(pairs: readonly LegPair[], offset: number): OddStretch[] {
  return pairs.flatMap((pair) => {
    const others = pairs.filter((one) => one !== pair);
    const odd = [...oddStepsOf(pair, others, offset), ...oddStepsOf([pair[1], pair[0]], others, offset)].sort(
      (a, b) => a.from - b.from,
    );
    const groups: OddStep[][] = [];
    for (const step of odd) {
      const last = groups[groups.length - 1];
      const before = last?.[last.length - 1];
      if (before !== undefined && step.from - before.to <= gap * (step.to - step.from)) last.push(step);
      else groups.push([step]);
    }
    return groups.map((group) => stretchOf(group, pair, odd, others));
  });
}

function oddStepsOf([leg, other]: LegPair, others: readonly LegPair[], offset: number): OddStep[] {
  const found: OddStep[] = [];
  const { landings } = other;
  for (let k = 0; k + 1 < landings.length; k++) {
    const [from, to] = [landings[k], landings[k + 1]];
    const stride = to - from;
    if (!isSteady(landings, k) || !areEven(others, from, to, offset / 2)) continue;
    const own = leg.landings.filter((at) => at > from && at < to);
    if (own.length > 1) continue;
    const [at = null] = own;
    if (at === null) {
      // It goes on before and behind: it is no leg that stands as the body starts or stops.
      const goesOn = leg.landings.some((one) => one <= from) && leg.landings.some((one) => one >= to);
      if (goesOn) found.push({ leg, other, from, to, at, late: 0.5 });
      continue;
    }
    const late = (at - from) / stride - 0.5;
    if (Math.abs(late) < offset || Math.abs(late) * stride < leastSamples) continue;
    if (goesOnAt(leg.landings, at, stride)) found.push({ leg, other, from, to, at, late });
  }
  return found;
}

/** Whether the stride that begins with a landing is about as long as one beside it. */
function isSteady(landings: Float64Array, k: number): boolean {
  const stride = landings[k + 1] - landings[k];
  return [k - 1, k + 1].some(
    (j) => j >= 0 && j + 1 < landings.length && isLike(landings[j + 1] - landings[j], stride),
  );
}

const isLike = (one: number, other: number) => one <= oneTiming * other && other <= oneTiming * one;

/** Whether a leg lands again within a stride of a landing, before or behind it. */
function goesOnAt(landings: Float64Array, at: number, stride: number): boolean {
  const k = landings.indexOf(at);
  return [at - (landings[k - 1] ?? Number.NaN), (landings[k + 1] ?? Number.NaN) - at].some((way) =>
    isLike(way, stride),
  );
}

/** Whether most of some pairs of legs take turns evenly from a sample to another, in strides as long as that. */
function areEven(pairs: readonly LegPair[], from: number, to: number, most: number): boolean {
  let even = 0;
  let uneven = 0;
  for (const pair of pairs) {
    const off = unevenness(pair, from, to);
    if (off === null) continue;
    // Landings are known to half a sample.
    if (off <= most + 0.5 / (to - from)) even++;
    else uneven++;
  }
  return even > uneven;
}

/** The most by which landings of a pair between two samples are off halfway, as a share of a stride; null for too few. */
function unevenness([one, other]: LegPair, from: number, to: number): number | null {
  let most = 0;
  let seen = 0;
  for (const [leg, against] of [
    [one, other],
    [other, one],
  ]) {
    for (const at of leg.landings) {
      if (at < from || at > to) continue;
      const phase = phaseIn(against, at);
      if (phase === null || !isLike(phase.stride, to - from)) continue;
      seen++;
      most = Math.max(most, Math.abs(phase.share - 0.5));
    }
  }
  return seen < 2 ? null : most;
}

/** When in the stride of a leg a sample is, 0 to 1, and the samples of that stride; null outside of its strides. */
function phaseIn({ landings }: Tread, at: number): { share: number; stride: number } | null {
  const k = landings.findLastIndex((landing) => landing <= at);
  if (k < 0 || k + 1 >= landings.length) return null;
  const stride = landings[k + 1] - landings[k];
  return { share: (at - landings[k]) / stride, stride };
}

function stretchOf(
  group: readonly OddStep[],
  pair: LegPair,
  odd: readonly OddStep[],
  others: readonly LegPair[],
): OddStretch {
  const missing = group.find(({ at }) => at === null);
  const landingsIn = (leg: Tread, steps: readonly OddStep[]) =>
    steps.flatMap((step) => (step.leg === leg && step.at !== null ? [step.at] : []));
  const places = pair.map((leg) => placeOf(leg, landingsIn(leg, group), landingsIn(leg, odd), others));
  const first = missing?.leg ?? (isStranger(places[0], places[1]) ? pair[0] : pair[1]);
  const other = first === pair[0] ? pair[1] : pair[0];
  // A leg is late as its opposite is early.
  const late = medianOf(
    group.filter(({ at }) => at !== null).map((step) => (step.leg === first ? 1 : -1) * step.late),
  );
  const steps = group.filter(({ leg }) => leg === first).length;
  return {
    leg: first,
    other,
    from: Math.max(0, Math.floor(Math.min(...group.map(({ from }) => from)))),
    to: Math.ceil(Math.max(...group.map(({ to }) => to))),
    steps: Math.max(1, steps),
    missed: missing !== undefined,
    late: missing === undefined ? late : 0.5,
    stride: medianOf(group.map(({ from, to }) => to - from)),
  };
}

/** How far the landings of a leg are from places that it could have among the other legs, as shares of a stride. */
interface Place {
  /** From where its other landings are; null where there are fewer than two. */
  readonly own: number | null;
  /** From the landing of a leg of another pair, as in trot and pace; and from the nearest quarter, as in a walk. */
  readonly half: number;
  readonly quarter: number;
}

function placeOf(
  leg: Tread,
  off: readonly number[],
  allOff: readonly number[],
  others: readonly LegPair[],
): Place {
  let own: number | null = null;
  let half = 0;
  let quarter = 0;
  for (const against of others.flat()) {
    const phases = (landings: readonly number[]) =>
      landings.flatMap((at) => phaseIn(against, at)?.share ?? []);
    const now = phases(off.length > 0 ? off : [...leg.landings]);
    if (now.length === 0) continue;
    const at = meanPhase(now);
    const rest = phases([...leg.landings].filter((landing) => !allOff.includes(landing)));
    if (off.length > 0 && rest.length >= 2) own = Math.max(own ?? 0, apart(at, meanPhase(rest)));
    half = Math.max(half, Math.abs(2 * at - Math.round(2 * at)) / 2);
    quarter = Math.max(quarter, Math.abs(4 * at - Math.round(4 * at)) / 4);
  }
  return { own, half, quarter };
}

/** Landings this near to each other, as a share of a stride, are of one beat: half an eighth (our choice). */
const oneBeat = 1 / 16;

/** Whether the first of two legs is the one that is out of its place. */
function isStranger(one: Place, other: Place): boolean {
  if (one.own !== null && other.own !== null) return one.own > other.own;
  if (one.half <= oneBeat !== other.half <= oneBeat) return one.half > oneBeat;
  return one.quarter > other.quarter;
}

const apart = (a: number, b: number) => Math.abs(a - b - Math.round(a - b));

/** The mean of shares of a stride, on the circle. */
function meanPhase(phases: readonly number[]): number {
  let x = 0;
  let y = 0;
  for (const phase of phases) {
    x += Math.cos(2 * Math.PI * phase);
    y += Math.sin(2 * Math.PI * phase);
  }
  return (Math.atan2(y, x) / (2 * Math.PI) + 1) % 1;
}
