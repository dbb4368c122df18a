import type { Study } from "../../../base/study.ts";
import { figuresOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { trailingTurns, turnedInWorld } from "../../shared/posing/trail.ts";
import { frozenPart } from "./check.ts";
import { freezingLimbs } from "./limbs.ts";

export const frozenPartFix = defineFix(frozenPart, {
  what: "Lets a part that has frozen drift on behind the trunk that carries it.",
  title: ({ node, frames }) =>
    `let ${node ?? "the part"} drift on behind the trunk over frames ${frames[0]} to ${frames[1]}`,
  *propose({ study, node, figure, from, to, finding }) {
    // A limb that was never animated is to act, and how a body coasts is not to be guessed.
    if (node < 0 || figure < 0 || finding.numbers.kind !== "limb") return;
    const links = linksFrom(study, figure, node);
    const { count } = gridOf(study);
    const { lag, amount, trunk } = finding.numbers;
    // It fades in and out beside the freeze, where the part moves.
    const samples = { lo: Math.max(0, from - 3), hi: Math.min(count - 1, to + 4) };
    for (const [late, each, share] of [
      [lag, 1, 0.4],
      [lag, 2, 0.8],
      [2 * lag, 3, 1],
    ]) {
      // Each joint later than the one before and farther, so that none of them stands still against it.
      const turned = links.map((link, k) => ({
        node: link,
        turns: trailingTurns(
          study,
          { node: link, carrier: trunk, lag: late + each * k, share, most: amount * (1 + k) },
          samples,
        ),
      }));
      yield turnedInWorld(study, turned, samples);
    }
  },
});

/** The joints of a frozen part from the one that is told outwards. */
function linksFrom(study: Study, figure: number, node: number): number[] {
  const { parts } = figuresOf(study)[figure];
  const joints = freezingLimbs
    .map((limb) => limb.flatMap((part) => parts.get(part) ?? []))
    .find((limb) => limb.includes(node));
  return joints === undefined ? [node] : joints.slice(joints.indexOf(node));
}
