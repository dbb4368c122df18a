import { referenceRate } from "../../base/constants.ts";
import { medianOf } from "../../base/median.ts";
import { floats } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { carrierOf, figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { runsWhere } from "../../time/span.ts";
import { heldOf } from "../path/held.ts";
import { levelWidthShare, namedFootPointsOf } from "./foot-points.ts";
import { plantShares } from "./plant-limits.ts";
import { restHeightOver, restStandOf } from "./rest-stand.ts";
import { heightsOver, type Surface } from "./surface.ts";

/**
 * Nearer than this to a known surface, body heights, feet hover over it; farther up they stand on something else: common
 * practice, as for off-ground.
 */
const aboveShare = 0.15;
/**
 * Frames (at 24 per second) for which feet stay where they are on something: in half a second a body that nothing holds
 * falls by 1.2 m.
 */
const leastFrames = 12;

/**
 * Levels on which figures are seen to stand, high over the surfaces that are known: a ledge, a table, the top of stairs.
 * The lowest of a figure's named feet keeps still there for half a second, which a body in the air does not. How thick
 * soles are is told by the rest pose; without one there are none.
 * @param known the surfaces that are declared, or the ground
 * @param ground the one over which soles are known
 */
export function platformsOver(study: Study, known: readonly Surface[], ground: Surface): Surface[] {
  const { rate, dt } = gridOf(study);
  const least = Math.max(2, Math.round((leastFrames * rate) / referenceRate));
  const found: Surface[] = [];
  figuresOf(study).forEach((figure, index) => {
    const points = namedFootPointsOf(rigOf(study), figure);
    const stand = points.length > 0 ? restStandOf(study, index) : null;
    if (stand === null) return;
    const stature = statureOf(study, index);
    const soles = points.map(({ node }) => {
      const path = worldOf(study, node).position;
      const own = (stand.points.get(node)?.[1] ?? stand.floor) - stand.floor;
      const thick = restHeightOver(study, index, node, ground) ?? own;
      return { path, thick };
    });
    if (!isEverAbove(known, soles, aboveShare * stature)) return;
    const { lowest, step } = lowestSole(soles);
    const held = heldOf(study, carrierOf(figure));
    const above = known.map((surface) => soles.map(({ path }) => heightsOver(surface, path)));
    const isAbove = (i: number) =>
      above.every((feet) => feet.every((height) => height[i] > aboveShare * stature));
    for (const { from, to } of runsWhere(
      lowest.length,
      (i) => step[i] < plantShares.stillSpeed * stature * dt && isAbove(i),
    )) {
      // One pose that step keys hold does not tell whether the feet stand or are on their way.
      if (to - from + 1 < least || !held.subarray(from + 1, to + 1).includes(0)) continue;
      const height = medianOf(lowest.subarray(from, to + 1));
      const width = levelWidthShare * stature;
      if (found.some((other) => Math.abs(other.height - height) <= width)) continue;
      found.push({ id: `level ${found.length + 1}`, normal: [0, 1, 0], height, declared: false });
    }
  });
  return found;
}

interface Sole {
  readonly path: Float64Array;
  /** From the joint down to the sole, metres. */
  readonly thick: number;
}

/** Whether a figure's feet are all far over level ground somewhere: most shots are through with this one pass. */
function isEverAbove(known: readonly Surface[], soles: readonly Sole[], least: number): boolean {
  const highest = Math.min(...known.map(({ normal, height }) => height / (normal[1] || 1)));
  const count = soles[0].path.length / 3;
  for (let i = 0; i < count; i++) {
    let isUp = true;
    for (const { path } of soles) isUp &&= path[3 * i + 1] - highest > least;
    if (isUp) return true;
  }
  return false;
}

/** Height of the lowest sole at each sample, metres over the origin, and the length of the step that leads to it. */
function lowestSole(soles: readonly Sole[]): { lowest: Float64Array; step: Float64Array } {
  const count = soles[0].path.length / 3;
  const lowest = floats(count).fill(Number.POSITIVE_INFINITY);
  const step = floats(count);
  for (const { path, thick } of soles) {
    for (let i = 0; i < count; i++) {
      const height = path[3 * i + 1] - thick;
      if (height >= lowest[i]) continue;
      lowest[i] = height;
      step[i] = i === 0 ? 0 : distanceBetween(path, i - 1, path, i);
    }
  }
  return { lowest, step };
}
