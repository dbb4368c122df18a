import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import type { Jolted } from "../../../motion/body/jolt.ts";
import type { Spike } from "../../../motion/path/spike.ts";
import { type Switch, switchedOf, switchesBetween } from "../../../motion/path/step-change.ts";
import { chainOf } from "../../../rig/pose.ts";
import { boneLengthOf } from "../../../rig/reach.ts";
import { radiansPerUnitOf, rigOf } from "../../../rig/rig.ts";
import { metresPerUnitOf } from "../../../rig/stature.ts";

/** Least share of a deviation that switched poses have to give to explain it (our choice: the greater part of it). */
const leastGiven = 0.5;

/**
 * Whether step keys that switch a pose give a spike: what they change there, as it is seen on the node, makes half of it
 * at least. A switch beside a pop explains nothing of it.
 */
export function isSwitched(
  study: Study,
  node: number,
  shown: Int32Array,
  spike: Pick<Spike, "at" | "deviation"> & { readonly length: number },
  kind: Jolted,
): boolean {
  const from = shown[spike.at];
  const to = shown[spike.at + spike.length - 1];
  // A pose that is switched on and off again within two frames is switched at its start and just behind its end.
  if (
    !switchedOf(study, node)
      .subarray(from, to + 2)
      .includes(1)
  )
    return false;
  let given = 0;
  for (const joint of chainOf(rigOf(study), node)) {
    for (const change of switchesBetween(study, joint, from, to + 1)) {
      given += seenOf(study, change, joint, node, kind);
    }
  }
  if (given < leastGiven * spike.deviation) return false;
  excused(node, from, to, "a step key switches the pose there");
  return true;
}

/** What a switch of a joint's curve changes at most on a node: metres of its place, or radians of its turn. */
function seenOf(study: Study, { curve, key }: Switch, joint: number, node: number, kind: Jolted): number {
  const { values, width, channel } = curve;
  let square = 0;
  for (let k = 0; k < width; k++) square += (values[key * width + k] - values[(key - 1) * width + k]) ** 2;
  const change = Math.sqrt(square);
  if (channel.startsWith("rotation")) {
    // Components of a quaternion change by half the angle.
    const angle = channel === "rotation" ? 2 * change : change * radiansPerUnitOf(study);
    return kind === "orientation" ? angle : angle * boneLengthOf(study, joint, node);
  }
  if (kind === "orientation") return 0;
  return channel.startsWith("translation")
    ? change * metresPerUnitOf(study)
    : change * boneLengthOf(study, joint, node);
}
