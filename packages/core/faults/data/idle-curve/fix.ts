import type { Study } from "../../../base/study.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { curveNamesOfNode } from "../../../rig/channels.ts";
import { defineFix } from "../../fix.ts";
import { valuesOf } from "../../values.ts";
import { idleCurve, isIdle } from "./check.ts";

export const idleCurveFix = defineFix(idleCurve, {
  what: "Keeps the first key of each curve of the shot that never changes.",
  title: ({ keys }) =>
    new Set(keys.map(({ node, channel }) => `${node} ${channel}`)).size > 1
      ? "keep the first key of each curve that never changes"
      : `keep the first key of ${keys[0]?.node ?? "the curve"} ${keys[0]?.channel ?? ""}`,
  *propose({ study, seenAt }) {
    yield idleCurvesOf(study, seenAt).flatMap(({ node, channel, frames }) =>
      [...frames.subarray(1)].map((frame) => ({ kind: "remove" as const, node, channel, frame })),
    );
  },
});

/** Curves of nodes that never change, as the check counts them. */
function idleCurvesOf(study: Study, nodes: readonly number[]): Curve[] {
  return nodes.flatMap((node) => {
    const { band, keys } = valuesOf(study, idleCurve, node);
    return curveNamesOfNode(study, node).flatMap((name) => {
      const curve = curveOf(study, name);
      return curve !== null && curve.frames.length >= keys && isIdle(curve, band) ? [curve] : [];
    });
  });
}
