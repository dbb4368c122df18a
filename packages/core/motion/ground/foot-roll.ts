import { conjugate, multiplyQuaternions, rotationVectorOf } from "../../base/quaternion.ts";
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
import { worldOf } from "../../rig/pose.ts";
import type { FootPlant } from "./foot-plant.ts";
import { solePathOf } from "./sole-path.ts";

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

/** The same at one sample, of the plant or beside it. */
export function soleTiltAt(study: Study, { leg, toe, heel }: FootPlant, sample: number): number {
  const contact = heel ?? toe;
  if (contact === null) return 0;
  const [nx, ny, nz] = contact.surface.normal;
  const ankle = worldOf(study, leg.end).position;
  const sole = solePathOf(study, leg.end);
  const k = 3 * sample;
  const x = ankle[k] - sole[k];
  const y = ankle[k + 1] - sole[k + 1];
  const z = ankle[k + 2] - sole[k + 2];
  const length = lengthOf(x, y, z);
  return length > 0 ? Math.acos(Math.max(-1, Math.min(1, (x * nx + y * ny + z * nz) / length))) : 0;
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
