import { bytes } from "../base/room.ts";
import { measure, type Study, sameNumbers, shotMeasure } from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import { rigOf } from "../rig/rig.ts";
import { gridOf } from "../time/grid.ts";

/**
 * When a node is seen, as far as its own visibility and that of all above it tell: 1 per sample where it is.
 * @param node rig index of the node
 * @returns null where it is all through
 */
export const visibilityOf = measure(
  "visibility",
  (study, node: number): Uint8Array | null => {
    const own = stretchesOf(study).get(node);
    const up = rigOf(study).parent[node];
    const above = up < 0 ? null : visibilityOf(study, up);
    if (own === undefined) return above;
    const { count, frames } = gridOf(study);
    const seen = bytes(count);
    for (let i = 0; i < count; i++) {
      const isIn = own.some(([first, last]) => frames[i] >= first && frames[i] <= last);
      seen[i] = isIn && (above === null || above[i] === 1) ? 1 : 0;
    }
    return seen;
  },
  sameNumbers,
);

/** Whether a node is seen at a sample, as far as visibility tells. */
export function isVisible(study: Study, node: number, sample: number): boolean {
  const seen = visibilityOf(study, node);
  return seen === null || seen[sample] === 1;
}

/**
 * 1 at the samples at which a node is hidden that is seen at others: it comes or goes.
 * @returns null where it never is
 */
export function hiddenAt(study: Study, node: number): Uint8Array | null {
  const seen = visibilityOf(study, node);
  return seen === null || !seen.includes(1) ? null : seen.map((one) => 1 - one);
}

/** Stretches of frames in which nodes are seen, of those that say so. */
const stretchesOf = shotMeasure<ReadonlyMap<number, readonly (readonly number[])[]>>(
  "stretches of visibility",
  (study) => {
    const { indexOf } = rigOf(study);
    const stretches = new Map<number, readonly (readonly number[])[]>();
    for (const { id, visible } of headerOf(study).nodes) {
      const node = indexOf.get(id);
      if (visible !== undefined && node !== undefined && !stretches.has(node)) stretches.set(node, visible);
    }
    return stretches;
  },
  (a, b) => a === b || (a.size === 0 && b.size === 0),
);
