import { referenceRate } from "../../../base/constants.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { ramp } from "../../shared/keying/courses.ts";
import { turnTracksOf } from "../../shared/keying/track.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { type NoAnticipationFinding, noAnticipation } from "./check.ts";

export const noAnticipationFix = defineFix(noAnticipation, {
  what: "Lets the hips go down before the take-off and come up into it, one breakdown at their lowest; the feet stay where they are. Before a blow it puts in a pose in which chest and arm turn back.",
  title: ({ frames }) => `go back before what comes at frame ${frames[1]}`,
  *propose(subject) {
    const { study, shot, figure, finding } = subject;
    if (figure < 0) return;
    const { rate } = gridOf(study);
    const frames = (number: number) => Math.max(2, Math.round((number * rate) / referenceRate));
    if (!("usual" in finding.numbers)) {
      yield* woundUp(subject, finding.chain ?? [], frames(5));
      return;
    }
    const { usual, dip } = finding.numbers;
    for (const share of [0.4, 0.7, 1]) {
      for (const [up, down] of [
        [5, 10],
        [4, 8],
        [6, 14],
      ]) {
        const amount = share * usual - dip;
        if (amount > 0)
          yield withEndsKept(study, shot, crouched(subject, amount, { up: frames(up), down: frames(down) }));
      }
    }
  },
});

/** The hips lower by an amount some frames before the take-off, and at it where they were, on their way up. */
function crouched(
  { study, figure, finding }: Subject<NoAnticipationFinding>,
  amount: number,
  { up, down }: { readonly up: number; readonly down: number },
): KeyEdit[] {
  const { count } = gridOf(study);
  const way = new Float64Array(3 * count);
  if (!("leaves" in finding.numbers)) return [];
  const end = finding.numbers.leaves - 1;
  for (let i = Math.max(0, end - up - down + 1); i < end; i++) {
    const t = end - i;
    const sink = t <= up ? Math.sin((Math.PI / 2) * (t / up)) : 1 - ramp(t, up, up + down);
    way[3 * i + 1] = -amount * sink;
  }
  return shiftedNode(study, hipsOf(study, figure), { lo: 0, hi: count - 1 }, way);
}

/** Poses some frames before a blow, in which all that turns into it is turned back by a share of its way. */
function* woundUp(
  { study, to }: Subject<NoAnticipationFinding>,
  chain: readonly number[],
  frames: number,
): Generator<KeyEdit[]> {
  const grid = gridOf(study);
  const at = grid.frames[to];
  const [here, there] = [new Float64Array(1), new Float64Array(1)];
  for (const share of [0.15, 0.25, 0.4]) {
    const edits: KeyEdit[] = [];
    for (const track of chain.flatMap((node) => turnTracksOf(study, node))) {
      if (track.width !== 1) continue;
      track.read(at - grid.step, here);
      track.read(at, there);
      if (here[0] === there[0]) continue;
      edits.push({
        kind: "set",
        node: track.id,
        channel: track.channel,
        frame: at - frames * grid.step,
        value: here[0] - share * (there[0] - here[0]),
        interpolation: "step",
      });
    }
    if (edits.length > 0) yield edits;
  }
}
