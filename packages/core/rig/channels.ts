import { sampleCurve } from "../curve/evaluate.ts";
import type { Channel } from "../document/model.ts";
import { gridOf } from "../motion/grid.ts";
import { curveNamesOf, curveOf, measure, sameNumbers, shotMeasure } from "../study/study.ts";
import { rigOf } from "./rig.ts";

/** A curve's samples on the grid, `width` numbers each, in document units; null where it has no keys. */
export const channelSeriesOf = measure(
  "channel series",
  (study, name: string): Float64Array | null => {
    const curve = curveOf(study, name);
    if (curve === null || curve.frames.length === 0) return null;
    const { frames } = gridOf(study);
    const series = new Float64Array(curve.width * frames.length);
    sampleCurve(curve, frames, series);
    return series;
  },
  sameNumbers,
);

/** Names of the curves that drive a node, in document order. */
export const curveNamesOfNode = measure(
  "curve names of node",
  (study, node: number): readonly string[] => namesByNodeOf(study).get(rigOf(study).ids[node]) ?? [],
  (a, b) => a.length === b.length && a.every((name, index) => name === b[index]),
);

/** The channel that a curve's name ends with; channels hold no space. */
export function channelOfName(name: string): Channel {
  return name.slice(name.lastIndexOf(" ") + 1) as Channel;
}

const namesByNodeOf = shotMeasure("curve names by node", (study): ReadonlyMap<string, readonly string[]> => {
  const byNode = new Map<string, string[]>();
  for (const name of curveNamesOf(study)) {
    const node = name.slice(0, name.lastIndexOf(" "));
    const names = byNode.get(node);
    if (names === undefined) byNode.set(node, [name]);
    else names.push(name);
  }
  return byNode;
});
