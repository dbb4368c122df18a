import { figuresOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { chainOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import type { Warp } from "../../shared/keying/courses.ts";
import { retimedInPlace } from "../../shared/keying/retime.ts";
import { tracksOf } from "../../shared/keying/track.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { type QuickTopFinding, quickTop } from "./check.ts";

export const quickTopFix = defineFix(quickTop, {
  what: "Slows a part down toward its top and lets it gather speed behind it, over the same frames; its poses stay.",
  title: ({ node, frames }) =>
    `let ${node ?? "the part"} slow down at its top, frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    const { study, shot, finding } = subject;
    const { frames, step } = gridOf(study);
    const { start, end, top } = finding.numbers;
    const [from, to] = [Math.floor(start), Math.ceil(end)].map((i) => frames[0] + i * step);
    const at = frames[top];
    for (const power of [1.3, 1.5, 1.7, 2]) {
      for (const nodes of carriersOf(subject)) {
        const tracks = nodes.flatMap((node) => tracksOf(study, node));
        const edits = tracks.flatMap((track) =>
          retimedInPlace(study, track, { from, to }, slowedAt(at, from, to, power)),
        );
        yield nodes.includes(subject.node) ? withEndsKept(study, shot, edits) : edits;
      }
    }
  },
});

/** Shows frames near a top for longer: those at both ends and at the top itself stay. */
function slowedAt(at: number, from: number, to: number, power: number): Warp {
  return (frame) => {
    if (frame <= from || frame >= to || frame === at) return frame;
    const way = frame < at ? from - at : to - at;
    return at + way * ((frame - at) / way) ** power;
  };
}

/** The joints whose keys bring a part up and down: those of its limb, or those between it and the root. */
function carriersOf({ study, figure, node }: Subject<QuickTopFinding>): number[][] {
  if (figure < 0 || node < 0) return [];
  const limb = limbsOf(study, figure).find(({ end }) => end === node);
  const chain = chainOf(rigOf(study), node);
  const own = chain.slice(chain.indexOf(figuresOf(study)[figure].root));
  if (limb === undefined) return [own];
  return [[limb.root, limb.middle], own];
}
