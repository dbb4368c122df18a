// @ts-check
/** Chains that hang on a body. */

/** @import { Joint } from "../types.d.ts" @import { Loose } from "./two-legs.mjs" */

/**
 * Chains that hang: a plait on the head, a strap on the hips, the tail of a coat. Their mass counts for nothing.
 * @param {("hair" | "strap" | "coat")[]} kinds
 * @param {{ H: number, headHeight: number, head: string, hips: string, chest: string,
 *   joint: (name: string, parent: string | null, at: number[], order: Joint["order"]) => string }} on
 * @returns {Loose[]}
 */
export function looseChains(kinds, { H, headHeight, head, hips, chest, joint }) {
  return kinds.map((kind) => {
    // What is plaited or sewn together hardly swings on (common practice).
    const [carrier, at, link, count, stiffness, damping] =
      kind === "hair"
        ? /** @type {const} */ ([head, [0, 0.62 * headHeight, -0.55 * headHeight], 0.055 * H, 4, 1.5, 0.9])
        : kind === "strap"
          ? /** @type {const} */ ([chest, [0.05 * H, 0.02 * H, -0.07 * H], 0.06 * H, 3, 1, 0.7])
          : /** @type {const} */ ([hips, [0, 0.01 * H, -0.075 * H], 0.075 * H, 3, 1.2, 0.9]);
    /** @type {string[]} */
    const ids = [];
    const step = [0, -link, kind === "coat" ? -0.12 * link : 0];
    for (let n = 0; n < count; n++) {
      ids.push(joint(`${kind}_${n + 1}`, ids[n - 1] ?? carrier, n === 0 ? [...at] : step, "xzy"));
    }
    return { joints: ids, carrier, at: [...at], tip: link, stiffness, damping };
  });
}
