import { carriedPath } from "../../../motion/path/carried.ts";
import { chainOf, worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { leftBefore } from "../../shared/comings.ts";
import type { Warp } from "../../shared/keying/courses.ts";
import { retimedInPlace } from "../../shared/keying/retime.ts";
import { turnTracksOf } from "../../shared/keying/track.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { type LateReachFinding, lateReach } from "./check.ts";

export const lateReachFix = defineFix(lateReach, {
  what: "Brings the limb nearer to its contact some frames sooner, on its own way, and lets it settle there.",
  title: ({ node, frames }) =>
    `let ${node ?? "the limb"} ease into its contact over frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    const { study, shot, node, finding } = subject;
    const { carrier } = finding.numbers;
    if (node < 0 || carrier < 0) return;
    const rig = rigOf(study);
    const limb = chainOf(rig, node).filter((joint) => joint !== carrier && isAbove(rig, carrier, joint));
    const { frames } = gridOf(study);
    const span = { from: frames[finding.from], to: frames[finding.to] };
    for (const share of [0.6, 0.8, 1]) {
      const warp = easedWarp(subject, share);
      const edits = limb.flatMap((joint) =>
        turnTracksOf(study, joint).flatMap((track) => retimedInPlace(study, track, span, warp)),
      );
      yield* keptAndPlain(subject, shot, edits);
    }
  },
});

/**
 * Shows each place of a reach when an eased one would be there: the frame of the old reach at which as much of the way was
 * left. A share of 0 leaves it as it is.
 */
function easedWarp({ study, finding, node }: Subject<LateReachFinding>, share: number): Warp {
  const { from, to } = finding;
  const { frames, step } = gridOf(study);
  const path = carriedPath(worldOf(study, node).position, worldOf(study, finding.numbers.carrier));
  const left = (i: number) => leftBefore(path, from, to, to - i);
  return (frame) => {
    const at = (frame - frames[0]) / step;
    if (at <= from || at >= to) return frame;
    const t = (at - from) / (to - from);
    const wanted = 1 - t * t * t * (10 - 15 * t + 6 * t * t);
    let read = to;
    while (read > from && left(read - 1) < wanted) read--;
    const [here, before] = [left(read), left(Math.max(from, read - 1))];
    const eased = before > here ? read - (wanted - here) / (before - here) : read;
    return frame + share * step * (eased - at);
  };
}
