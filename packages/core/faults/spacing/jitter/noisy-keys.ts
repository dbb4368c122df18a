import type { Study } from "../../../base/study.ts";
import { firstKeyFrom } from "../../../curve/keys.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { NoiseSource } from "../../../motion/path/noise.ts";
import type { Tremble } from "../../../motion/path/tremble.ts";
import { channelSeriesOf } from "../../../rig/channels.ts";
import { curveNamesOfNode } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";

/** At most so many keys are named. */
const mostKeys = 6;
/** Least share of a joint's noise for a channel to be named for it. */
const leastShare = 0.1;

/** The noisiest channels of the joint that shows it most, then one of each other joint. */
export function keysOfTrembles(study: Study, stretch: readonly Tremble[]) {
  const named = new Set<number>();
  return stretch
    .flatMap(({ source, from, to }) => {
      if (source === null || named.has(source.joint)) return [];
      named.add(source.joint);
      const keys = noisyKeys(study, source, from, to);
      return named.size === 1 ? keys : keys.slice(0, 1);
    })
    .slice(0, mostKeys);
}

/** The first key of each channel with which a joint brings noise in, those of the noisiest one first. */
function noisyKeys(study: Study, { joint, kind }: NoiseSource, from: number, to: number) {
  const { frames } = gridOf(study);
  const drives = kind === "turn" ? "rotation" : "translation";
  const channels = curveNamesOfNode(study, joint).flatMap((name) => {
    const curve = curveOf(study, name);
    const series = channelSeriesOf(study, name);
    if (curve === null || series === null || !curve.channel.startsWith(drives)) return [];
    const index = firstKeyFrom(curve.frames, frames[from] - 0.5);
    if (index >= curve.frames.length || curve.frames[index] > frames[to] + 0.5) return [];
    const noise = roughness(series, curve.width, from, to);
    return noise > 0 ? [{ curve, index, noise }] : [];
  });
  const all = channels.reduce((sum, { noise }) => sum + noise, 0);
  channels.sort((a, b) => b.noise - a.noise);
  return channels
    .filter(({ noise }) => noise >= leastShare * all)
    .map(({ curve: { node, channel }, index }) => ({ node, channel, index }));
}

/** Energy of a channel's third differences from sample to sample: noise is all of it, and movement next to nothing. */
function roughness(series: Float64Array, width: number, from: number, to: number): number {
  let sum = 0;
  const last = Math.min(to + 1, series.length / width - 1);
  for (let k = width * Math.max(3, from); k < width * (last + 1); k++) {
    sum += (series[k] - 3 * series[k - width] + 3 * series[k - 2 * width] - series[k - 3 * width]) ** 2;
  }
  return sum;
}
