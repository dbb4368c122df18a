import { excused } from "../../../base/excuse.ts";
import { bytes } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { beatsOf } from "../../../motion/body/beat.ts";
import { leastBeat, propulsorsOf } from "../../../motion/body/propulsors.ts";
import { addInHands } from "../../../motion/ground/in-hands.ts";
import { restingHandsOf } from "../../../motion/ground/resting-hands.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere } from "../../../time/span.ts";

/**
 * 1 at the samples of a figure's beats, with the way to the first turn of the wings and from the last one: what rests folded
 * or spread carries no body that stands.
 */
export function beatingAt(study: Study, figure: number): Uint8Array {
  const { count, rate } = gridOf(study);
  const beating = bytes(count);
  for (const { series } of propulsorsOf(study, figure)) {
    for (const { from, to } of beatsOf(series, rate, leastBeat)) {
      const half = Math.ceil((to - from) / 2);
      beating.fill(1, Math.max(0, from - half), to + half + 1);
    }
  }
  for (const { from, to } of runsWhere(count, (i) => beating[i] === 1))
    excused(-1, from, to, "wings or fins beat, and may carry the body");
  return beating;
}

/** 1 at the samples at which a hand holds on to what never moves: the body may lean as far as its arms are strong. */
export function holdsOnAt(study: Study, figure: number): Uint8Array {
  const holdsOn = bytes(gridOf(study).count);
  for (const { node, grasps, from, to } of restingHandsOf(study, figure)) {
    if (!grasps) continue;
    excused(node, from, to, "a hand holds on to what never moves");
    holdsOn.fill(1, from, to + 1);
  }
  addInHands(study, figure, holdsOn);
  return holdsOn;
}
