// @ts-check
/**
 * One part that stops in the middle of a body that goes on: an arm, or the head with its neck.
 * @import { FaultKind, KeyedShot, Performance, Place, Poses } from "../types.d.ts"
 */
import { cutAt, reshape } from "./tools/curve.mjs";
import { isBlocked, isBusy, jointOf } from "./tools/limbs.mjs";
import { against, apart, rangeOf, turnsIn, turnsOn } from "./tools/turning.mjs";
import { curvesOf, framesAt24 } from "./tools/where.mjs";

/** @typedef {import("./tools/turning.mjs").Turns} Turns */
/** @typedef {Place & { links: { joint: string, parent: string | null }[] }} FrozenPlace joints that freeze, and what each turns against */

/** Degrees per frame under which nobody sees a joint turn: the end of an arm moves by a fifth of a millimetre. */
const unseen = 0.02;
/** Degrees by which a part turns on its way in and out, and by which its carrier turns meanwhile: more than a drift. */
const moved = 3;

/** @type {FaultKind["sizes"]} */
const sizes = [
  {
    value: 10,
    reason:
      "Longer than a beat that is read as one (common practice: 4 to 6 frames); who looks for it sees the part wait.",
  },
  { value: 18, reason: "Three quarters of a second: the part looks switched off while its body goes on." },
  { value: 30, reason: "More than a second: the part belongs to a statue." },
];

/** @type {FaultKind} */
export const frozenPart = {
  name: "frozen part",
  checks: ["frozen-part"],
  unit: "frames at 24 per second in which no joint of the part turns",
  sizes,
  layer: "keys",
  places(clean, random) {
    if (isBlocked(clean)) return [];
    const { performance } = clean;
    const { first, last } = performance;
    const turns = turnsOn(performance);
    const span = framesAt24(clean, sizes[2].value);
    const beside = framesAt24(clean, 6);
    /** @type {Place[]} */
    const places = [];
    for (const { id: figure, body } of performance.figures) {
      body.limbs.forEach(({ kind, joints, girdle }, n) => {
        if (kind !== "arm") return;
        const links = joints.map((joint) => ({ joint, parent: jointOf(performance, joint).parent }));
        if (links.some(({ joint }) => curvesOf(clean, joint).length === 0)) return;
        /** @type {Place[]} */
        const here = [];
        for (let from = first + beside + 2; from + span + beside < last; from += 4) {
          const to = from + span;
          if (isBusy(performance, figure, n, from, to)) continue;
          const moves = (/** @type {number} */ a, /** @type {number} */ b) =>
            links.some(({ joint, parent }) => rangeOf(turns, joint, parent, a, b) > moved);
          if (!moves(from - beside, from) || !moves(to, to + beside)) continue;
          if (rangeOf(turns, girdle, null, from, to) < moved) continue;
          here.push(
            /** @type {FrozenPlace} */ ({ figure, joint: joints[0], also: [...joints], from, to, links }),
          );
        }
        places.push(...random.shuffled(here).slice(0, 4));
      });
    }
    return random
      .shuffled(places)
      .filter((place) => stillIn(turns, place, performance) <= sizes[0].value / 2);
  },
  edit(shot, place, size) {
    const { from, links } = /** @type {FrozenPlace} */ (place);
    const to = from + framesAt24(shot, size);
    for (const { joint } of links) {
      // As with a key that is copied forward: what comes next stays as it was.
      for (const curve of curvesOf(shot, joint)) {
        const { value } = cutAt(curve, from);
        cutAt(curve, to).value = value;
        reshape(curve, from, to, 0, 0);
      }
    }
  },
  measure: (poses, place) => stillIn(turnsIn(poses), place, poses.performance),
};

/** Frames at 24 per second of the longest run in which no joint of the part turns. @param {Turns} turns @param {Place} place
 * @param {Pick<Performance, "rate">} performance */
function stillIn(turns, place, { rate }) {
  const { from, to, links } = /** @type {FrozenPlace} */ (place);
  let [longest, run] = [0, 0];
  for (let frame = from + 1; frame <= to; frame++) {
    const isStill = links.every(
      ({ joint, parent }) =>
        apart(against(turns, joint, parent, frame - 1), against(turns, joint, parent, frame)) * (rate / 24) <
        unseen,
    );
    run = isStill ? run + 1 : 0;
    longest = Math.max(longest, run);
  }
  return (longest * 24) / rate;
}
