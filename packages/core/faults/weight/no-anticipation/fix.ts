import { referenceRate } from "../../../base/constants.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { ramp } from "../../shared/keying/courses.ts";
import { turnTracksOf } from "../../shared/keying/track.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { type NoAnticipationFinding, noAnticipation } from "./check.ts";

export const noAnticipationFix = defineFix(noAnticipation, {
  what: "Lets the hips go down before the take-off and come up into it, one breakdown at their lowest; the feet stay where they are. A crouch that is there too briefly begins earlier. Before a blow it puts in a pose in which chest and arm turn back.",
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
    const { usual, dip, seen, readable } = finding.numbers;
    if (seen > 0) {
      for (const [longer, share] of [
        [1.2, 0.5],
        [1.6, 0.5],
        [2, 0.8],
      ])
        yield withEndsKept(study, shot, stayedDown(subject, share * Math.max(usual, dip), longer * readable));
      return;
    }
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

/**
 * The hips lower by an amount for so many seconds before they are lowest: they go down before that, over as long, and where the
 * body goes down already they give way to it.
 */
function stayedDown(
  { study, figure, finding }: Subject<NoAnticipationFinding>,
  amount: number,
  seconds: number,
): KeyEdit[] {
  const { count, rate } = gridOf(study);
  if (!("leaves" in finding.numbers)) return [];
  const hips = hipsOf(study, figure);
  const { position } = worldOf(study, hips);
  const { leaves } = finding.numbers;
  const stays = Math.max(2, Math.round(seconds * rate));
  let lowest = leaves - 1;
  for (let i = leaves - 1; i >= Math.max(0, leaves - stays); i--)
    if (position[3 * i + 1] < position[3 * lowest + 1]) lowest = i;
  const way = new Float64Array(3 * count);
  const stands = position[3 * Math.max(0, lowest - 2 * stays) + 1];
  for (let i = Math.max(0, lowest - 2 * stays); i < lowest; i++) {
    const down = amount * (1 - ramp(lowest - i, stays, 2 * stays));
    way[3 * i + 1] = -Math.max(0, down - Math.max(0, stands - position[3 * i + 1]));
  }
  return shiftedNode(study, hips, { lo: 0, hi: count - 1 }, way);
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
