import type { KeyEdit, KeyHandle, SetKey } from "../../../document/edit.ts";
import { curveName, curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { defineFix } from "../../fix.ts";
import { decimalsOf, rounded } from "../../shared/keying/precision.ts";
import { overshoot } from "./check.ts";

export const overshootFix = defineFix(overshoot, {
  what: "Lowers the handles on either side of an overshoot until the curve keeps to its keys.",
  title: ({ keys }) =>
    keys[0] === undefined
      ? "level the handles"
      : `lower the handles of ${keys[0].node} ${keys[0].channel} at frames ${keys[0].frame} and ${keys[1]?.frame ?? ""}`,
  // Half of what is seen.
  margin: { floor: 0.5 },
  *propose({ study, keys, node }) {
    const key = keys[0];
    const curve = key === undefined ? null : curveOf(study, curveName(key.node, key.channel));
    if (curve === null || key === undefined || curve.handles === null || node < 0) return;
    const decimals = decimalsOf(study, node, key.channel);
    for (const share of [0.7, 0.5, 0.3, 0.15, 0.05, 0.02, 0]) {
      yield lowered(curve, [[key.index, "out"]], share, decimals);
      yield lowered(curve, [[key.index + 1, "in"]], share, decimals);
      yield lowered(
        curve,
        [
          [key.index, "out"],
          [key.index + 1, "in"],
        ],
        share,
        decimals,
      );
    }
  },
});

type Side = readonly [key: number, side: "in" | "out"];

/** Handles with a share of their rise. */
function lowered(curve: Curve, sides: readonly Side[], share: number, decimals: number): KeyEdit[] {
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
