import { bytes, floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { onTwosOf } from "../../../motion/path/held.ts";
import { angularSpeedOf } from "../../../motion/path/rotation.ts";
import { spacingOf } from "../../../motion/path/spacing.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";

/** What a body does while one of its parts does not. */
export interface Meanwhile {
  /** 1 in samples in which it goes on. */
  readonly goes: Uint8Array;
  /** How fast the fastest of what goes on turns at each sample, rad/s. */
  readonly turns: Float64Array;
}

/** The joints of a figure's trunk from what carries all outwards. */
export function trunkOf(study: Study, figure: number): readonly number[] {
  const body = figuresOf(study)[figure];
  const above = (["spine", "chest"] as const).flatMap((part) => body.parts.get(part) ?? []);
  return [carrierOf(body), ...above];
}

/**
 * Where a figure's trunk goes on: it turns, or travels, from the sample before.
 * @param values rad/s from which on it turns, and m/s from which on it travels
 */
export function trunkMeanwhile(
  study: Study,
  figure: number,
  values: { readonly body: number; readonly travel: number },
): Meanwhile {
  const { count, dt } = gridOf(study);
  const trunk = trunkOf(study, figure);
  const turns = fastestOf(
    trunk.map((node) => angularSpeedOf(study, node)),
    count,
  );
  const steps = spacingOf(study, trunk[0]);
  const step = values.travel * dt;
  return {
    goes: spread(study, trunk[trunk.length - 1], (i) => turns[i] > values.body || steps[i] > step),
    turns,
  };
}

/**
 * 1 where something holds of a sample; where a node is drawn on twos or threes also between the drawings of which it holds.
 */
export function spread(study: Study, node: number, holds: (sample: number) => boolean): Uint8Array {
  const { count } = gridOf(study);
  const after = onTwosOf(study, node);
  const flags = bytes(count);
  for (let i = 1; i < count; i++) if (holds(i)) flags.fill(1, i, Math.min(count, i + after));
  return flags;
}

/** The largest of several series at each sample. */
export function fastestOf(all: readonly Float64Array[], count: number): Float64Array {
  const fastest = floats(count);
  for (const speed of all) {
    for (let i = 0; i < count; i++) if (speed[i] > fastest[i]) fastest[i] = speed[i];
  }
  return fastest;
}

/** The largest of a series at samples from..to. */
export function largestIn(series: Float64Array, from: number, to: number): number {
  let largest = 0;
  for (let i = from; i <= to; i++) if (series[i] > largest) largest = series[i];
  return largest;
}

/** How many flags of samples from..to are set. */
export function setIn(flags: Uint8Array, from: number, to: number): number {
  let set = 0;
  for (let i = from; i <= to; i++) set += flags[i];
  return set;
}

/** What a speed comes to over samples from..to. */
export function sumOver(study: Study, speed: Float64Array, from: number, to: number): number {
  const { dt } = gridOf(study);
  let sum = 0;
  for (let i = from; i <= to; i++) sum += speed[i] * dt;
  return sum;
}

/**
 * Whether step keys hold nodes over samples from..to as a pose of blocking. Where what goes on is drawn on twos or threes
 * itself, a drawing that repeats the one before is a freeze like any other.
 */
export function isHeldByStep(
  study: Study,
  nodes: readonly number[],
  goesOn: number,
  from: number,
  to: number,
): boolean {
  if (onTwosOf(study, goesOn) > 1) return false;
  return nodes.some((node) => isCutBetween(cutsOf(study, node), from - 1, to + 1));
}

/** Metres that a node travels on the way to samples from..to. */
export function sumOfSteps(study: Study, node: number, from: number, to: number): number {
  const steps = spacingOf(study, node);
  let sum = 0;
  for (let i = from; i <= to; i++) sum += steps[i];
  return sum;
}
