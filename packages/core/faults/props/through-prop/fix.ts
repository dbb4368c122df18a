import type { Study } from "../../../base/study.ts";
import { allLimbsOf } from "../../../motion/ground/all-limbs.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { type Faded, shareAt, shiftedCourse } from "../../shared/posing/end-courses.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { throughProp } from "./check.ts";

export const throughPropFix = defineFix(throughProp, {
  what: "Moves the thing out by the shortest way, with the hands that hold it; or the end of the limb.",
  title: ({ node, frames }) =>
    `move ${node ?? "it"} out of what it goes through over frames ${frames[0]} to ${frames[1]}`,
  *propose({ study, shot, finding }) {
    const { passage, mover, sign } = finding;
    const { from, to, deepest, depth, ways } = passage;
    const at = 3 * (deepest - from);
    const out = [0, 1, 2].map((k) => sign * ways[at + k]) as [number, number, number];
    for (const share of [1, 1.15]) {
      for (const fade of [4, 8, 14]) {
        const faded: Faded = { from, to, before: fade, after: fade };
        const way = out.map((part) => share * depth * part) as [number, number, number];
        if (mover.isFlesh) {
          const end = endOf(study, mover.figure, mover.far);
          if (end < 0) return;
          yield withEndsKept(study, shot, [], new Map([[end, shiftedCourse(study, end, faded, () => way)]]));
          continue;
        }
        const rig = rigOf(study);
        const hands = gripsOf(study).filter(
          (grip) =>
            (isAbove(rig, grip.thing, mover.node) || isAbove(rig, mover.node, grip.thing)) &&
            grip.from <= to + fade &&
            grip.to >= from - fade,
        );
        const courses = hands.map(
          ({ hand }) => [hand, shiftedCourse(study, hand, faded, () => way)] as const,
        );
        yield withEndsKept(study, shot, shifted(study, mover.owner, faded, way), new Map(courses));
      }
    }
  },
});

/** Edits of a thing that shift it through the world by a way, with its fade. */
function shifted(study: Study, node: number, faded: Faded, way: readonly number[]) {
  const { count } = gridOf(study);
  const lo = Math.max(0, faded.from - faded.before);
  const hi = Math.min(count - 1, faded.to + faded.after);
  const ways = new Float64Array(3 * (hi - lo + 1));
  for (let i = lo; i <= hi; i++)
    for (let k = 0; k < 3; k++) ways[3 * (i - lo) + k] = shareAt(study, i, faded) * way[k];
  return shiftedNode(study, node, { lo, hi }, ways);
}

/** The end of the limb on which a node is; −1 where it is on none. */
function endOf(study: Study, figure: number, node: number): number {
  const rig = rigOf(study);
  const limb = allLimbsOf(study, figure).find(
    ({ root, end }) => isAbove(rig, root, node) && (isAbove(rig, node, end) || isAbove(rig, end, node)),
  );
  return limb?.end ?? -1;
}
