import { inRadians } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { figuresOf } from "../../../rig/body.ts";
import { rigOf, subtreeOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { keysAlone } from "../../shared/keying/rekey.ts";
import { slidInTime } from "../../shared/posing/part-offset.ts";
import { trailingTurns, turnedInWorld } from "../../shared/posing/trail.ts";
import { noDrag } from "./check.ts";

/** Most that a link of a tail or plait bends against the one before it, radians (25°): common practice. */
const mostBend = inRadians(25);

export const noDragFix = defineFix(noDrag, {
  what: "Lets each link of a loose chain trail what carries it, later and later toward the tip.",
  title: ({ node }) =>
    `let ${node ?? "the chain"} and what hangs on it drag, each link later than the one before`,
  *propose({ study, node, figure, from, to, finding }) {
    if (node < 0) return;
    const { count, frames, step } = gridOf(study);
    const links = linksFrom(study, figure, node);
    const { carrier } = finding.numbers;
    const shift = finding.numbers.shift;
    if (finding.numbers.beats === 1) {
      for (const by of [1, 2, 3]) {
        yield links.flatMap((link, k) => {
          const late = by * (k + 1) * step;
          return slidInTime(study, [link], {
            from: frames[from],
            to: frames[to],
            by: late,
            rampIn: 4 * late,
            rampOut: 4 * late,
          });
        });
      }
    }
    for (const [first, each, share] of [
      [shift, 1, 0.8],
      [shift + 1, 1, 0.8],
      [shift + 1, 1.5, 1],
      [shift + 2, 2, 1],
    ]) {
      // It settles after the frames of the note, as late as its last link comes.
      const settle = Math.ceil(2 * (first + each * links.length));
      const samples = { lo: Math.max(0, from - settle), hi: Math.min(count - 1, to + settle) };
      const turned = links.map((link, k) => ({
        node: link,
        turns: trailingTurns(
          study,
          { node: link, carrier, lag: first + each * k, share, most: mostBend * (k + 1) },
          samples,
        ),
      }));
      for (const laying of [{ loose: keysAlone }, undefined])
        yield turnedInWorld(study, turned, samples, laying);
    }
  },
});

/** The links of a chain from a node on to the tip, parents before children; without the tip itself, which turns nothing. */
function linksFrom(study: Study, figure: number, node: number): number[] {
  const rig = rigOf(study);
  const within = new Set(figure < 0 ? [] : figuresOf(study)[figure].nodes);
  const links = subtreeOf(rig, node).filter((link) => figure < 0 || within.has(link));
  const turning = links.filter((link) => rig.children[link].length > 0);
  return turning.length > 0 ? turning : links;
}
