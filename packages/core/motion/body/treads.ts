import { rotateVector } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import { measure, type Study } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { carrierOf, type Figure, figuresOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { neverFeet } from "../ground/rest-stand.ts";
import { extremesOf, timeOfExtreme } from "./beat.ts";

/** A leg of a body that goes: when its end is set down and taken up. */
export interface Tread {
  /** Rig index of the last node of the leg. */
  readonly end: number;
  /** Where it is on the average, in the body's own axes, metres: on the way that the body goes, and across it. */
  readonly along: number;
  readonly across: number;
  /** Height of the body over where it stands, metres. */
  readonly height: number;
  /** Samples, with a fraction, at which it is farthest ahead of the body: there it lands. */
  readonly landings: Float64Array;
  /** Samples at which it is farthest behind: there it lifts. */
  readonly lifts: Float64Array;
}

/** Least swing of a leg to and fro, in heights of the body over it: less is a shuffle (our choice). */
const leastSwing = 0.1;
/** Speed over the ground on the way back, as a share of that on the way ahead, up to which an end stands (our choice). */
const standing = 0.6;
/** Lift of an end on its way ahead, over its way back, from which it is taken up, in heights of the body (our choice). */
const leastLift = 0.005;
/** Ends this near to each other, in heights of the body, are of one foot, as toes are (our choice). */
const oneFoot = 0.15;
/** Least way that a body goes to have a direction, in heights of the body over its feet (our choice). */
const leastWay = 0.5;

/**
 * The legs on which a figure goes, by how their ends move: to and fro along the body's way, standing on the ground on their
 * way back and lifted on their way ahead. A foot lands where it is farthest ahead of the body, and lifts where it is
 * farthest behind (Zeni, Richards and Higginson 2008, Gait & Posture 27:710, who take these for the events of a gait; from
 * memory). It needs no surface and no names. Legs of people are left out: other measures know theirs.
 * @param figure index into `figuresOf`
 */
export const treadsOf = measure("treads", (study, figure: number): readonly Tread[] => {
  const body = figuresOf(study)[figure];
  if (body === undefined || body.kind === "human") return [];
  const carrier = carrierOf(body);
  const ends = rigEndsOf(study, body, carrier);
  if (ends.length < 2) return [];
  const way = wayOf(study, carrier);
  if (way === null) return [];
  const legs: Tread[] = [];
  for (const end of ends) {
    const tread = treadOf(study, carrier, end, way);
    if (tread !== null && !legs.some((leg) => isOneFoot(leg, tread))) legs.push(tread);
  }
  return legs;
});

function rigEndsOf(study: Study, body: Figure, carrier: number): number[] {
  const { children } = rigOf(study);
  return body.nodes.filter(
    (node) => node !== carrier && children[node].length === 0 && !neverFeet.has(body.partOf.get(node)),
  );
}

function isOneFoot(a: Tread, b: Tread): boolean {
  return (
    a.landings.length === b.landings.length &&
    Math.hypot(a.along - b.along, a.across - b.across) < oneFoot * a.height
  );
}

/** Where a body goes in its own axes, as they stand at the first sample: a level direction, and metres. */
interface Way {
  readonly x: number;
  readonly z: number;
  readonly length: number;
}

function wayOf(study: Study, carrier: number): Way | null {
  const { position, orientation } = worldOf(study, carrier);
  const step = new Float64Array(3);
  let x = 0;
  let z = 0;
  for (let i = 0; 3 * i + 5 < position.length; i++) {
    for (let k = 0; k < 3; k++) step[k] = position[3 * i + 3 + k] - position[3 * i + k];
    intoBody(orientation, i, step);
    x += step[0];
    z += step[2];
  }
  const length = Math.hypot(x, z);
  return length > 0 ? { x: x / length, z: z / length, length } : null;
}

const turn = new Float64Array(4);

/** Turns a vector of the world into the axes of a body as they stand at the first sample, in place. */
function intoBody(orientation: Float64Array, sample: number, v: Float64Array): void {
  for (let k = 0; k < 3; k++) turn[k] = -orientation[4 * sample + k];
  turn[3] = orientation[4 * sample + 3];
  rotateVector(turn, 0, v, 0, v, 0);
  rotateVector(orientation, 0, v, 0, v, 0);
}

function treadOf(study: Study, carrier: number, end: number, way: Way): Tread | null {
  const { count } = gridOf(study);
  const body = worldOf(study, carrier);
  const path = worldOf(study, end).position;
  const height = heightOver(body.position, path);
  if (!(height > 0) || way.length < leastWay * height) return null;
  const ahead = floats(count);
  const arm = new Float64Array(3);
  let along = 0;
  let across = 0;
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 3; k++) arm[k] = path[3 * i + k] - body.position[3 * i + k];
    intoBody(body.orientation, i, arm);
    ahead[i] = arm[0] * way.x + arm[2] * way.z;
    along += ahead[i] / count;
    across += (arm[0] * way.z - arm[2] * way.x) / count;
  }
  const turns = extremesOf(ahead, leastSwing * height);
  if (turns.length < 2 || !treads(path, ahead, turns, height)) return null;
  const [landings, lifts] = [true, false].map((isLanding) =>
    Float64Array.from(
      turns.filter((_, e) => isAhead(ahead, turns, e) === isLanding),
      (at) => timeOfExtreme(ahead, at),
    ),
  );
  return { end, along, across, height, landings, lifts };
}

/** Height of a body over the lowest place of an end, on the average. */
function heightOver(body: Float64Array, path: Float64Array): number {
  let low = Number.POSITIVE_INFINITY;
  let mean = 0;
  for (let k = 1; k < path.length; k += 3) {
    low = Math.min(low, path[k]);
    mean += (3 * body[k]) / path.length;
  }
  return mean - low;
}

/** Whether a turning point is one at which the end is ahead. */
function isAhead(ahead: Float64Array, turns: readonly number[], e: number): boolean {
  const beside = turns[e + 1 < turns.length ? e + 1 : e - 1];
  return ahead[turns[e]] > ahead[beside];
}

/** Whether an end stands on its way back and is lifted on its way ahead. */
function treads(path: Float64Array, ahead: Float64Array, turns: readonly number[], height: number): boolean {
  const back = { steps: 0, way: 0, height: 0 };
  const forth = { steps: 0, way: 0, height: 0 };
  for (let e = 0; e + 1 < turns.length; e++) {
    const stroke = isAhead(ahead, turns, e) ? back : forth;
    for (let i = turns[e]; i < turns[e + 1]; i++) {
      stroke.steps++;
      stroke.way += distanceBetween(path, i, path, i + 1);
      stroke.height += path[3 * i + 1];
    }
  }
  if (back.steps === 0 || forth.steps === 0) return false;
  const lift = forth.height / forth.steps - back.height / back.steps;
  return lift > leastLift * height && back.way / back.steps < standing * (forth.way / forth.steps);
}

/** The two legs of a pair: they lie opposite each other, one on each side of the body. */
export type LegPair = readonly [Tread, Tread];

/**
 * The pairs of a figure's legs, the nearest to opposite first; none for bodies on fewer than three legs.
 * @param figure index into `figuresOf`
 */
export const legPairsOf = measure("leg pairs", (study, figure: number): readonly LegPair[] => {
  const legs = treadsOf(study, figure);
  if (legs.length < 3) return [];
  let middle = 0;
  for (const { across } of legs) middle += across / legs.length;
  const aside = ({ across }: Tread) => across - middle;
  const choices = legs
    .filter((leg) => aside(leg) > 0)
    .flatMap((one) =>
      legs
        .filter((leg) => aside(leg) <= 0)
        .map((other) => ({
          pair: [one, other] as const,
          off: Math.abs(one.along - other.along) + Math.abs(aside(one) + aside(other)),
        })),
    )
    .sort((a, b) => a.off - b.off);
  const pairs: LegPair[] = [];
  for (const { pair } of choices) {
    if (!pairs.flat().some((leg) => pair.includes(leg))) pairs.push(pair);
  }
  return pairs;
});
