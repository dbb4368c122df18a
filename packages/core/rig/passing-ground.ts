import { medianOf } from "../base/median.ts";
import { floats } from "../base/room.ts";
import { type Study, shotMeasure } from "../base/study.ts";
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
    const places = new Places(study);
    const stature = statureOf(study, 0);
    const stands = feet.flatMap((foot) => standsOf(study, places.of(foot as number), stature));
    if (stands.length < 2 || stands.includes(null)) return null;
    const passing = commonSpeed(stands as Stand[], stature);
    if (passing === null) return null;
    const { count, dt } = gridOf(study);
    const path = places.of(hips);
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

/** A stretch over which a foot is low. */
interface Stand {
  /** From sample to sample, how fast it goes along, metres per second. */
  readonly along: readonly PassingGround[];
}

/** Where a foot stands; a null where it stands too briefly in all, or in held poses. */
function standsOf(study: Study, path: Float64Array, stature: number): (Stand | null)[] {
  const { count, dt } = gridOf(study);
  const heights = floats(count);
  for (let i = 0; i < count; i++) heights[i] = path[3 * i + 1];
  const lowest = heights.slice().sort()[Math.floor(lowestShare * count)];
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
  return runs.map(({ from, to }) => ({
    along: Array.from({ length: to - from }, (_, n) => {
      const k = 3 * (from + n);
      return [(path[k + 3] - path[k]) / dt, (path[k + 5] - path[k + 2]) / dt] as const;
    }),
  }));
}

/**
 * How fast the ground goes by: as all of a flat foot does with it, so that this is the speed that most samples share. Null
 * where the stands as a whole do not agree with it, or nothing goes by.
 */
function commonSpeed(stands: readonly Stand[], stature: number): PassingGround | null {
  const all = stands.flatMap(({ along }) => along);
  const middle = (axis: 0 | 1) => medianOf(Float64Array.from(all, (way) => way[axis]));
  const [x, z] = [middle(0), middle(1)];
  const usual = Math.hypot(x, z);
  if (usual < leastSpeed * stature) return null;
  const speed = mostShared(
    Float64Array.from(all, (way) => (way[0] * x + way[1] * z) / usual),
    alikeShare * usual,
  );
  const passing = [(speed * x) / usual, (speed * z) / usual] as const;
  let alike = 0;
  for (const { along } of stands) {
    const mean = (axis: 0 | 1) => along.reduce((sum, way) => sum + way[axis], 0) / along.length;
    if (Math.hypot(mean(0) - passing[0], mean(1) - passing[1]) <= spread * usual) alike += along.length;
  }
  return alike >= agreeing * all.length ? passing : null;
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

/** Paths of nodes as the curves have them, in metres, y up: what the world's frame is found from. */
class Places {
  private readonly study: Study;
  private readonly known = new Map<number, World>();

  constructor(study: Study) {
    this.study = study;
  }

  of(node: number): Float64Array {
    let world = this.outer();
    for (const at of chainOf(rigOf(this.study), node)) world = this.below(world, at);
    return world.position;
  }

  private outer(): World {
    const { count } = gridOf(this.study);
    const orientation = floats(4 * count);
    for (let i = 0; i < count; i++) orientation.set(axisTurnOf(this.study), 4 * i);
    return { position: floats(3 * count), orientation, linear: null, still: false };
  }

  /** Scales are left out: they change how far things are, not whether they go by. */
  private below(parent: World, node: number): World {
    const known = this.known.get(node);
    if (known !== undefined) return known;
    const { count } = gridOf(this.study);
    const { shift, turn } = localMotionOf(this.study, node);
    const world = { position: floats(3 * count), orientation: floats(4 * count), linear: null, still: false };
    composeTurns(parent, turn, world.orientation, 0, count);
    composePositions(parent, shift, metresPerUnitOf(this.study), world.position, 0, count);
    this.known.set(node, world);
    return world;
  }
}
