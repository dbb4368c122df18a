import type { KeyEdit, KeyHandle, SetKey } from "../../../document/edit.ts";
import { curveName, curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Subject } from "../../fix.ts";
import { decimalsOf, rounded } from "../keying/precision.ts";

/** A handle of a curve: the index of its key, and on which side of it. */
export type HandleSide = readonly [key: number, side: "in" | "out"];

/** Edits that leave a share of the rise of some handles of a curve. */
export function loweredHandles(
  curve: Curve,
  sides: readonly HandleSide[],
  share: number,
  decimals: number,
): KeyEdit[] {
  return sides.flatMap(([key, side]): SetKey[] => {
    const at = 4 * key + (side === "in" ? 0 : 2);
    const [run, rise] = [curve.handles?.[at] ?? Number.NaN, curve.handles?.[at + 1] ?? Number.NaN];
    if (Number.isNaN(rise) || rise === 0) return [];
    const handle: KeyHandle = Number.isNaN(run)
      ? rounded(rise * share, decimals + 1)
      : [run, rounded(rise * share, decimals)];
    const { node, channel, frames, values } = curve;
    return [
      { kind: "set", node, channel, frame: frames[key], value: values[key], handles: { [side]: handle } },
    ];
  });
}

/** Curves of a note whose handles are looked at: the one that shows most of it, and the next. */
const mostCurves = 2;

/**
 * What hangs on a curve that bulges between two of its keys is carried along: the handles of the curves that a note names
 * lowered, between the keys that stand around each of the noted stretches.
 */
export function* withoutBulge({ study, keys, from, to }: Subject): Generator<KeyEdit[]> {
  const { frames } = gridOf(study);
  const names = [...new Set(keys.map(({ node, channel }) => curveName(node, channel)))].slice(0, mostCurves);
  for (const name of names) {
    const curve = curveOf(study, name);
    const node = rigOf(study).indexOf.get(curve?.node ?? "");
    if (curve === null || curve.handles === null || curve.width !== 1 || node === undefined) continue;
    const decimals = decimalsOf(study, node, curve.channel);
    const sides: HandleSide[] = [];
    for (let key = 0; key + 1 < curve.frames.length; key++) {
      if (curve.frames[key + 1] <= frames[from] || curve.frames[key] >= frames[to]) continue;
      sides.push([key, "out"], [key + 1, "in"]);
    }
    for (const share of [0.3, 0]) yield loweredHandles(curve, sides, share, decimals);
  }
}
