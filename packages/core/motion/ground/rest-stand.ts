import { measure, type Study } from "../../base/study.ts";
import type { BodyPart } from "../../document/schema.ts";
import { carrierOf, figuresOf, statureOf } from "../../rig/body.ts";
import { readName } from "../../rig/parts-by-name.ts";
import { worldOf } from "../../rig/pose.ts";
import { isAbove, restPositionsOf, rigOf } from "../../rig/rig.ts";
import { metresPerUnitOf } from "../../rig/stature.ts";
import { upAxisOf } from "../../rig/up.ts";
import { highestShares, levelWidthShare, namedFootPointsOf } from "./foot-points.ts";
import { type Surface, upright } from "./surface.ts";

/** How the feet of a figure stand in its rest pose. */
export interface RestStand {
  /** Height of the lowest point of its feet over the origin, metres. */
  readonly floor: number;
  /** Position of each point of its feet, metres, y up. */
  readonly points: ReadonlyMap<number, readonly [number, number, number]>;
  /** Those of them that are no named foot's: ends of chains. */
  readonly ends: readonly number[];
}

/** Parts whose ends are no feet, however low they hang. */
export const neverFeet: ReadonlySet<BodyPart | undefined> = new Set<BodyPart>([
  "head",
  "jaw",
  "neck",
  "tail",
  "ears",
  "hair",
  "leftWing",
  "rightWing",
  "prop",
]);

/**
 * The rest pose of a figure as a stand: nothing of the figure is lower than its feet, and neither named foot is higher
 * than the other, by more than heights of one level lie apart. All other ends of chains that reach the floor in it are
 * points too, one of those that hang on one joint. Null where the rest pose is none: many recordings rest on nothing.
 */
export const restStandOf = measure("rest stand", (study, figure: number): RestStand | null => {
  const rig = rigOf(study);
  const body = figuresOf(study)[figure];
  const width = levelWidthShare * statureOf(study, figure);
  const points = new Map<number, readonly [number, number, number]>();
  const lowest = new Map<number, number>();
  const named = namedFootPointsOf(rig, body);
  let floor = Number.POSITIVE_INFINITY;
  for (const { node, tip, foot } of named) {
    for (const point of tip >= 0 ? [node, tip] : [node]) {
      const at = restPointOf(study, point);
      points.set(point, at);
      lowest.set(foot, Math.min(lowest.get(foot) ?? at[1], at[1]));
      floor = Math.min(floor, at[1]);
    }
  }
  if (lowest.size === 1) return null;
  for (const level of lowest.values()) if (level > floor + width) return null;
  let bottom = floor;
  for (const node of body.nodes) bottom = Math.min(bottom, restPointOf(study, node)[1]);
  if (named.length === 0) floor = bottom;
  if (bottom < floor - width) return null;
  const ends: number[] = [];
  // Nobody stands on a skirt or on fins, however low they hang; who walks on flippers says so of its limbs.
  const isFoot = (node: number) => {
    const { loose, fin } = readName(rig.ids[node]);
    return !neverFeet.has(body.partOf.get(node)) && !loose && !fin;
  };
  const stands = standsOnEnds(study, figure, floor);
  for (const node of stands === "never" ? [] : body.nodes) {
    const at = restPointOf(study, node);
    // A head goes on from the foremost foot of a caterpillar.
    if (rig.children[node].some(isFoot) || rig.parent[node] < 0 || at[1] > floor + width) continue;
    if (!isFoot(node)) continue;
    if (named.some(({ foot }) => isAbove(rig, foot, node))) continue;
    if (ends.some((end) => rig.parent[end] === rig.parent[node])) continue;
    ends.push(node);
    points.set(node, at);
  }
  // Of what lies at rest two ends stand: one alone is that of a rope.
  if (stands === "seen" && ends.length < 2) for (const node of ends.splice(0)) points.delete(node);
  return points.size === 0 ? null : { floor, points, ends };
});

/**
 * Whether a figure is held up over the floor: in the rest pose, or seen so for half of the shot. A body that lies on it, as
 * a snake's does, stands on no feet; a caterpillar lies at rest, and stands as it goes.
 */
function standsOnEnds(study: Study, figure: number, floor: number): "at rest" | "seen" | "never" {
  const carrier = carrierOf(figuresOf(study)[figure]);
  const least = floor + highestShares.ankle * statureOf(study, figure);
  if (restPointOf(study, carrier)[1] > least) return "at rest";
  const { position } = worldOf(study, carrier);
  let high = 0;
  for (let k = 1; k < position.length; k += 3) if (position[k] > least) high++;
  return 6 * high > position.length ? "seen" : "never";
}

/**
 * How high over a surface a point of a foot may stand, metres. What is no named foot has a build of its own: a sole that is
 * no thicker than half of the bone that ends in it (our choice), or than a foot's. A limb has two bones and more: a rope's
 * end is none.
 */
export function highestStandOf(study: Study, figure: number, node: number): number {
  const most = highestShares.ankle * statureOf(study, figure);
  const { parent } = rigOf(study);
  const above = parent[node];
  if (above < 0 || parent[above] < 0 || !restStandOf(study, figure)?.ends.includes(node)) return most;
  const a = restPointOf(study, node);
  const b = restPointOf(study, above);
  return Math.max(most, 0.5 * Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]));
}

/**
 * Height over a surface at which a point of a foot stands in the rest pose, metres; null where the rest pose does not
 * stand on that surface: then its soles would be thicker than a foot's build explains, or be under the surface.
 */
export function restHeightOver(study: Study, figure: number, node: number, surface: Surface): number | null {
  const stand = restStandOf(study, figure);
  const at = stand?.points.get(node);
  if (stand === null || at === undefined) return null;
  const stature = statureOf(study, figure);
  const over = ([x, y, z]: readonly [number, number, number]) =>
    surface.normal[0] * x + surface.normal[1] * y + surface.normal[2] * z - surface.height;
  let lowest = Number.POSITIVE_INFINITY;
  for (const point of stand.points.values()) lowest = Math.min(lowest, over(point));
  const width = levelWidthShare * stature;
  const most = surface.declared ? highestStandOf(study, figure, node) : width;
  return lowest >= -width && lowest <= most ? Math.max(0, over(at)) : null;
}

function restPointOf(study: Study, node: number): [number, number, number] {
  const rest = restPositionsOf(study);
  const metres = metresPerUnitOf(study);
  const k = 3 * node;
  const [x, y, z] = upright([rest[k], rest[k + 1], rest[k + 2]], upAxisOf(study).axis);
  return [x * metres, y * metres, z * metres];
}
