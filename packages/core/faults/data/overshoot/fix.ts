import { curveName, curveOf } from "../../../document/inputs.ts";
import { defineFix } from "../../fix.ts";
import { decimalsOf } from "../../shared/keying/precision.ts";
import { loweredHandles } from "../../shared/posing/lowered-handles.ts";
import { overshoot } from "./check.ts";

/** Parts of a handle's rise that are left. */
const lowered = [0.7, 0.5, 0.3, 0.15, 0.05, 0.02];

export const overshootFix = defineFix(overshoot, {
  what: "Lowers the handles on either side of an overshoot until the curve keeps to its keys; in a hold, and where it is planted, it levels them.",
  title: ({ keys }) =>
    keys[0] === undefined
      ? "level the handles"
      : `lower the handles of ${keys[0].node} ${keys[0].channel} at frames ${keys[0].frame} and ${keys[1]?.frame ?? ""}`,
  // Half of what is seen.
  margin: { floor: 0.5, free: 0.5 },
  *propose({ study, keys, node, finding }) {
    const key = keys[0];
    const curve = key === undefined ? null : curveOf(study, curveName(key.node, key.channel));
    if (curve === null || key === undefined || curve.handles === null || node < 0) return;
    const decimals = decimalsOf(study, node, key.channel);
    // A hold, and what stands, is level: less would only breathe less. Between two poses the ease is kept where it can be.
    const shares = finding.numbers.kind === 0 ? [...lowered, 0] : [0, ...lowered];
    for (const share of shares) {
      yield loweredHandles(curve, [[key.index, "out"]], share, decimals);
      yield loweredHandles(curve, [[key.index + 1, "in"]], share, decimals);
      yield loweredHandles(
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
