import { conjugate, multiplyQuaternions, rotateVector, rotationVectorOf } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import {
  across,
  cross,
  dot,
  lengthOf,
  minus,
  pointAt,
  scaled,
  type Vector,
  vectorLength,
} from "../../base/vector.ts";
import { statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { lengthShare } from "../../rig/proportions.ts";
import { gridOf } from "../../time/grid.ts";
import { rollingOf } from "./contact.ts";
import type { FootPlant } from "./foot-plant.ts";
import { soleUpOf } from "./sole-path.ts";
import { heelShare } from "./soles.ts";
import { heightAt, type Surface } from "./surface.ts";

/** Axes of a foot that lies flat, in the world: forward along the surface, across, and the surface's normal. */
export interface FootAxes {
  readonly forward: Vector;
  readonly across: Vector;
  readonly normal: Vector;
}

/**
 * Axes of a planted foot at a sample, from the ankle to the ball; null where the rig has no ball, or the foot stands
 * upright on it.
 */
export function footAxesAt(study: Study, { leg, toe, heel }: FootPlant, sample: number): FootAxes | null {
  const contact = toe ?? heel;
  if (leg.ball < 0 || contact === null) return null;
  const { normal } = contact.surface;
  const v = minus(
    pointAt(worldOf(study, leg.ball).position, sample),
    pointAt(worldOf(study, leg.end).position, sample),
  );
  const flat = across(v, normal);
  const length = vectorLength(flat);
  if (!(length > 0.2 * vectorLength(v))) return null;
  const forward = scaled(flat, 1 / length);
  return { forward, across: cross(normal, forward), normal };
}

/** Angle by which the sole under the ankle is tilted off its surface, radians, one number per sample of a plant. */
export function soleTilts(study: Study, stance: FootPlant): Float64Array {
  const { from, to } = stance;
  const tilts = floats(to - from + 1);
  for (let i = from; i <= to; i++) tilts[i - from] = soleTiltAt(study, stance, i);
  return tilts;
}

/** Written anew for each sample. */
const up = new Float64Array(3);

/** The same at one sample, of the plant or beside it; 0 where it is not known how the foot lies flat. */
export function soleTiltAt(study: Study, { leg, toe, heel }: FootPlant, sample: number): number {
  const contact = heel ?? toe;
  if (contact === null) return 0;
  const { orientation } = worldOf(study, leg.end);
  rotateVector(orientation, 4 * sample, soleUpOf(study, leg.end), 0, up, 0);
  const [nx, ny, nz] = contact.surface.normal;
  const length = lengthOf(up[0], up[1], up[2]);
  const cosine = (up[0] * nx + up[1] * ny + up[2] * nz) / length;
  return length > 0 ? Math.acos(Math.max(-1, Math.min(1, cosine))) : 0;
}

/** Higher than this over where it stood, body heights (1 cm of a grown person), a ball is off the ground: light is seen. */
export const offShare = 0.006;

/**
 * Height of the ball of a foot over a surface at a sample, less the same wherever it stands. Of a foot that is known by its
 * ankle alone, what its tilt lifts the ankle by is taken off.
 */
export function ballHeightAt(
  study: Study,
  figure: number,
  stance: FootPlant,
  surface: Surface,
  sample: number,
): number {
  const { leg } = stance;
  if (leg.ball >= 0) return heightAt(surface, worldOf(study, leg.ball).position, sample);
  const ahead = (1 - heelShare) * lengthShare.foot * statureOf(study, figure);
  const lift = ahead * Math.sin(soleTiltAt(study, stance, sample));
  return heightAt(surface, worldOf(study, leg.end).position, sample) - lift;
}

/**
 * A plant with the roll that ends it. A declared contact of a foot that is known by its ankle alone may cover the flat stance
 * only (see `rollingOf`): the plant goes on for as long as the ankle rolls over a ball that is down. Any other plant as it is.
 */
export function withRoll(study: Study, figure: number, stance: FootPlant): FootPlant {
  const { heel, leg } = stance;
  if (heel === null || !heel.declared || heel.point !== "whole" || leg.ball >= 0) return stance;
  const last = rollingOf(study, figure, heel).to;
  const highest =
    ballHeightAt(study, figure, stance, heel.surface, heel.to) + offShare * statureOf(study, figure);
  let to = stance.to;
  while (to < last && ballHeightAt(study, figure, stance, heel.surface, to + 1) <= highest) to++;
  return { ...stance, to, leaves: to < gridOf(study).count - 1 };
}

/**
 * Angle by which a leg leans over its ankle at a sample, radians: from the normal to a joint of it (hip or knee),
 * forward positive where the foot's axes are known, else of any direction.
 */
export function legLean(
  study: Study,
  plant: FootPlant,
  joint: number,
  axes: FootAxes | null,
  sample: number,
): number {
  const { leg, toe, heel } = plant;
  const normal = axes?.normal ?? (toe ?? heel)?.surface.normal ?? [0, 1, 0];
  const v = minus(
    pointAt(worldOf(study, joint).position, sample),
    pointAt(worldOf(study, leg.end).position, sample),
  );
  const up = dot(v, normal);
  if (axes === null) {
    const aside = Math.sqrt(Math.max(0, dot(v, v) - up * up));
    return Math.atan2(aside, up);
  }
  return Math.atan2(dot(v, axes.forward), up);
}

/**
 * Turn of a node from one sample to another as a rotation vector in the world, radians: its direction is the axis.
 * At most half a turn.
 */
export function turnBetween(study: Study, node: number, from: number, to: number): Vector {
  const { orientation } = worldOf(study, node);
  const turn = new Float64Array(4);
  multiplyQuaternions(orientation, 4 * to, conjugate(orientation, 4 * from), 0, turn, 0);
  return rotationVectorOf(turn, 0);
}
