import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { fingerTipsOf, slipBetween, slipWay } from "../../../motion/parts/grip-slip.ts";
import { type Grip, gripsOf } from "../../../motion/parts/grips.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { shiftedCourse } from "../../shared/posing/end-courses.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { gripSlip } from "./check.ts";

export const gripSlipFix = defineFix(gripSlip, {
  what: "Lets the prop keep its place in the hand, or brings the hands to where the prop goes.",
  title: ({ node, frames }) =>
    `let ${node ?? "the prop"} keep its place in the hand from frame ${frames[0]} on`,
  *propose({ study, shot, finding }) {
    const { grip, from, numbers } = finding;
    const { count } = gridOf(study);
    // Where on the thing a hand belongs that is off it, nothing tells.
    if (numbers.kind === "off") return;
    for (const taken of new Set([from, grip.from])) {
      const ways = waysOf(study, grip, taken);
      for (const fade of [4, 8]) {
        const hi = grip.to >= count - 1 ? count - 1 : Math.min(count - 1, grip.to + fade);
        yield shiftedNode(study, grip.thing, { lo: taken, hi }, faded(ways, taken, grip.to, hi));
      }
    }
    const hands = gripsOf(study).filter(
      ({ thing, figure, to }) => thing === grip.thing && figure === grip.figure && to >= from,
    );
    for (const after of [8, 14]) {
      const courses = hands.map((held) => {
        const ways = waysOf(study, held, Math.max(from, held.from));
        const stretch = { from: Math.max(from, held.from), to: held.to, before: 1, after };
        return [
          held.hand,
          shiftedCourse(study, held.hand, stretch, (i) => [-ways[3 * i], -ways[3 * i + 1], -ways[3 * i + 2]]),
        ] as const;
      });
      yield withEndsKept(study, shot, [], new Map(courses));
    }
  },
});

/** By how much a thing has left its place in a hand since a sample, 3 numbers per sample of the shot, metres. */
function waysOf(study: Study, { hand, thing, figure, to }: Grip, from: number): Float64Array {
  const [holding, held] = [worldOf(study, hand), worldOf(study, thing)];
  const tip = fingerTipsOf(study, figure, hand);
  const ways = floats(held.position.length);
  for (let i = from + 1; i <= to; i++) {
    slipBetween(holding, held, tip, from, i);
    ways.set(slipWay, 3 * i);
  }
  return ways;
}

/** Ways from one sample to another, behind the hold let go by and by. */
function faded(ways: Float64Array, from: number, to: number, hi: number): Float64Array {
  const out = new Float64Array(3 * (hi - from + 1));
  for (let i = from; i <= hi; i++) {
    const share = i <= to ? 1 : 1 - (i - to) / (hi - to);
    for (let k = 0; k < 3; k++) out[3 * (i - from) + k] = share * ways[3 * Math.min(i, to) + k];
  }
  return out;
}
