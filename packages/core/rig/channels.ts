import { floats } from "../base/room.ts";
import { measure, sameNumbers, shotMeasure } from "../base/study.ts";
import { sampleCurve } from "../curve/evaluate.ts";
import { curveNamesOf, curveOf } from "../document/inputs.ts";
import { gridOf } from "../time/grid.ts";
import { rigOf } from "./rig.ts";

/** A curve's samples on the grid, `width` numbers each, in document units; null where it has no keys. */
export const channelSeriesOf = measure(
  "channel series",
  (study, name: string): Float64Array | null => {
    const curve = curveOf(study, name);
    if (curve === null || curve.frames.length === 0) return null;
    const { frames } = gridOf(study);
    const series = floats(curve.width * frames.length);
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

/** Which curves drive a node, by name; null for a channel without a curve, and for a kind without any. */
export interface DrivingNames {
  readonly translation: AxisNames | null;
  readonly rotation: AxisNames | null;
  readonly scale: AxisNames | null;
  /** The curve of quaternion keys, which stands in place of the rotation axes. */
  readonly quaternion: string | null;
}
type AxisNames = readonly [x: string | null, y: string | null, z: string | null];

/** The curves of a node, told apart by what they drive. */
export const drivingNamesOf = measure(
  "driving names",
  (study, node: number): DrivingNames => {
    const found: Record<string, [string | null, string | null, string | null] | null> = {};
    let quaternion: string | null = null;
    for (const name of namesByNodeOf(study).get(rigOf(study).ids[node]) ?? []) {
      const channel = name.slice(name.lastIndexOf(" ") + 1);
      const dot = channel.indexOf(".");
      if (dot < 0) {
        quaternion = name;
        continue;
      }
      const kind = channel.slice(0, dot);
      let names = found[kind];
      if (!names) found[kind] = names = [null, null, null];
      names["xyz".indexOf(channel[dot + 1])] = name;
    }
    return {
      translation: found["translation"] ?? null,
      rotation: found["rotation"] ?? null,
      scale: found["scale"] ?? null,
      quaternion,
    };
  },
  sameDrivers,
);

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

const noAxes: AxisNames = [null, null, null];

function sameDrivers(a: DrivingNames, b: DrivingNames): boolean {
  const kinds = ["translation", "rotation", "scale"] as const;
  return (
    a.quaternion === b.quaternion &&
    kinds.every((kind) => (a[kind] ?? noAxes).every((name, axis) => name === (b[kind] ?? noAxes)[axis]))
  );
}
