import { rotateVector } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { firstKeyFrom } from "../../../curve/keys.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { chainOf, curveNamesOfNode, outerWorldOf, worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import type { Fault } from "../../check.ts";

/**
 * How much of a translation channel has to go along a surface's normal for it to set the height (cosine: within 45°).
 */
const leastAlong = 0.7;

/**
 * The keys that set how high a node is over a surface, over a run of samples: those of the nearest translation channel
 * above it that goes along the normal. Taking them out would not show that: the neighbours of a plant's keys are those
 * of a swing.
 * @param elsewhere a node that is at its right height there; what moves it as well is not the cause. -1 for none
 * @returns null where no such channel is keyed
 */
export function heightCause(
  study: Study,
  node: number,
  run: Span,
  normal: readonly [number, number, number],
  elsewhere = -1,
): Fault | null {
  const rig = rigOf(study);
  const { frames } = gridOf(study);
  const middle = (run.from + run.to) >> 1;
  for (const ancestor of [...chainOf(rig, node)].reverse()) {
    if (elsewhere >= 0 && isAbove(rig, ancestor, elsewhere)) return null;
    const up = rig.parent[ancestor];
    const { orientation } = up < 0 ? outerWorldOf(study, undefined) : worldOf(study, up);
    let best: { curve: Curve; along: number } | null = null;
    for (const name of curveNamesOfNode(study, ancestor)) {
      const curve = curveOf(study, name);
      if (curve === null || curve.frames.length < 2 || !curve.channel.startsWith("translation")) continue;
      const axis = new Float64Array(3);
      axis["xyz".indexOf(curve.channel[curve.channel.length - 1])] = 1;
      rotateVector(orientation, 4 * middle, axis, 0, axis, 0);
      const along = Math.abs(axis[0] * normal[0] + axis[1] * normal[1] + axis[2] * normal[2]);
      if (along >= leastAlong && along > (best?.along ?? 0)) best = { curve, along };
    }
    if (best === null) continue;
    const { curve } = best;
    const keys = keysWithin(curve, frames[run.from] - 0.5, frames[run.to] + 0.5);
    return {
      kind: "keys",
      keys: keys.map((index) => ({
        node: curve.node,
        channel: curve.channel,
        index,
      })),
    };
  }
  return null;
}

/** At most six keys of a curve between two frames; where there are none, the one before. */
function keysWithin(curve: Curve, from: number, to: number): number[] {
  const keys: number[] = [];
  const first = firstKeyFrom(curve.frames, from);
  for (let key = first; curve.frames[key] <= to && keys.length < 6; key++) keys.push(key);
  return keys.length > 0 ? keys : [Math.max(0, first - 1)];
}
