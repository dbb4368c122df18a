import type { Study } from "../../base/study.ts";
import { headerOf } from "../../document/inputs.ts";
import { figureOfNode, figuresOf } from "../../rig/body.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf, sampleAt } from "../../time/grid.ts";

/**
 * Puts 1 at the samples at which the document says that something of another figure holds this one by its top node. A stick
 * with a tip of its own, or a doll, is a hierarchy and so a figure; it falls nowhere while a hand has it.
 * @param figure index into `figuresOf`
 * @param carried one number per sample; the others stay
 */
export function addInHands(study: Study, figure: number, carried: Uint8Array): void {
  const grid = gridOf(study);
  const { indexOf } = rigOf(study);
  const { root } = figuresOf(study)[figure];
  const end = grid.frames[0] + (grid.count - 1) * grid.step;
  for (const { node, heldBy = [] } of headerOf(study).props ?? []) {
    if (indexOf.get(node) !== root) continue;
    for (const { node: by, frames } of heldBy) {
      const hand = indexOf.get(by);
      const isOther = hand !== undefined && figureOfNode(study, hand) !== figure;
      if (!isOther || frames[1] < grid.frames[0] || frames[0] > end) continue;
      carried.fill(1, sampleAt(grid, frames[0]), sampleAt(grid, frames[1]) + 1);
    }
  }
}
