import { standardGravity } from "../../base/constants.ts";
import { medianOf } from "../../base/median.ts";
import { measure, type Study } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { figuresOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { carryingOf } from "./contact.ts";
import { footPointsOf } from "./feet.ts";
import { hipsOf } from "./foot-plant.ts";
import { standingLevelOf } from "./standing.ts";
import { supportContactsOf } from "./support.ts";

/** One stride of a foot: from one landing to its next. */
export interface Stride extends Span {
  /** Rig index of the foot. */
  readonly foot: number;
  /** Share of the stride for which the foot is on the ground: its duty factor. */
  readonly duty: number;
  /** How far the hips travel over the ground meanwhile, metres, and how much they rise or sink. */
  readonly length: number;
  readonly climb: number;
  /** Height of the hips over the ground under the standing foot, metres. */
  readonly hips: number;
}

/** A stretch of strides of one timing, of all feet that step in it. Numbers are medians over its strides. */
export interface Gait extends Span {
  readonly strides: number;
  /** Seconds and metres of a stride, metres per second. */
  readonly time: number;
  readonly length: number;
  readonly speed: number;
  readonly duty: number;
  /** Height of the hips over the ground, metres. */
  readonly hips: number;
  /** v² / (g · hips): bodies of any size that have the same go alike (Alexander and Jayes 1983, from memory). */
  readonly froude: number;
  /** Share of the samples in which no foot is on the ground. */
  readonly airborne: number;
  /** Metres of climb per metre of way. */
  readonly slope: number;
  /** When in a stride each foot lands, 0 to 1 behind the first, in the order of landing. */
  readonly footfalls: readonly Footfall[];
}

/** A foot's landing within the stride. */
export interface Footfall {
  readonly foot: number;
  readonly phase: number;
}

/** Strides that differ in time by more than this factor belong to different gaits (our choice). */
const oneTiming = 1.4;
/** Fewest strides of all feet together of which a gait is told: one and a half cycles of two feet. */
const fewest = 3;
/** Share of a stride by which two feet that step in turns land apart at the least: half of an even gait (our choice). */
const inTurns = 0.25;
const isApart = (phase: number) => phase >= inTurns && phase <= 1 - inTurns;
/** Gaps of up to this many seconds in a foot's contact are none: heel and ball take turns. */
const shortestSwing = 0.09;

/**
 * Share of the hips' speed under which a point of a foot stands, while they pass over it. A contact begins and ends where a
 * foot is close to the ground and slow; a swing of 0.6 strides is as quick within a tenth of its time.
 */
const stillShare = 0.5;

/** Stretches in which a foot stands, ascending: contacts of its points, taken together. */
export function stancesOf(study: Study, figure: number): Map<number, Span[]> {
  const { rate } = gridOf(study);
  const points = new Map(footPointsOf(study, figure).map(({ node, foot }) => [node, foot]));
  const stances = new Map<number, Span[]>();
  const nodes = new Map<number, number[]>();
  for (const [node, foot] of points) nodes.set(foot, [...(nodes.get(foot) ?? []), node]);
  const contacts = supportContactsOf(study, figure)
    .flatMap((contact) => {
      const foot = points.get(contact.node);
      return foot === undefined ? [] : [{ foot, ...carryingOf(study, figure, contact) }];
    })
    .sort((a, b) => a.from - b.from);
  for (const { foot, from, to } of contacts) {
    const own = stances.get(foot) ?? [];
    const last = own[own.length - 1];
    if (last !== undefined && from - last.to <= 1 + shortestSwing * rate) {
      own[own.length - 1] = { from: last.from, to: Math.max(last.to, to) };
    } else own.push({ from, to });
    stances.set(foot, own);
  }
  const hips = worldOf(study, hipsOf(study, figure)).position;
  for (const [foot, all] of stances) {
    const paths = (nodes.get(foot) ?? [foot]).map((node) => worldOf(study, node).position);
    stances.set(
      foot,
      all.map((stance) => stillPart(paths, hips, stance)),
    );
  }
  return stances;
}

/** The part of a contact between the first and the last step in which one of the foot's points stands. */
function stillPart(paths: readonly Float64Array[], hips: Float64Array, { from, to }: Span): Span {
  const limit = (stillShare * distanceBetween(hips, from, hips, to)) / Math.max(1, to - from);
  const isStill = (i: number) => paths.some((path) => distanceBetween(path, i, path, i + 1) <= limit);
  let first = from;
  let last = to;
  // The range may begin, or end, in a stance.
  if (first > 0) while (first < last && !isStill(first)) first++;
  if (3 * (last + 1) < hips.length) while (last > first && !isStill(last - 1)) last--;
  return first < last ? { from: first, to: last } : { from, to };
}

/** Strides of a figure's feet, in order of their first sample. @param figure index into `figuresOf` */
export const stridesOf = measure("strides", (study, figure: number): readonly Stride[] => {
  const hips = worldOf(study, hipsOf(study, figure)).position;
  const strides: Stride[] = [];
  for (const [foot, stances] of stancesOf(study, figure)) {
    const path = worldOf(study, foot).position;
    const level = standingLevelOf(study, figure, foot);
    for (let k = 0; k + 1 < stances.length; k++) {
      const [{ from, to: leaves }, { from: to }] = [stances[k], stances[k + 1]];
      // What stands as the range begins landed before it.
      if (from === 0) continue;
      const middle = (from + leaves) >> 1;
      strides.push({
        foot,
        from,
        to,
        duty: (leaves - from + 1) / (to - from),
        length: Math.hypot(hips[3 * to] - hips[3 * from], hips[3 * to + 2] - hips[3 * from + 2]),
        climb: hips[3 * to + 1] - hips[3 * from + 1],
        hips: hips[3 * middle + 1] - (path[3 * middle + 1] - level),
      });
    }
  }
  return strides.sort((a, b) => a.from - b.from || a.foot - b.foot);
});

/**
 * Gaits of a figure: strides that follow each other in one timing, of two feet at the least.
 * @param figure index into `figuresOf`
 */
export const gaitsOf = measure("gaits", (study, figure: number): readonly Gait[] => {
  if (figuresOf(study)[figure] === undefined) return [];
  const found: Gait[] = [];
  let group: Stride[] = [];
  const close = () => {
    const feet = new Set(group.map(({ foot }) => foot));
    if (group.length >= fewest && feet.size > 1) {
      const gait = gaitOf(study, figure, group);
      // Two feet that land together hop: no walk, and no run.
      if (feet.size > 2 || isApart(gait.footfalls[1].phase)) found.push(gait);
    }
    group = [];
  };
  for (const stride of stridesOf(study, figure)) {
    const last = group[group.length - 1];
    if (last !== undefined) {
      const ratio = (stride.to - stride.from) / (last.to - last.from);
      if (stride.from > last.to || ratio > oneTiming || ratio < 1 / oneTiming) close();
    }
    group.push(stride);
  }
  close();
  return found;
});

function gaitOf(study: Study, figure: number, strides: readonly Stride[]): Gait {
  const { rate } = gridOf(study);
  const median = (value: (stride: Stride) => number) => medianOf(Float64Array.from(strides, value));
  const from = strides[0].from;
  let to = from;
  for (const stride of strides) to = Math.max(to, stride.to);
  const hips = median((stride) => stride.hips);
  const speed = median((stride) => (stride.length * rate) / (stride.to - stride.from));
  return {
    from,
    to,
    strides: strides.length,
    time: median((stride) => (stride.to - stride.from) / rate),
    length: median(({ length }) => length),
    speed,
    duty: median(({ duty }) => duty),
    hips,
    froude: froudeOf(speed, hips),
    airborne: airborneIn(study, figure, from, to),
    slope: median(({ climb, length }) => Math.abs(climb) / Math.max(length, 1e-6)),
    footfalls: footfallsOf(strides),
  };
}

/** Share of the samples from..to in which no foot is on the ground. */
function airborneIn(study: Study, figure: number, from: number, to: number): number {
  let free = 0;
  const all = [...stancesOf(study, figure).values()].flat();
  for (let i = from; i <= to; i++) if (!all.some((stance) => stance.from <= i && stance.to >= i)) free++;
  return free / (to - from + 1);
}

/** The mean phase of each foot's landings in the stride of the first foot, on the circle. */
function footfallsOf(strides: readonly Stride[]): Footfall[] {
  const [lead] = strides;
  const own = strides.filter(({ foot }) => foot === lead.foot);
  const sums = new Map<number, [number, number]>();
  for (const { foot, from } of strides) {
    const cycle = own.findLast((stride) => stride.from <= from) ?? lead;
    const angle = (2 * Math.PI * (from - cycle.from)) / (cycle.to - cycle.from);
    const sum = sums.get(foot) ?? [0, 0];
    sums.set(foot, [sum[0] + Math.cos(angle), sum[1] + Math.sin(angle)]);
  }
  return [...sums]
    .map(([foot, [x, y]]) => ({ foot, phase: (Math.atan2(y, x) / (2 * Math.PI) + 1 + 1e-9) % 1 }))
    .sort((a, b) => a.phase - b.phase);
}

/** The Froude number of a speed (m/s) over legs of a height (m): v² / (g · h). */
export function froudeOf(speed: number, height: number): number {
  return (speed * speed) / (standardGravity * Math.max(height, 1e-6));
}

/**
 * What is known of strides over speed. `perHip` and `power`: length of a stride over the height of the hips =
 * 2.3 · (v² / gh)^0.3, of people, horses, elephants and others (Alexander 1976, Nature 261:129, from memory).
 * `walkRun`: Froude number at which people change from walking to running, and at 0.35 horses to a trot (Kram and others
 * 1997; Griffin and others 2004, abstracts). `mostWalk`: over it no body can vault over a stiff leg (Biology Letters
 * 2005.0312, second hand).
 */
export const gaitFacts = { perHip: 2.3, power: 0.3, walkRun: 0.5, mostWalk: 1 } as const;

/** Length of a stride, metres, that bodies of this leg height take at this speed; see {@link gaitFacts}. */
export function usualStride(speed: number, height: number): number {
  return gaitFacts.perHip * height * froudeOf(speed, height) ** gaitFacts.power;
}

/** Speed in m/s at which bodies of this leg height take strides of this length, metres: the reverse of {@link usualStride}. */
export function usualSpeed(length: number, height: number): number {
  const froude = (length / (gaitFacts.perHip * Math.max(height, 1e-6))) ** (1 / gaitFacts.power);
  return Math.sqrt(froude * standardGravity * height);
}

/**
 * Share of a stride for which a walking foot stands, at a speed over legs of a height: 0.642 − 0.035 s/m · v for grown people
 * (Kirtley 1985, read in a page on gait data), brought to other sizes by the Froude number, at 0.92 m of leg.
 */
export function usualWalkDuty(speed: number, height: number): number {
  return 0.642 - 0.035 * speed * Math.sqrt(0.92 / Math.max(height, 1e-6));
}

/** What a gait of four feet is called by its footfalls (Hildebrand, by a page on footfalls). */
export type FourFootGait = "pace" | "lateral sequence" | "trot" | "diagonal sequence" | "gallop or bound";

/**
 * What a gait of four feet is called. `lag`: by which share of a stride a forefoot lands behind the hind foot of its side;
 * the two hind feet have to land about half a stride apart, else it is a gallop or a bound.
 * @param hindApart share of a stride between the landings of the hind feet
 */
export function fourFootGait(lag: number, hindApart: number): FourFootGait {
  const apart = Math.abs((((hindApart % 1) + 1) % 1) - 0.5);
  if (apart > 0.15) return "gallop or bound";
  const phase = ((lag % 1) + 1) % 1;
  if (phase < 0.125 || phase >= 0.875) return "pace";
  if (phase < 0.375) return "lateral sequence";
  return phase < 0.625 ? "trot" : "diagonal sequence";
}
