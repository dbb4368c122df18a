import { floats } from "../base/room.ts";
import type { Study } from "../base/study.ts";
import { firstKeyFrom } from "../curve/keys.ts";
import { curveOf } from "../document/inputs.ts";
import { channelSeriesOf } from "../rig/channels.ts";
import { curveNamesOfNode } from "../rig/pose.ts";
import { radiansPerUnitOf } from "../rig/rig.ts";
import type { Fault } from "./check.ts";
import { type SeriesFault, Trial } from "./trial.ts";

type Keys = Extract<Fault, { kind: "keys" }>["keys"];

/**
 * Where a turn is missing: the channel on which an eased turn over the fault's frames would take most of it away, named by
 * the key from which that would set out. Nothing that is there is wrong, so that no key has a share.
 * @param nodes rig indices, those that should answer first before the others; the first channel that helps as much as any
 * @param turn how far it would turn, radians
 * @returns null where no channel that is keyed would help
 */
export function missingOn(
  study: Study,
  fault: SeriesFault,
  nodes: readonly number[],
  turn: number,
): Keys | null {
  const trial = new Trial(study, fault);
  const { lo, hi, from, to } = fault;
  const size = turn / radiansPerUnitOf(study);
  const values = floats(hi - lo + 1);
  let best: Keys[number] | null = null;
  let least = trial.before;
  for (const node of nodes) {
    for (const name of curveNamesOfNode(study, node)) {
      const curve = curveOf(study, name);
      const now = channelSeriesOf(study, name);
      if (curve === null || now === null || curve.width !== 1 || !curve.channel.startsWith("rotation"))
        continue;
      for (const way of [size, -size]) {
        for (let i = lo; i <= hi; i++) {
          const share = Math.min(1, Math.max(0, (i - from) / (to - from)));
          values[i - lo] = now[i] + way * share * share * (3 - 2 * share);
        }
        const left = trial.strengthWith(node, curve.channel, values);
        if (!(left < 0.999 * least)) continue;
        least = left;
        const before = firstKeyFrom(curve.frames, trial.times[from - lo] + 0.5) - 1;
        best = { node: curve.node, channel: curve.channel, index: Math.max(0, before) };
      }
    }
  }
  return best === null ? null : [best];
}
