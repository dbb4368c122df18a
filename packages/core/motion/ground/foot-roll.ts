import { floats } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { worldOf } from "../../rig/pose.ts";
import { solePathOf } from "./sole.ts";
import type { Stance } from "./stance.ts";

/** Axes of a foot that lies flat, in the world: forward along the surface, across, and the surface's normal. */
export interface FootAxes {
  readonly forward: readonly [number, number, number];
  readonly across: readonly [number, number, number];
  readonly normal: readonly [number, number, number];
}

/**
 * Axes of a stance's foot at a sample, from the ankle to the ball; null where the rig has no ball, or the foot stands
 * upright on it.
 */
export function footAxesAt(study: Study, { leg, toe, heel }: Stance, sample: number): FootAxes | null {
  const contact = toe ?? heel;
  if (leg.ball < 0 || contact === null) return null;
  const { normal } = contact.surface;
  const a = worldOf(study, leg.end).position;
  const b = worldOf(study, leg.ball).position;
  const k = 3 * sample;
  const v = [b[k] - a[k], b[k + 1] - a[k + 1], b[k + 2] - a[k + 2]];
  const out = v[0] * normal[0] + v[1] * normal[1] + v[2] * normal[2];
  const flat = [0, 1, 2].map((i) => v[i] - out * normal[i]);
  const length = Math.hypot(...flat);
  if (!(length > 0.2 * Math.hypot(...v))) return null;
  const forward = [flat[0] / length, flat[1] / length, flat[2] / length] as const;
  const across = [
    normal[1] * forward[2] - normal[2] * forward[1],
    normal[2] * forward[0] - normal[0] * forward[2],
    normal[0] * forward[1] - normal[1] * forward[0],
  ] as const;
  return { forward, across, normal };
}

/** Angle by which the sole under the ankle is tilted off its surface, radians, one number per sample of a stance. */
export function soleTilts(study: Study, { leg, toe, heel, from, to }: Stance): Float64Array {
  const tilts = floats(to - from + 1);
  const contact = heel ?? toe;
  if (contact === null) return tilts;
  const [nx, ny, nz] = contact.surface.normal;
  const ankle = worldOf(study, leg.end).position;
  const sole = solePathOf(study, leg.end);
  for (let i = from; i <= to; i++) {
    const k = 3 * i;
    const x = ankle[k] - sole[k];
    const y = ankle[k + 1] - sole[k + 1];
    const z = ankle[k + 2] - sole[k + 2];
    const length = Math.sqrt(x * x + y * y + z * z);
    if (!(length > 0)) continue;
    tilts[i - from] = Math.acos(Math.max(-1, Math.min(1, (x * nx + y * ny + z * nz) / length)));
  }
  return tilts;
}

/**
 * Angle by which a leg leans over its ankle at a sample, radians: from the normal to a joint of it (hip or knee),
 * forward positive where the foot's axes are known, else of any direction.
 */
export function legLean(
  study: Study,
  stance: Stance,
  joint: number,
  axes: FootAxes | null,
  sample: number,
): number {
  const { leg, toe, heel } = stance;
  const normal = axes?.normal ?? (toe ?? heel)?.surface.normal ?? [0, 1, 0];
  const a = worldOf(study, leg.end).position;
  const b = worldOf(study, joint).position;
  const k = 3 * sample;
  const v = [b[k] - a[k], b[k + 1] - a[k + 1], b[k + 2] - a[k + 2]];
  const up = v[0] * normal[0] + v[1] * normal[1] + v[2] * normal[2];
  if (axes === null) {
    const aside = Math.sqrt(Math.max(0, v[0] * v[0] + v[1] * v[1] + v[2] * v[2] - up * up));
    return Math.atan2(aside, up);
  }
  const { forward } = axes;
  return Math.atan2(v[0] * forward[0] + v[1] * forward[1] + v[2] * forward[2], up);
}

/**
 * Turn of a node from one sample to another as a rotation vector in the world, radians: its direction is the axis.
 * At most half a turn.
 */
export function turnBetween(study: Study, node: number, from: number, to: number): [number, number, number] {
  const { orientation } = worldOf(study, node);
  const a = orientation.subarray(4 * from, 4 * from + 4);
  const b = orientation.subarray(4 * to, 4 * to + 4);
  // b · a⁻¹
  let x = -b[3] * a[0] + b[0] * a[3] - b[1] * a[2] + b[2] * a[1];
  let y = -b[3] * a[1] + b[0] * a[2] + b[1] * a[3] - b[2] * a[0];
  let z = -b[3] * a[2] - b[0] * a[1] + b[1] * a[0] + b[2] * a[3];
  let w = b[3] * a[3] + b[0] * a[0] + b[1] * a[1] + b[2] * a[2];
  if (w < 0) [x, y, z, w] = [-x, -y, -z, -w];
  const sine = lengthOf(x, y, z);
  if (sine < 1e-12) return [0, 0, 0];
  const factor = (2 * Math.atan2(sine, w)) / sine;
  return [x * factor, y * factor, z * factor];
}
