import type { Study } from "../../../base/study.ts";
import { curveName, curveNamesOf, curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { rigOf } from "../../../rig/rig.ts";
import { defineFix } from "../../fix.ts";
import { isOnEveryFrame } from "../../shared/keying/on-every-frame.ts";
import { valuesOf } from "../../values.ts";
import { idleCurve, isIdle } from "./check.ts";

export const idleCurveFix = defineFix(idleCurve, {
  what: "Keeps the first key of a curve that never changes; of all such curves where one note tells of them.",
  title: ({ keys }) =>
    new Set(keys.map(({ node, channel }) => `${node} ${channel}`)).size > 1
      ? "keep the first key of each curve that never changes"
      : `keep the first key of ${keys[0]?.node ?? "the curve"} ${keys[0]?.channel ?? ""}`,
  *propose({ study, finding, keys, seenAt }) {
    const key = keys[0];
    const own = key === undefined ? null : curveOf(study, curveName(key.node, key.channel));
    if (own === null) return;
    const curves = finding.isBookkeeping === true ? bookkeepingOf(study, new Set(seenAt)) : [own];
    yield curves.flatMap(({ node, channel, frames }) =>
      [...frames.subarray(1)].map((frame) => ({ kind: "remove" as const, node, channel, frame })),
    );
  },
});

/** Curves of nodes that are keyed on every frame and never change. */
function bookkeepingOf(study: Study, nodes: ReadonlySet<number>): Curve[] {
  const { indexOf } = rigOf(study);
  return curveNamesOf(study).flatMap((name, subject) => {
    const curve = curveOf(study, name);
    if (curve === null || !nodes.has(indexOf.get(curve.node) ?? -1)) return [];
    const { band } = valuesOf(study, idleCurve, subject);
    return isOnEveryFrame(study, curve) && isIdle(curve, band) ? [curve] : [];
  });
}
