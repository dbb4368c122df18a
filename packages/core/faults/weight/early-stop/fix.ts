import { referenceRate, standardGravity } from "../../../base/constants.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { freeFallsOf } from "../../../motion/body/free-fall.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { earlyStop } from "./check.ts";
import type { StallNumbers } from "./stall-finding.ts";

export const earlyStopFix = defineFix(earlyStop, {
  what: "Lets a body keep falling to the contact, and takes the fall up after it with the legs; carries one that stops in mid step on at its speed.",
  title: ({ frames }) =>
    `keep going from frame ${frames[0]} to the contact at frame ${frames[1]}, and give after it`,
  *propose(subject) {
    const { study, shot } = subject;
    const { figure } = subject;
    if (figure < 0) return;
    if ("left" in subject.finding.numbers) {
      yield* evenSteps(subject, subject.finding.numbers);
      return;
    }
    const { rate, count } = gridOf(study);
    const frames = (number: number) => Math.max(2, Math.round((number * rate) / referenceRate));
    const courses = [];
    // From half of gravity on a fall reads as one; the less it gains, the less has to be taken up.
    for (const share of [0.5, 0.65, 0.8, 1]) {
      for (const give of [8, 12]) {
        courses.push(laterFall(subject, share, frames(5), frames(give)));
        courses.push(deeperFall(subject, share, frames(give)));
      }
    }
    for (const rise of courses.filter((course) => course !== null).sort((a, b) => largest(a) - largest(b))) {
      const way = new Float64Array(3 * count);
      for (let i = 0; i < count; i++) way[3 * i + 1] = rise[i];
      const edits = shiftedNode(study, hipsOf(study, figure), { lo: 0, hi: count - 1 }, way, falling);
      yield withEndsKept(study, shot, edits);
    }
  },
});

/** Times the usual tolerance within which a fall that nobody keyed is laid: few keys say it. */
const falling = 6;

function largest(series: Float64Array): number {
  return series.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
}

/** Samples (at 24 per second) behind the catching up within which the body is back at its speed (our choice). */
const longestCatch = 12;

/** The body carried on from its speed before a stop in mid step to the one behind it; feet and held hands stay. */
function* evenSteps({ study, shot, figure }: Subject, { before, after }: StallNumbers): Generator<KeyEdit[]> {
  const { rate, count } = gridOf(study);
  const hips = hipsOf(study, figure);
  const { position } = worldOf(study, hips);
  const speed = (i: number) =>
    Math.hypot(position[3 * i + 3] - position[3 * i - 3], position[3 * i + 5] - position[3 * i - 1]) / 2;
  const last = Math.min(count - 2, after + Math.round((longestCatch * rate) / referenceRate));
  const first = Math.max(1, before);
  let caught = after;
  while (caught < last && speed(caught) > 1.2 * speed(first)) caught++;
  for (const to of new Set([caught, Math.min(after, last), last])) {
    const way = new Float64Array(3 * count);
    for (let i = first + 1; i < to; i++) {
      for (const k of [0, 2]) way[3 * i + k] = between(position, first, to, i, k) - position[3 * i + k];
    }
    yield withEndsKept(study, shot, shiftedNode(study, hips, { lo: 0, hi: count - 1 }, way));
  }
}

/** A path's coordinate between two samples, as a cubic that leaves the one and comes to the other at the path's own speed. */
function between(path: Float64Array, from: number, to: number, at: number, k: number): number {
  const slope = (i: number) => ((path[3 * i + 3 + k] - path[3 * i - 3 + k]) / 2) * (to - from);
  const t = (at - from) / (to - from);
  const [t2, t3] = [t * t, t * t * t];
  return (
    (2 * t3 - 3 * t2 + 1) * path[3 * from + k] +
    (t3 - 2 * t2 + t) * slope(from) +
    (3 * t2 - 2 * t3) * path[3 * to + k] +
    (t3 - t2) * slope(to)
  );
}

/** Last sample that is supported before a fall, and the first one after it; null where the range starts in it. */
function fallOf({ study, figure, from, to }: Subject): { start: number; lands: number } | null {
  const fall = freeFallsOf(study, figure).find((other) => other.from <= from && other.to >= from);
  const last = gridOf(study).count - 1;
  return fall === undefined || fall.from < 2 ? null : { start: fall.from - 1, lands: Math.min(to, last) };
}

/**
 * How much higher the body is, per sample, metres, when it is held up to the end of its support and falls from there, so
 * that it is where it is now at the contact; what it falls too fast by then is taken up after it.
 * @param share of gravity that it falls with
 * @param before samples before the end of the support over which it comes to stand higher
 */
function laterFall(subject: Subject, share: number, before: number, give: number): Float64Array | null {
  const fall = fallOf(subject);
  if (fall === null) return null;
  const { start, lands } = fall;
  const { dt, count } = gridOf(subject.study);
  const height = heightsOf(subject);
  const time = (lands - start) * dt;
  const top = height(lands) + 0.5 * share * standardGravity * time * time;
  const higher = top - height(start);
  if (higher <= 0) return null;
  const rise = new Float64Array(count);
  // Up from where it was, to rest at the end of the support.
  const first = Math.max(0, start - before);
  const speed = height(first + 1) - height(first);
  for (let i = first + 1; i <= start; i++) {
    const t = (i - first) / (start - first);
    const from = height(first) + speed * (start - first) * t * (1 - t) * (1 - t);
    rise[i] = from + (top - height(first)) * t * t * (3 - 2 * t) - height(i);
  }
  for (let i = start + 1; i <= lands; i++) {
    const t = (i - start) * dt;
    rise[i] = top - 0.5 * share * standardGravity * t * t - height(i);
  }
  giveAfter(rise, lands, give);
  return rise;
}

/** The same for a body that falls on from where its support ends, and so comes lower by the contact. */
function deeperFall(subject: Subject, share: number, give: number): Float64Array | null {
  const fall = fallOf(subject);
  if (fall === null) return null;
  const { start, lands } = fall;
  const { dt, count } = gridOf(subject.study);
  const height = heightsOf(subject);
  const speed = (height(start + 1) - height(start - 1)) / (2 * dt);
  const rise = new Float64Array(count);
  for (let i = start + 1; i <= lands; i++) {
    const t = (i - start) * dt;
    rise[i] = height(start) + speed * t - 0.5 * share * standardGravity * t * t - height(i);
  }
  giveAfter(rise, lands, give);
  return rise;
}

/** What a body is off its course by at a contact, and the speed with which it comes, is given back over some samples. */
function giveAfter(rise: Float64Array, lands: number, give: number): void {
  const [off, slope] = [rise[lands], rise[lands] - rise[lands - 1]];
  for (let i = lands + 1; i < Math.min(rise.length, lands + give); i++) {
    const t = (i - lands) / give;
    rise[i] = off * (1 - t * t * (3 - 2 * t)) + slope * give * t * (1 - t) * (1 - t);
  }
}

function heightsOf({ study, figure }: Subject): (sample: number) => number {
  const path = massCentreOf(study, figure);
  return (sample) => path[3 * sample + 1];
}
