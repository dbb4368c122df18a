import { referenceRate } from "../../../base/constants.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { cutsOf } from "../../../motion/path/cuts.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { ramp } from "../../shared/keying/courses.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { type NoSettleFinding, noSettle } from "./check.ts";

export const noSettleFix = defineFix(noSettle, {
  what: "Lets the hips sink on after the contact and come up again, one breakdown at their lowest; the feet stay where they are. In blocked work it lowers them in the pose that lands.",
  title: ({ frames }) => `let the body give after its landing at frame ${frames[1]}`,
  *propose(subject) {
    const { study, shot, figure, finding } = subject;
    if (figure < 0) return;
    const { rate, count } = gridOf(study);
    const frames = (number: number) => Math.max(2, Math.round((number * rate) / referenceRate));
    const { usual, give } = finding.numbers;
    if (subject.finding.isDrawn === true) {
      for (const share of [0.6, 0.8, 1, 1.4])
        yield withEndsKept(study, shot, lowered(subject, count, share * usual - give));
      return;
    }
    for (const share of [0.6, 0.8, 1, 1.4]) {
      for (const [down, up] of [
        [4, 12],
        [3, 10],
        [5, 16],
      ]) {
        const amount = Math.max(0, share * usual - give);
        const settle = { down: frames(down), up: frames(up) };
        yield withEndsKept(study, shot, sunk(subject, count, amount, settle));
      }
    }
  },
});

/** The hips lower by an amount some frames after the contact, at the speed of their fall first, and back after that. */
function sunk(
  { study, figure, finding }: Subject<NoSettleFinding>,
  count: number,
  amount: number,
  { down, up }: { readonly down: number; readonly up: number },
): KeyEdit[] {
  const way = new Float64Array(3 * count);
  const start = finding.numbers.lands - 1;
  for (let i = start + 1; i < Math.min(count, start + down + up); i++) {
    const t = i - start;
    const sink = t <= down ? Math.sin((Math.PI / 2) * (t / down)) : 1 - ramp(t, down, down + up);
    way[3 * i + 1] = -amount * sink;
  }
  // The frame of the contact stays: the feet touch where they touch.
  return shiftedNode(study, hipsOf(study, figure), { lo: 0, hi: count - 1 }, way);
}

/** The hips lower by an amount in the pose of step keys that lands. */
function lowered(
  { study, figure, finding }: Subject<NoSettleFinding>,
  count: number,
  amount: number,
): KeyEdit[] {
  const way = new Float64Array(3 * count);
  const hips = hipsOf(study, figure);
  const { lands } = finding.numbers;
  const next = cutsOf(study, hips).find((cut) => cut > lands) ?? count;
  for (let i = lands; i < next; i++) way[3 * i + 1] = -Math.max(0, amount);
  return shiftedNode(study, hips, { lo: 0, hi: count - 1 }, way);
}
