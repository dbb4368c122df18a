import type { Study } from "../base/study.ts";
import { firstKeyFrom } from "../curve/keys.ts";
import { curveOf } from "../document/inputs.ts";
import { curveNamesOfNode } from "../rig/pose.ts";
import { metresPerChannelUnit } from "../rig/reach.ts";
import { gridOf } from "../time/grid.ts";
import type { Fault } from "./check.ts";

type FaultKeys = Extract<Fault, { kind: "keys" }>["keys"];

/**
 * For faults that a stretch of several channels makes together: the first key of each channel in the stretch, those
 * of the channels that move most of the picture first.
 * @param nodes rig indices of the nodes whose channels are looked at
 * @param from index of the first sample of the stretch
 * @param to index of its last sample
 * @param most how many keys at the most
 * @returns keys by their index in their curve, at the most `most`
 */
export function keysOfNodes(
  study: Study,
  nodes: readonly number[],
  from: number,
  to: number,
  most = 6,
): FaultKeys {
  const { frames } = gridOf(study);
  const keys = nodes.flatMap((node) =>
    curveNamesOfNode(study, node).flatMap((name) => {
      const curve = curveOf(study, name);
      if (curve === null || curve.frames.length === 0) return [];
      const near = firstKeyNear(curve.frames, frames[from] - 0.5, frames[to] + 0.5);
      if (near < 0) return [];
      const { frames: times, values, width } = curve;
      const end = frames[to] + 0.5;
      let change = 0;
      for (let key = Math.max(1, near); key < times.length; key++) {
        for (let k = key * width; k < (key + 1) * width; k++)
          change += Math.abs(values[k] - values[k - width]);
        if (times[key] > end) break;
      }
      const seen = change * metresPerChannelUnit(study, node, curve.channel);
      return [{ node: curve.node, channel: curve.channel, index: near, seen }];
    }),
  );
  const total = keys.reduce((sum, key) => sum + key.seen, 0);
  // Where nothing changes, the fault is in what the keys hold: all of them are named alike.
  if (total === 0) return keys.slice(0, most).map(({ seen: _, ...key }) => key);
  keys.sort((a, b) => b.seen - a.seen);
  return keys
    .filter(({ seen }) => seen > 0)
    .slice(0, most)
    .map(({ seen: _, ...key }) => key);
}

/** The first key within two frames; else the last key before them. */
function firstKeyNear(keys: Float64Array, first: number, last: number): number {
  const key = firstKeyFrom(keys, first);
  return key < keys.length && keys[key] <= last ? key : key - 1;
}
