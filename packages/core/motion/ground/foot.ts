import { floats } from "../../base/room.ts";
import { measure, type Study, shotMeasure } from "../../base/study.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { type FootPoint, footPointsOf, highestShares, levelWidthShare } from "./foot-points.ts";
import { lowestCluster, standingLevel, standingSpeeds, standsAt } from "./plant.ts";
import { restHeightOver, restStandOf } from "./rest-stand.ts";
import { declaredSurfacesOf, heightsOver, type Surface, sameSurface } from "./surface.ts";

/** Slower than this a point may stand, body heights per second; a walking foot swings ten times faster (our choice). */
export const slowShare = 0.25;

/** Speed of a foot's point for telling whether it stands, m/s; see {@link standingSpeeds}. Looks 1/50 s both ways. */
export const standingSpeedOf = measure("standing speed", (study, node: number): Float64Array => {
  const { rate, dt } = gridOf(study);
  return standingSpeeds(worldOf(study, node).position, Math.max(1, Math.round(rate / 50)), dt);
});

/**
 * Farther than this, body heights (10 cm of a grown person), a foot is not on the ground beside it: it is lifted, or
 * stands on a step (our choice).
 */
export const besideShare = 0.06;

/**
 * The ground: the declared surface that faces up most (the lowest of several), else a level plane: that on which the
 * figures stand in the rest pose, where a foot stands on it in the shot; else that of the lowest plants of all figures'
 * feet; where no foot is ever slow, of the lowest heights that the figures reach.
 */
export const groundOf = shotMeasure<Surface>(
  "ground",
  (study) => {
    let ground: Surface | null = null;
    for (const surface of declaredSurfacesOf(study)) {
      if (surface.normal[1] < 0.5) continue;
      const lead = ground === null ? 1 : surface.normal[1] - ground.normal[1];
      if (ground === null || lead > 1e-6 || (lead > -1e-6 && surface.height < ground.height))
        ground = surface;
    }
    return ground ?? level(inferredHeight(study));
  },
  sameSurface,
);

/** All surfaces: the declared ones, else the inferred ground alone. */
export const surfacesOf = shotMeasure<readonly Surface[]>("surfaces", (study) => {
  const declared = declaredSurfacesOf(study);
  return declared.length > 0 ? declared : [groundOf(study)];
});

/** Heights at which the points of a figure's feet stand over a surface when planted, metres. */
export interface Standing {
  readonly heel: number;
  readonly toe: number;
  readonly tip: number;
  /** Which of them the rest pose says, and a foot stands so in the shot. */
  readonly known: { readonly heel: boolean; readonly toe: boolean; readonly tip: boolean };
}

/**
 * How high a figure's ankles, balls and toe ends stand over the ground when planted: joints lie inside the foot, so
 * that this is the thickness of the sole and what is above it. Where the rest pose stands on the ground it says so, as
 * far as the feet are seen as low. Else left and right share the level at which they stand, and the lower one counts;
 * it is never negative nor more than a foot's build explains, so that a figure that floats or sinks all through a shot
 * does.
 */
export const standingOf = measure(
  "standing",
  (study, figure: number): Standing => {
    const points = footPointsOf(rigOf(study), figuresOf(study)[figure]);
    const ground = groundOf(study);
    const stature = statureOf(study, figure);
    const lowest = (nodes: number[], share: number) => {
      const levels = nodes.map((node) => levelOf(study, node, ground, stature));
      const found = levels.filter((height) => height !== null);
      const most = share * stature;
      const rest = restLevel(study, figure, nodes, ground);
      if (rest === null || rest > most) return { level: Math.max(0, Math.min(...found, most)), known: false };
      const known = nodes.some((node) => standsAtHeight(study, node, ground, stature, rest));
      if (known || found.length === 0) return { level: rest, known };
      // Where no foot stands as it does at rest, the sole is not thicker than that, nor than any foot is seen to stand.
      return { level: Math.max(0, Math.min(rest, Math.max(...found))), known: false };
    };
    const isBall = ({ point }: FootPoint) => point === "toe";
    const heel = lowest(
      points.filter((p) => !isBall(p)).map((p) => p.node),
      highestShares.ankle,
    );
    const toe = lowest(
      points.filter(isBall).map((p) => p.node),
      highestShares.ball,
    );
    const tip = lowest(
      points.filter((p) => p.tip >= 0).map((p) => p.tip),
      highestShares.tip,
    );
    const known = { heel: heel.known, toe: toe.known, tip: tip.known };
    return { heel: heel.level, toe: toe.level, tip: tip.level, known };
  },
  (a, b) =>
    a.heel === b.heel &&
    a.toe === b.toe &&
    a.tip === b.tip &&
    a.known.heel === b.known.heel &&
    a.known.toe === b.known.toe &&
    a.known.tip === b.known.tip,
);

function levelOf(study: Study, node: number, ground: Surface, stature: number): number | null {
  const heights = heightsOver(ground, worldOf(study, node).position);
  return standingLevel(heights, standingSpeedOf(study, node), slowShare * stature, levelWidthShare * stature);
}

/** Height at which some points of feet stand over the ground in the rest pose, the highest of them; null if none does. */
function restLevel(study: Study, figure: number, nodes: readonly number[], ground: Surface): number | null {
  let highest: number | null = null;
  for (const node of nodes) {
    const height = restHeightOver(study, figure, node, ground);
    if (height === null) return null;
    highest = Math.max(highest ?? height, height);
  }
  return highest;
}

/** Whether a point stands at a height over a surface for a good share of the samples at which it is slow. */
function standsAtHeight(
  study: Study,
  node: number,
  surface: Surface,
  stature: number,
  height: number,
): boolean {
  const heights = heightsOver(surface, worldOf(study, node).position);
  const slow = slowShare * stature;
  const speed = standingSpeedOf(study, node);
  return standsAt(
    heights.filter((_, i) => speed[i] < slow),
    height,
    levelWidthShare * stature,
  );
}

function level(height: number): Surface {
  return { id: "ground", normal: [0, 1, 0], height, declared: false };
}

function inferredHeight(study: Study): number {
  const rig = rigOf(study);
  const zero = level(0);
  let lowest = Number.POSITIVE_INFINITY;
  figuresOf(study).forEach((figure, index) => {
    const stature = statureOf(study, index);
    let own = Number.POSITIVE_INFINITY;
    for (const { node, tip } of footPointsOf(rig, figure)) {
      for (const point of tip >= 0 ? [node, tip] : [node]) {
        own = Math.min(own, levelOf(study, point, zero, stature) ?? own);
      }
    }
    const stand = restStandOf(study, index);
    const isOnFloor =
      stand !== null &&
      own > stand.floor - besideShare * stature &&
      [...stand.points].some(([node, at]) => standsAtHeight(study, node, zero, stature, at[1]));
    lowest = Math.min(lowest, isOnFloor ? stand.floor : own);
  });
  if (lowest < Number.POSITIVE_INFINITY) return lowest;
  figuresOf(study).forEach((figure, index) => {
    const heights = lowestHeights(study, figure.nodes).sort();
    const cluster = lowestCluster(heights, levelWidthShare * statureOf(study, index));
    if (cluster < lowest) lowest = cluster;
  });
  return lowest < Number.POSITIVE_INFINITY ? lowest : 0;
}

function lowestHeights(study: Study, nodes: readonly number[]): Float64Array {
  const heights = floats(gridOf(study).count).fill(Number.POSITIVE_INFINITY);
  for (const node of nodes) {
    const { position } = worldOf(study, node);
    for (let i = 0; i < heights.length; i++) heights[i] = Math.min(heights[i], position[3 * i + 1]);
  }
  return heights;
}
