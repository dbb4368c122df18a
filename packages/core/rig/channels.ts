import { floats } from "../base/room.ts";
import { changedSamples, measure, sampledMeasure, shotMeasure } from "../base/study.ts";
import { sampleCurve } from "../curve/evaluate.ts";
import { curveNamesOf, curveOf } from "../document/inputs.ts";
import { gridOf } from "../time/grid.ts";
import { rigOf } from "./rig.ts";

/** A curve's samples on the grid, `width` numbers each, in document units; null where it has no keys. */
export const channelSeriesOf = sampledMeasure(
  "channel series",
  (study, name: string): Float64Array | null => {
    const curve = curveOf(study, name);
    if (curve === null || curve.frames.length === 0) return null;
    const { frames } = gridOf(study);
    const series = floats(curve.width * frames.length);
    sampleCurve(curve, frames, series);
    return series;
  },
  (a, b, name) => changedSamples(a, b, name.endsWith(" rotation") ? 4 : 1),
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
    const translation: [string | null, string | null, string | null] = [null, null, null];
    const rotation: [string | null, string | null, string | null] = [null, null, null];
    const scale: [string | null, string | null, string | null] = [null, null, null];
    let quaternion: string | null = null;
    const id = rigOf(study).ids[node];
    for (const name of namesByNodeOf(study).get(id) ?? []) {
      // Channels are told by their first letter and their last: "rotation" alone is that of quaternions.
      const kind = name.charCodeAt(id.length + 1);
      const axis = name.charCodeAt(name.length - 1) - letterX;
      if (axis < 0 || axis > 2) {
        quaternion = name;
        continue;
      }
      const names = kind === letterT ? translation : kind === letterR ? rotation : scale;
      names[axis] = name;
    }
    return {
      translation: orNone(translation),
      rotation: orNone(rotation),
      scale: orNone(scale),
      quaternion,
    };
  },
  sameDrivers,
);

const namesByNodeOf = shotMeasure("curve names by node", (study): ReadonlyMap<string, readonly string[]> => {
  const byNode = new Map<string, string[]>();
  let node = "";
  let names: string[] | undefined;
  for (const name of curveNamesOf(study)) {
    const end = name.lastIndexOf(" ");
    // The curves of a node mostly stand side by side.
    if (names === undefined || end !== node.length || !name.startsWith(node)) {
      node = name.slice(0, end);
      names = byNode.get(node);
      if (names === undefined) {
        names = [];
        byNode.set(node, names);
      }
    }
    names.push(name);
  }
  return byNode;
});

const [letterT, letterR, letterX] = ["t", "r", "x"].map((letter) => letter.charCodeAt(0));

/** Null where no axis has a curve. */
function orNone(names: AxisNames): AxisNames | null {
  return names[0] === null && names[1] === null && names[2] === null ? null : names;
}

const noAxes: AxisNames = [null, null, null];

function sameDrivers(a: DrivingNames, b: DrivingNames): boolean {
  const kinds = ["translation", "rotation", "scale"] as const;
  return (
    a.quaternion === b.quaternion &&
    kinds.every((kind) => (a[kind] ?? noAxes).every((name, axis) => name === (b[kind] ?? noAxes)[axis]))
  );
}
