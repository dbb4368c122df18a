// @ts-check
/**
 * When a fault counts as gone.
 * @import { Poses } from "../types.d.ts"
 * @import { Planted } from "../planting/planting.d.ts"
 */
import { measured, presenceLimit } from "../planting/prove.mjs";

/** What other faults leave of a measure may be exceeded by this share: nothing can clear it further. */
const slack = 1.1;

/**
 * The measure under which a fault is gone: what a barely seen one must show to be planted. Where the shot without the
 * fault shows more than that, because of other faults, it is that instead; unless doing nothing would already do.
 * @param {Planted} planted @param {Poses} twin
 */
export function limitAfter({ fault, without, measured: now }, twin) {
  const least = presenceLimit(fault.kind);
  const left = slack * measured(fault, without.poses, twin);
  return left > least && left < now ? left : least;
}
