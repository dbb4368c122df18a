import type { Study } from "../../../base/study.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { curveNamesOfNode } from "../../../rig/channels.ts";
import { defineFix } from "../../fix.ts";
import { isOnEveryFrame } from "../../shared/keying/on-every-frame.ts";
import { valuesOf } from "../../values.ts";
import { idleCurve, isIdle } from "./check.ts";

export const idleCurveFix = defineFix(idleCurve, {
  what: "Keeps the first key of each curve of a node that never changes; of all such curves where one note tells of them.",
  title: ({ keys }) =>
    new Set(keys.map(({ node, channel }) => `${node} ${channel}`)).size > 1
      ? "keep the first key of each curve that never changes"
      : `keep the first key of ${keys[0]?.node ?? "the curve"} ${keys[0]?.channel ?? ""}`,
  *propose({ study, finding, seenAt }) {
    const curves = finding.isBookkeeping === true ? bookkeepingOf(study, seenAt) : finding.curves;
    yield curves.flatMap(({ node, channel, frames }) =>
      [...frames.subarray(1)].map((frame) => ({ kind: "remove" as const, node, channel, frame })),
    );
  },
});

/** Curves of nodes that are keyed on every frame and never change. */
function bookkeepingOf(study: Study, nodes: readonly number[]): Curve[] {
  return nodes.flatMap((node) => {
    const { band } = valuesOf(study, idleCurve, node);
    return curveNamesOfNode(study, node).flatMap((name) => {
      const curve = curveOf(study, name);
      return curve !== null && isOnEveryFrame(study, curve) && isIdle(curve, band) ? [curve] : [];
    });
  });
}
