import type { Study } from "../../base/study.ts";
import type { Vector } from "../../base/vector.ts";
import type { BodyPart } from "../../document/schema.ts";
import { carrierOf, type Figure, figuresOf } from "../../rig/body.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { angularSpeedOf, localAngularSpeedOf } from "../path/rotation.ts";
import { twistAbout } from "./twist.ts";

/** What can lead or follow in a turn or a reach. */
export type OrderPart = "eyes" | "head" | "trunk" | "hips" | "foot" | "upper arm" | "forearm" | "hand";

/** One of the parts that take part, and when. */
export interface PartStart {
  readonly part: OrderPart;
  /** Rig index of its node; of the eyes and the feet the one that starts first. */
  readonly node: number;
  /** Seconds behind the part that starts first. */
  readonly lag: number;
  /** The same in judged frames. */
  readonly frames: number;
}

/** Parts in the order in which they start: none, or two at the least. */
export type Order = readonly PartStart[];

/**
 * When the parts of standing people start to turn by up to 180° towards something of which they do not know where it will
 * be, seconds after the signal. Where they know it, trunk and feet start earlier, nearly as one with eyes and head. The
 * order is no rule: in a task of one's own the head starts first in 48 of 100 shifts of gaze, the eyes in 15 (Vision
 * Research 2001 41:3307, abstract).
 */
export const turnStarts = {
  eyes: 0.5,
  head: 0.6,
  trunk: 0.7,
  foot: 1.1,
  source: "Anastasopoulos, Ziavra, Hollands, Bronstein 2009, abstract",
} as const;

/** Share of its own greatest speed at which a part has started; compared with its own, large and small start alike. */
const underWay = 0.1;
/** Least share of the greatest turn that a part has to make to take part. */
const takesPart = 0.12;
/** Turns, radians, and speeds, radians per second, under which nothing moves. */
const leastTurn = 1e-3;

/**
 * How long before a move a part may start that leads it, seconds: what the feet run behind the eyes (see
 * {@link turnStarts}); and how long after it one may turn that follows: what the feet take from the signal.
 */
const before = turnStarts.foot - turnStarts.eyes;
const after = turnStarts.foot;

/**
 * In which order the parts of a body start a turn: eyes, head, trunk, hips and the first foot, by how each turns in the
 * world about the axis of the turn. What turns by less than 12 % of what turns most takes no part.
 * @param figure index into `figuresOf`
 * @param axis unit vector in the world's axes, as it stands at sample `from`
 * @param from first sample of the turn @param to last one
 * @returns lags in rising order; empty where fewer than two parts turn
 */
export function turnOrder(study: Study, figure: number, axis: Vector, from: number, to: number): Order {
  const { count, rate } = gridOf(study);
  const first = Math.max(0, from - Math.round(before * rate));
  const last = Math.min(count - 1, to + Math.round(after * rate));
  const body = figuresOf(study)[figure];
  const courses: { part: OrderPart; node: number; course: Float64Array; turn: number }[] = [];
  let most = 0;
  for (const [part, nodes] of turningParts(study, body)) {
    for (const node of nodes) {
      const course = twistAbout(study, { node, against: -1 }, axis, from, first, last);
      const turn = largestWay(course);
      courses.push({ part, node, course, turn });
      if (turn > most) most = turn;
    }
  }
  if (most < leastTurn) return [];
  const starts: Start[] = [];
  for (const { part, node, course, turn } of courses) {
    if (!(turn >= takesPart * most)) continue;
    // From angles to steps, in place.
    for (let i = course.length - 1; i > 0; i--) course[i] = Math.abs(course[i] - course[i - 1]);
    course[0] = 0;
    starts.push({ part, node, at: startIn(course, from - first, to - first) });
  }
  return inOrder(starts, rate);
}

/**
 * In which order a reach starts: hips and trunk as they turn in the world, upper arm, forearm and hand as they turn
 * against what carries them. A lead of trunk over arm may be less than a frame (18 ms in a forehand, J Sports Sci Med 2010
 * 9:643, abstract), and no order is a rule (Fradet and others 2004, abstract).
 * @param figure index into `figuresOf`
 * @param side the arm that reaches
 * @param from first sample of the reach @param to last one
 * @returns lags in rising order; empty where fewer than two parts move
 */
export function reachOrder(
  study: Study,
  figure: number,
  side: "left" | "right",
  from: number,
  to: number,
): Order {
  const { count, rate } = gridOf(study);
  const first = Math.max(0, from - Math.round(before * rate));
  const last = Math.min(count - 1, to);
  const body = figuresOf(study)[figure];
  const starts: Start[] = [];
  const add = (
    part: OrderPart,
    node: number | undefined,
    speed: (study: Study, node: number) => Float64Array,
  ) => {
    if (node === undefined) return;
    const steps = speed(study, node).slice(first, last + 1);
    if (largestOf(steps) < leastTurn) return;
    starts.push({ part, node, at: startIn(steps, from - first, to - first) });
  };
  const partOf = (name: string) => body.parts.get(`${side}${name}` as BodyPart)?.[0];
  add("hips", carrierOf(body), angularSpeedOf);
  add("trunk", body.parts.get("chest")?.[0], angularSpeedOf);
  add("upper arm", partOf("UpperArm"), localAngularSpeedOf);
  add("forearm", partOf("Forearm"), localAngularSpeedOf);
  add("hand", partOf("Hand"), localAngularSpeedOf);
  return inOrder(starts, rate);
}

interface Start {
  readonly part: OrderPart;
  readonly node: number;
  /** Sample, a fraction. */
  readonly at: number;
}

/** Nodes under a head that turn the eyes. */
const isEye = /(^|[^a-z])eyes?(balls?)?([^a-z]|$)/i;

function turningParts(study: Study, body: Figure): [OrderPart, readonly number[]][] {
  const { parts, nodes } = body;
  const { children, ids } = rigOf(study);
  const head = parts.get("head")?.[0];
  const eyes = head === undefined ? [] : children[head].filter((node) => isEye.test(ids[node]));
  const feet = (["leftFoot", "rightFoot"] as const).flatMap((part) => parts.get(part)?.slice(0, 1) ?? []);
  return [
    ["eyes", eyes],
    ["head", head === undefined ? [] : [head]],
    ["trunk", parts.get("chest")?.slice(0, 1) ?? []],
    ["hips", nodes.length === 0 ? [] : [carrierOf(body)]],
    ["foot", feet],
  ];
}

/** How far a course is from its first value at most. */
function largestWay(course: Float64Array): number {
  let most = 0;
  for (let i = 1; i < course.length; i++) most = Math.max(most, Math.abs(course[i] - course[0]));
  return most;
}

function largestOf(series: Float64Array): number {
  let most = 0;
  for (const value of series) if (value > most) most = value;
  return most;
}

/**
 * When a part starts: where its speed last rises through a tenth of its peak before that peak, between samples on a straight
 * line. The peak is sought in the move, and around it only for a part that is slow in it.
 * @param steps speed at each sample, any unit
 */
function startIn(steps: Float64Array, from: number, to: number): number {
  let peak = Math.min(from, steps.length - 1);
  for (let i = peak; i <= Math.min(to, steps.length - 1); i++) if (steps[i] > steps[peak]) peak = i;
  let widest = 0;
  for (let i = 0; i < steps.length; i++) if (steps[i] > steps[widest]) widest = i;
  if (steps[widest] > 3 * steps[peak]) peak = widest;
  const level = underWay * steps[peak];
  let i = peak;
  while (i > 0 && steps[i - 1] >= level) i--;
  if (i === 0) return 0;
  const below = steps[i - 1];
  return i - 1 + (level - below) / Math.max(steps[i] - below, 1e-12);
}

/** Of parts with two nodes the one that starts first; lags from the first of all. */
function inOrder(starts: readonly Start[], rate: number): Order {
  const firsts = new Map<OrderPart, Start>();
  for (const start of starts) {
    const other = firsts.get(start.part);
    if (other === undefined || start.at < other.at) firsts.set(start.part, start);
  }
  if (firsts.size < 2) return [];
  const sorted = [...firsts.values()].sort((a, b) => a.at - b.at);
  const { at: zero } = sorted[0];
  return sorted.map(({ part, node, at }) => ({ part, node, lag: (at - zero) / rate, frames: at - zero }));
}
