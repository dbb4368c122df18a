import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { bodyRiseOf, bodyShareAt, type Lift } from "../shared/lifts.ts";
import { type NoLoadFinding, noLoad } from "./check.ts";

export const noLoadFix = defineFix(noLoad, {
  what: "Lets a load come up with the body that lifts it, or no faster than a body can; the hands go with the load.",
  title: ({ node, frames }) => `let ${node ?? "the load"} come up with the body from frame ${frames[0]} on`,
  *propose({ study, shot, finding }) {
    const { lift } = finding;
    for (const { hi, share, part } of coursesOf(study, finding)) {
      const ways = waysOf(study, lift, hi, share, part);
      const hands = gripsOf(study).filter(
        ({ thing, from, to }) => thing === lift.thing && from <= hi && to >= lift.from,
      );
      const courses = hands.map(({ hand }) => {
        const world = worldOf(study, hand);
        const position = world.position.slice();
        for (let n = 0; n < ways.length; n++) position[3 * lift.from + n] += ways[n];
        return [hand, { position, orientation: world.orientation }] as const;
      });
      const edits: KeyEdit[] = shiftedNode(study, lift.thing, { lo: lift.from, hi }, ways);
      yield withEndsKept(study, shot, edits, new Map(courses));
    }
  },
});

/** A course that a load may take on its own way. */
interface Course {
  /** Last sample at which it is elsewhere than it was. */
  readonly hi: number;
  /** Which share of its lift it may have done at a sample, 0 to 1, and how much of the way to there it goes. */
  readonly share: (i: number) => number;
  readonly part: number;
}

function* coursesOf(study: Study, { lift, figure, numbers }: NoLoadFinding): Generator<Course> {
  if (numbers.kind === "unanswered" || numbers.kind === "taken") return;
  if (numbers.kind === "leap") {
    const { position } = worldOf(study, lift.thing);
    const { from, to } = lift;
    const height = (i: number) => {
      const at = Math.min(to, from + i);
      const [low, next] = [Math.floor(at), Math.min(to, Math.floor(at) + 1)];
      const now = position[3 * low + 1] + (at - low) * (position[3 * next + 1] - position[3 * low + 1]);
      return (now - position[3 * from + 1]) / (position[3 * to + 1] - position[3 * from + 1]);
    };
    // Slower by as much as it is too fast, and a little more.
    for (const slack of [0.95, 0.85, 0.7]) {
      const pace = (slack * numbers.took) / numbers.takes;
      const hi = Math.min(gridOf(study).count - 1, Math.ceil(from + (to - from) / pace));
      yield { hi, share: (i) => height((i - from) * pace), part: 1 };
    }
    return;
  }
  const body = bodyRiseOf(study, figure, lift);
  if (body === null) return;
  const share = bodyShareAt(study, figure, body);
  for (const late of [0, 1, 2])
    for (const part of [0.75, 1])
      yield { hi: Math.max(lift.to, body.to + late), share: (i) => share(i - late), part };
}

/**
 * By how much a load has to move for its share of the lift to be that of the body, 3 numbers per sample from where it leaves
 * its place: it stays on its own way, and is elsewhere on it.
 */
function waysOf(
  study: Study,
  { thing, from, to }: Lift,
  hi: number,
  share: (i: number) => number,
  part: number,
): Float64Array {
  const { position } = worldOf(study, thing);
  const height = (i: number) =>
    (position[3 * i + 1] - position[3 * from + 1]) / (position[3 * to + 1] - position[3 * from + 1]);
  const ways = floats(3 * (hi - from + 1));
  for (let i = from + 1; i <= hi; i++) {
    const now = Math.min(1, height(i));
    const wanted = now + part * (Math.min(now, share(i)) - now);
    if (wanted >= now) continue;
    let at = from;
    while (at < to && height(at + 1) < wanted) at++;
    const step = height(at + 1) - height(at);
    const t = step > 0 ? Math.max(0, Math.min(1, (wanted - height(at)) / step)) : 0;
    for (let k = 0; k < 3; k++) {
      const there = position[3 * at + k] + t * (position[3 * (at + 1) + k] - position[3 * at + k]);
      ways[3 * (i - from) + k] = there - position[3 * i + k];
    }
  }
  return ways;
}
