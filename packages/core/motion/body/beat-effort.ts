import { standardGravity } from "../../base/constants.ts";
import type { Study } from "../../base/study.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import { spacingOf, speedOf, velocityOf } from "../path/spacing.ts";
import { type Beat, liftOf } from "./beat.ts";

/** What the body does over a beat. */
export interface Effort {
  /** Force that it needs, in units of its weight: against gravity, and to speed up or brake. */
  readonly need: number;
  /** Speed through the air, m/s. */
  readonly speed: number;
  /** Its way, m, and the height that its energy falls by over it (v² / 2g counts as height), m. */
  readonly way: number;
  readonly sinks: number;
}

/**
 * Taken over at least a usual beat around the beat's middle, at the body itself: the mass of the wings goes up and down
 * with them.
 */
export function effortOver(study: Study, hips: number, beat: Beat, usual: number): Effort {
  const { dt, count } = gridOf(study);
  const velocity = velocityOf(study, hips);
  const spacing = spacingOf(study, hips);
  const { position } = worldOf(study, hips);
  const half = Math.max(beat.to - beat.from, Math.round(usual)) / 2;
  const middle = (beat.from + beat.to) / 2;
  const first = Math.max(0, Math.round(middle - half));
  const last = Math.min(count - 1, Math.round(middle + half));
  const speed = speedOf(study, hips)[(beat.from + beat.to) >> 1];
  if (last <= first) return { need: 1, speed, way: 0, sinks: 0 };
  const weight = standardGravity * (last - first) * dt;
  const change = [0, 1, 2].map((k) => velocity[3 * last + k] - velocity[3 * first + k]);
  const need = Math.hypot(change[0], change[1] + weight, change[2]) / weight;
  let way = 0;
  for (let i = first + 1; i <= last; i++) way += spacing[i];
  const height = (i: number) => {
    const k = 3 * i;
    const squared = velocity[k] ** 2 + velocity[k + 1] ** 2 + velocity[k + 2] ** 2;
    return position[k + 1] + squared / (2 * standardGravity);
  };
  return { need, speed, way, sinks: height(first) - height(last) };
}

/**
 * Way of a glide over the height that it costs, for a creature that glides well: falcons 10 (Tucker & Parrott 1970), black
 * vultures 11.6 (Parrott 1970); from memory.
 */
export const bestGlide = 12;

/** Speeds through the air within this factor of each other count as the same (our choice). */
const sameSpeed = 1.5;

/** What beats at some speed lift with for each unit of the body's weight; 0 where too few of them tell. */
export interface Strength {
  readonly unit: number;
  /** Whether it takes that much at the least: beats that give more are not held against it. */
  readonly isLeast: boolean;
}

/**
 * The creature's own strength at the speed of each beat: compared with the other beats at about the same speed through
 * the air, since that speed lifts as well. Beats in a glide do not tell, since it carries. Where too few are left, faster beats
 * and those in a glide tell what it takes at the least: slower, and without the glide, the wings have to do more.
 */
export function strengthsAt(
  beats: readonly Beat[],
  efforts: readonly Effort[],
  slow: number,
  fewest: number,
): Strength[] {
  const speeds = efforts.map(({ speed }) => Math.max(slow, speed));
  const isFree = efforts.map(({ speed, sinks, way }) => !(speed > slow && sinks > way / bestGlide));
  const unitOver = (isMeant: (other: number) => boolean, share: number) => {
    const units = beats.flatMap((beat, o) => {
      const { need } = efforts[o];
      return need > 0.5 && need < 2 && isMeant(o) ? [liftOf(beat) / need] : [];
    });
    return units.length < fewest ? 0 : quantileOf(units, share);
  };
  return beats.map((_, b) => {
    const isNoSlower = (o: number) => sameSpeed * speeds[o] > speeds[b];
    const alike = unitOver((o) => isFree[o] && isNoSlower(o) && speeds[o] < sameSpeed * speeds[b], 0.5);
    if (alike > 0) return { unit: alike, isLeast: false };
    // Weak beats among them are carried by their glide; the stronger half tells.
    return { unit: unitOver(isNoSlower, 0.75), isLeast: true };
  });
}

function quantileOf(series: number[], share: number): number {
  const sorted = series.toSorted((a, b) => a - b);
  const at = share * (sorted.length - 1);
  const before = Math.floor(at);
  const after = Math.min(sorted.length - 1, before + 1);
  return sorted[before] + (at - before) * (sorted[after] - sorted[before]);
}
