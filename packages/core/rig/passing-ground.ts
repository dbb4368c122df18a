import { inOrder, medianOf } from "../base/median.ts";
import { floats } from "../base/room.ts";
import {
  bothStretches,
  changedSamples,
  type Measure,
  patchedMeasure,
  type Study,
  shotMeasure,
} from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import type { SurfaceSpec } from "../document/schema.ts";
import { gridOf } from "../time/grid.ts";
import { runsWhere } from "../time/span.ts";
import { figuresOf } from "./body.ts";
import { localMotionOf } from "./local.ts";
import { chainOf, rigOf } from "./rig.ts";
import { metresPerUnitOf, statureOf } from "./stature.ts";
import { axisTurnOf, upIndexOf } from "./up.ts";
import { composePositions, composeTurns, type World } from "./world.ts";

/**
 * How the ground goes by under a body that walks or runs in place, as cycles are animated: metres per second, across and
 * along.
 */
export type PassingGround = readonly [x: number, z: number];

/** A foot stands within this share of body height over its usual lowest: an ankle of a flat foot (our choice). */
const lowShare = 0.02;
/** The lowest tenth of a foot's samples: what dips under the floor for a few frames is not how it stands. */
const lowestShare = 0.1;
/** Seconds for which a foot stands at least; half of a sprinter's stance, which is the shortest of all (from memory). */
const leastStance = 0.06;
/** Share of all samples for which each foot stands at least: a runner's does for a third of its stride, a pedal is low for a fifth. */
const leastStanding = 0.22;
/** Body heights per second under which nothing is taken to walk: a third of a slow walk (our choice). */
const leastSpeed = 0.1;
/** How far the ground under single stances may differ from what it is under most, as a share (our choice). */
const spread = 0.25;
/** Speeds within this share of each other are one: a hundredth to either side is under a millimetre a frame (our choice). */
const alikeShare = 0.02;
/** Share of the standing samples that have to agree (our choice). */
const agreeing = 0.8;
/** Of the ground's way, how much the hips may go at most: else the body travels (our choice). */
const ownWay = 0.15;
/** Share of standing samples that repeat the one before, from which on poses are held: they are no motion. */
const held = 0.2;
/** Body heights per second to which the ground's speed is told: over half a second 4 mm of a person, which nobody sees as a slide. */
const step = 0.005;

/**
 * The ground under a body that goes in place; null where it travels, stands, or where something in the shot stands still
 * in the world: contacts, props, bounded surfaces, or another figure. Then its feet slide.
 *
 * Both feet, while they are low, go the same way at the same steady speed, and the hips stay. Motion and its laws are the
 * same for who stands and for who goes along: what is judged against the ground is judged in the ground's own frame.
 */
export const passingGroundOf = shotMeasure<PassingGround | null>(
  "passing ground",
  (study) => {
    const { contacts = [], props = [], surfaces = [] } = headerOf(study);
    const [figure, other] = figuresOf(study);
    if (figure === undefined || other !== undefined || contacts.length > 0 || props.length > 0) return null;
    if (!surfaces.every((surface) => isEndlessFloor(surface, upIndexOf(study)))) return null;
    const feet = [figure.parts.get("leftFoot")?.[0], figure.parts.get("rightFoot")?.[0]];
    const hips = figure.parts.get("root")?.[0];
    if (hips === undefined || feet[0] === undefined || feet[1] === undefined) return null;
    const stature = statureOf(study, 0);
    const stands = feet.flatMap((foot) => standsOf(study, pathOf(study, foot as number), stature));
    if (stands.length < 2 || stands.includes(null)) return null;
    const passing = commonSpeed(stands as Stand[], stature);
    if (passing === null) return null;
    const { count, dt } = gridOf(study);
    const path = pathOf(study, hips);
    const last = 3 * (count - 1);
    const way = Math.hypot(path[last] - path[0], path[last + 2] - path[2]);
    if (way > ownWay * Math.hypot(...passing) * (count - 1) * dt) return null;
    return [rounded(passing[0], step * stature), rounded(passing[1], step * stature)];
  },
  (a, b) => a === b || (a !== null && b !== null && a[0] === b[0] && a[1] === b[1]),
);

/** Level to a degree or two, without edges, and carried by nothing. */
function isEndlessFloor({ edges, node, normal }: SurfaceSpec, up: number): boolean {
  if (edges !== undefined || node !== undefined) return false;
  return normal === undefined || normal[up] >= 0.999 * Math.hypot(...normal);
}

/** A stretch over which a foot is low: from sample to sample, how fast it goes across and along, metres per second. */
interface Stand {
  readonly x: Float64Array;
  readonly z: Float64Array;
}

/** Where a foot stands; a null where it stands too briefly in all, or in held poses. */
function standsOf(study: Study, path: Float64Array, stature: number): (Stand | null)[] {
  const { count, dt } = gridOf(study);
  const heights = floats(count);
  for (let i = 0; i < count; i++) heights[i] = path[3 * i + 1];
  const lowest = inOrder(heights.slice(), Math.floor(lowestShare * count));
  const runs = runsWhere(count, (i) => heights[i] <= lowest + lowShare * stature).filter(
    ({ from, to }) => (to - from) * dt >= leastStance,
  );
  let standing = 0;
  let repeats = 0;
  for (const { from, to } of runs) {
    standing += to - from + 1;
    for (let k = 3 * from + 3; k <= 3 * to; k += 3)
      if (path[k] === path[k - 3] && path[k + 1] === path[k - 2] && path[k + 2] === path[k - 1]) repeats++;
  }
  if (standing < leastStanding * count || repeats > held * standing) return [null];
  return runs.map(({ from, to }) => {
    const stand = { x: floats(to - from), z: floats(to - from) };
    for (let n = 0, k = 3 * from; n < to - from; n++, k += 3) {
      stand.x[n] = (path[k + 3] - path[k]) / dt;
      stand.z[n] = (path[k + 5] - path[k + 2]) / dt;
    }
    return stand;
  });
}

/**
 * How fast the ground goes by: as all of a flat foot does with it, so that this is the speed that most samples share. Null
 * where the stands as a whole do not agree with it, or nothing goes by.
 */
function commonSpeed(stands: readonly Stand[], stature: number): PassingGround | null {
  const [xs, zs] = [joined(stands.map(({ x }) => x)), joined(stands.map(({ z }) => z))];
  const [x, z] = [medianOf(xs), medianOf(zs)];
  const usual = Math.hypot(x, z);
  if (usual < leastSpeed * stature) return null;
  const speed = mostShared(
    xs.map((across, n) => (across * x + zs[n] * z) / usual),
    alikeShare * usual,
  );
  const passing = [(speed * x) / usual, (speed * z) / usual] as const;
  let alike = 0;
  for (const stand of stands) {
    const [across, along] = [meanOf(stand.x), meanOf(stand.z)];
    if (Math.hypot(across - passing[0], along - passing[1]) <= spread * usual) alike += stand.x.length;
  }
  return alike >= agreeing * xs.length ? passing : null;
}

function joined(parts: readonly Float64Array[]): Float64Array {
  const all = floats(parts.reduce((length, part) => length + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** The middle of the most values that lie within a width of each other. */
function mostShared(values: Float64Array, width: number): number {
  values.sort();
  let best = { from: 0, to: 0 };
  for (let from = 0, to = 0; from < values.length; from++) {
    while (to + 1 < values.length && values[to + 1] - values[from] <= width) to++;
    if (to - from > best.to - best.from) best = { from, to };
  }
  return medianOf(values.subarray(best.from, best.to + 1));
}

const rounded = (value: number, to: number) => to * Math.round(value / to);

/** How a node moves as the curves have it, in metres, y up: what the world's frame is found from. */
type Place = Pick<World, "position" | "orientation">;

/** Scales are left out: they change how far things are, not whether they go by. */
const placeOf: Measure<number, Place> = patchedMeasure(
  "place on the curves",
  (study, node: number): Place => {
    const { count } = gridOf(study);
    const place = { position: floats(3 * count), orientation: floats(4 * count) };
    compose(study, node, place, 0, count);
    return place;
  },
  (a, b) =>
    bothStretches(changedSamples(a.position, b.position, 3), changedSamples(a.orientation, b.orientation, 4)),
  (study, node, { position, orientation }, from, to) => {
    const part = {
      position: position.subarray(3 * from, 3 * to + 3),
      orientation: orientation.subarray(4 * from, 4 * to + 4),
    };
    compose(study, node, part, from, to + 1);
    return [from, to];
  },
);

/** Path of a node as the curves have it; of a chain of any length, as it is asked for from its root on. */
function pathOf(study: Study, node: number): Float64Array {
  for (const at of chainOf(rigOf(study), node)) placeOf(study, at);
  return placeOf(study, node).position;
}

/** Works out the samples from..to (excluded) of a node's place. */
function compose(study: Study, node: number, place: Place, from: number, to: number): void {
  const up = rigOf(study).parent[node];
  const above = up < 0 ? originOf(study) : placeOf(study, up);
  const parent = { ...above, linear: null, still: false };
  const { shift, turn } = localMotionOf(study, node);
  composeTurns(parent, turn, place.orientation, from, to);
  composePositions(parent, shift, metresPerUnitOf(study), place.position, from, to);
}

/** What roots hang on, as the curves have it. */
const originOf = shotMeasure<Place>("origin of the curves", (study) => {
  const { count } = gridOf(study);
  const orientation = floats(4 * count);
  for (let i = 0; i < count; i++) orientation.set(axisTurnOf(study), 4 * i);
  return { position: floats(3 * count), orientation };
});
