import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { shareAt, shiftedCourse } from "../../shared/posing/end-courses.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { missedContact } from "./check.ts";
import { wayTo } from "./gaps.ts";

export const missedContactFix = defineFix(missedContact, {
  what: "Brings the hand to what it touches, or the thing down to where it stands, for as long as the contact lasts.",
  title: ({ node, frames }) =>
    `bring ${node ?? "it"} to what it touches in frames ${frames[0]} to ${frames[1]}`,
  *propose({ study, shot, finding }) {
    const { contact } = finding;
    const { from, to, node } = contact;
    const last = gridOf(study).count - 1;
    for (const fade of [4, 8, 12]) {
      const faded = { from, to, before: fade, after: fade };
      const way = (i: number) => wayTo(study, contact, i);
      if (contact.isHand) {
        yield withEndsKept(study, shot, [], new Map([[node, shiftedCourse(study, node, faded, way)]]));
        continue;
      }
      const [lo, hi] = [Math.max(0, from - fade), Math.min(last, to + fade)];
      const ways = new Float64Array(3 * (hi - lo + 1));
      for (let i = lo; i <= hi; i++) {
        const share = shareAt(study, i, faded);
        ways.set(
          way(Math.min(to, Math.max(from, i))).map((one) => share * one),
          3 * (i - lo),
        );
      }
      yield shiftedNode(study, node, { lo, hi }, ways);
    }
  },
});
