import { curveName, curveOf } from "../../../document/inputs.ts";
import { defineFix } from "../../fix.ts";
import { idleCurve } from "./check.ts";

export const idleCurveFix = defineFix(idleCurve, {
  what: "Keeps the first key of a curve that never changes.",
  title: ({ keys }) => `keep the first key of ${keys[0]?.node ?? "the curve"} ${keys[0]?.channel ?? ""}`,
  *propose({ study, keys }) {
    const key = keys[0];
    const curve = key === undefined ? null : curveOf(study, curveName(key.node, key.channel));
    if (curve === null) return;
    const { node, channel } = curve;
    yield [...curve.frames.subarray(1)].map((frame) => ({ kind: "remove", node, channel, frame }));
  },
});
