import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { easedBoth } from "../../shared/keying/eased-ends.ts";
import { retimed } from "../../shared/keying/retime.ts";
import { causeSets } from "../../shared/posing/causes.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { evenSpacing } from "./check.ts";

export const evenSpacingFix = defineFix(evenSpacing, {
  what: "Eases a move out of its first key and into its last one.",
  title: ({ frames, node }) =>
    `ease ${node ?? "the move"} out of frame ${frames[0]} and into frame ${frames[1]}`,
  // About half of what the spacing of an eased move varies by (0.65).
  margin: { variation: 4 },
  *propose(subject) {
    const { study, shot } = subject;
    const { frames } = gridOf(study);
    const [from, to] = [frames[subject.from], frames[subject.to]];
    for (const tracks of causeSets(subject, from, to)) {
      for (const share of [0.25, 0.35, 0.5]) {
        const end = easedBoth(from, to, share);
        yield* keptAndPlain(
          subject,
          shot,
          tracks.flatMap((track) => retimed(study, track, end, end.warp)),
        );
      }
    }
  },
});
