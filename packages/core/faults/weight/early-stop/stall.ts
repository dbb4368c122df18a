import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { medianOf } from "../../../base/median.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { stancesOf } from "../../../motion/ground/gait.ts";
import { buoyedAt } from "../../../motion/ground/medium.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { lengthShare } from "../../../rig/proportions.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";

/** How little a body travels while a foot is on its way, at its slowest. */
export interface Slack extends Span {
  /** Rig index of the foot, and the sample on which it lands. */
  readonly foot: number;
  readonly lands: number;
  /** The slowest sample, and the quickest ones before and after it. */
  readonly slowest: number;
  readonly before: number;
  readonly after: number;
  /** Speed at the slowest sample over the lesser of the other two. */
  readonly left: number;
}

/** Frames (at 24 per second) before a body's slowest sample, and behind a landing, in which it is at its own speed. */
const around = 6;
/** Frames (at 24 per second) that a stall takes at the least: a shorter one is a hitch. */
const shortest = 4;
/** Other steps that tell how a figure steps. */
const fewest = 2;
/** Cosine of the angle up to which a body goes on the way that it went: 60 degrees (our choice). */
const oneWay = 0.5;

/**
 * Steps in which a body all but stands while the foot that is to carry it is still on its way, and goes on after it.
 * @param limits `stall`: share of its speed that is left; `pace`: least speed that is judged, body heights per second;
 * `early`: least samples before the landing
 */
export function stallsOf(
  study: Study,
  figure: number,
  { stall, pace, early }: { readonly stall: number; readonly pace: number; readonly early: number },
): Slack[] {
  const { rate, dt } = gridOf(study);
  const slacks = slacksOf(study, figure);
  const speed = speedOf(study, figure);
  const found: Slack[] = [];
  for (const slack of slacks.toSorted((a, b) => a.lands - b.lands)) {
    const { foot, from, to, lands, left, before, slowest } = slack;
    // Water brakes a body whose legs go on, and carries it.
    if (buoyedAt(study, figure)[slowest] === 1) continue;
    if (left > stall || speed(before) < pace * statureOf(study, figure) * dt) continue;
    if (to - from + 1 < (shortest * rate) / referenceRate || lands - from < Math.round(early)) continue;
    if (!goesOn(study, foot, slowest, speed(before))) continue;
    const others = slacks.filter((other) => other.to < from || other.from > to);
    if (others.length < fewest || medianOf(Float64Array.from(others, (other) => other.left)) < 2 * left) {
      excused(foot, from, lands, "it steps like this all the time, or steps too seldom to tell");
      continue;
    }
    if (found.every((other) => other.to < from || other.from > to)) found.push(slack);
  }
  return found;
}

/** How a body travels in each of its steps of a foot's length and more. */
function slacksOf(study: Study, figure: number): Slack[] {
  const least = lengthShare.foot * statureOf(study, figure);
  const cuts = cutsOf(study, hipsOf(study, figure));
  const slacks: Slack[] = [];
  for (const [foot, stances] of stancesOf(study, figure)) {
    const { position } = worldOf(study, foot);
    for (let k = 0; k + 1 < stances.length; k++) {
      const [{ to: leaves }, { from: lands }] = [stances[k], stances[k + 1]];
      if (alongGround(position, leaves, lands) < least || isCutBetween(cuts, leaves, lands)) continue;
      const slack = slackIn(study, figure, foot, { from: leaves, to: lands });
      if (slack !== null) slacks.push(slack);
    }
  }
  return slacks;
}

/** How a body travels in one step; null where it does not travel before and after its slowest sample. */
function slackIn(study: Study, figure: number, foot: number, step: Span): Slack | null {
  const { rate, count } = gridOf(study);
  const reach = Math.round((around * rate) / referenceRate);
  const speed = speedOf(study, figure);
  const quickest = (from: number, to: number) => {
    let best = Math.max(0, from);
    for (let i = best; i <= Math.min(count - 1, to); i++) if (speed(i) > speed(best)) best = i;
    return best;
  };
  let found: Omit<Slack, "from" | "to"> | null = null;
  for (let i = step.from + 1; i < step.to; i++) {
    const before = quickest(Math.min(step.from, i - reach), i - 1);
    const after = quickest(i + 1, step.to + (reach >> 1));
    const lesser = Math.min(speed(before), speed(after));
    const left = lesser > 0 ? speed(i) / lesser : 1;
    if (found === null || left < found.left)
      found = { foot, lands: step.to, slowest: i, before, after, left };
  }
  if (found === null || !goesOneWay(study, figure, found)) return null;
  const { before, after, slowest } = found;
  const half = Math.min(speed(before), speed(after)) / 2;
  let from = slowest;
  let to = slowest;
  while (from - 1 > before && speed(from - 1) < half) from--;
  while (to + 1 < after && speed(to + 1) < half) to++;
  return { ...found, from, to };
}

/** Whether a body goes on in the direction in which it went: who turns back has to stand. */
function goesOneWay(study: Study, figure: number, { before, after }: { before: number; after: number }) {
  const { position } = worldOf(study, hipsOf(study, figure));
  const [ax, az] = travel(position, before);
  const [bx, bz] = travel(position, after);
  return ax * bx + az * bz > oneWay * lengthOf(ax, az) * lengthOf(bx, bz);
}

/** Whether a foot goes on at a sample, at least as fast as the body went: a step that pauses as a whole is one that was meant. */
function goesOn(study: Study, foot: number, sample: number, speed: number): boolean {
  const [x, z] = travel(worldOf(study, foot).position, sample);
  return lengthOf(x, z) >= speed;
}

/** Metres per sample of the hips over the ground. */
function speedOf(study: Study, figure: number): (sample: number) => number {
  const { position } = worldOf(study, hipsOf(study, figure));
  return (sample) => {
    const [x, z] = travel(position, sample);
    return lengthOf(x, z);
  };
}

/** Way over the ground per sample, over a sample on each side. */
function travel(path: Float64Array, i: number): [number, number] {
  const a = Math.max(0, i - 1);
  const b = Math.min(path.length / 3 - 1, i + 1);
  const span = Math.max(1, b - a);
  return [(path[3 * b] - path[3 * a]) / span, (path[3 * b + 2] - path[3 * a + 2]) / span];
}

function alongGround(path: Float64Array, a: number, b: number): number {
  return lengthOf(path[3 * b] - path[3 * a], path[3 * b + 2] - path[3 * a + 2]);
}
