import { referenceRate } from "../../base/constants.ts";
import type { Study } from "../../base/study.ts";
import { contactsOf } from "../../motion/ground/contact.ts";
import { isChainStepped } from "../../motion/path/held.ts";
import { easedStop } from "../../motion/path/minimum-jerk.ts";
import type { Move } from "../../motion/path/moves.ts";
import { carriedTravelPaceOf, travelPaceOf } from "../../motion/path/pace.ts";
import { carrierOf, figuresOf, statureOf } from "../../rig/body.ts";
import { limbCarrierOf } from "../../rig/limb-carrier.ts";
import { isAbove, rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { defineStrength, type Held } from "../strength.ts";

/** With numbers in working units. */
interface EasedMove extends Held {
  readonly easeIn: number;
  readonly easeOut: number;
  readonly travel: number;
  /** What it is seen from; −1 for the world. */
  readonly carrier: number;
}

/** Moves that are told go this far at least, body heights, and last this long, frames at 24 per second. */
const leastTravel = 0.2;
const leastFrames = 8;
/** Part of an eased end, from 80 % of the fastest spacing to 10 %, that a minimum-jerk move of that length takes. */
const leastShare = 0.7;
const mostShare = 1.8;
/** What spacing may fall back on its way up, or rise on its way down, as a share of the fastest. */
const ripple = 0.05;

/** Big moves with eased spacing at both ends. */
export const easedMove = defineStrength<EasedMove>({
  name: "eased-move",
  title: "Eased move",
  what: "The spacing of a big move grows from rest to one peak and shrinks to rest again.",
  computes:
    "Hips are seen in the world, hands and head against what carries them. A move goes from rest to rest, 0.2 body heights far or more, over 8 frames (at 24 per second) or more. Its spacing rises to one peak and falls, but for 5 % of the peak. From 10 to 80 % of the peak, and from 80 to 10 %, it takes 0.7 to 1.8 times the frames of a minimum-jerk move of that length. A hand that stands on something meanwhile does not move: its carrier does.",
  canFail:
    "Spacing follows from keys and handles of all joints above; a straight curve, a late key or a joint that comes in by itself breaks it.",
  sources: [
    "Flash & Hogan 1985: the minimum-jerk move, of which 80 to 10 % of the peak speed is a quarter of its length",
    "0.7 to 1.8 times that: common practice, an ease that is read as one and is no drift",
  ],
  hangsOn: ["body"],
  find(study, index) {
    const figure = figuresOf(study)[index];
    const hips = carrierOf(figure);
    const ends = (["head", "leftHand", "rightHand"] as const).flatMap(
      (part) => figure.parts.get(part)?.[0] ?? [],
    );
    const found: EasedMove[] = [];
    for (const node of new Set([hips, ...ends])) {
      if (isChainStepped(study, node)) continue;
      const isLimb = node !== hips && limbCarrierOf(study, node) >= 0;
      const { poses, steps, moves } = isLimb ? carriedTravelPaceOf(study, node) : travelPaceOf(study, node);
      if (poses.length !== gridOf(study).count) continue;
      for (const move of moves) {
        if (isLimb && standsIn(study, index, node, move)) continue;
        const one = easesOf(study, index, node, isLimb ? limbCarrierOf(study, node) : -1, steps, move);
        if (one !== null) found.push(one);
      }
    }
    return found;
  },
  word: ({ from, to, easeIn, easeOut, travel, carrier }, words) =>
    `${words.part} eases in over ${words.frames(easeIn)} and out over ${words.frames(easeOut)} in a move of ${words.length(travel)}${carrier < 0 ? "" : ` against the ${words.name(carrier)}`}, ${words.span(from, to)}`,
});

/** Whether the end of a limb is in a contact within a move: it is its carrier that moves then. */
function standsIn(study: Study, figure: number, end: number, { from, to }: Move): boolean {
  const rig = rigOf(study);
  return contactsOf(study, figure).some(
    (contact) =>
      contact.from < to && contact.to > from && (contact.node === end || isAbove(rig, end, contact.node)),
  );
}

function easesOf(
  study: Study,
  figure: number,
  node: number,
  carrier: number,
  steps: Float64Array,
  move: Move,
): EasedMove | null {
  const { from, to, travel } = move;
  const { rate } = gridOf(study);
  const stature = statureOf(study, figure);
  if (!move.startsAtRest || !move.endsAtRest || travel < leastTravel * stature) return null;
  if (((to - from) * referenceRate) / rate < leastFrames) return null;
  const peak = steps[move.peak];
  let [top, low] = [0, peak];
  for (let i = from + 1; i <= to; i++) {
    // A step down on the way up, or up on the way down.
    if (i <= move.peak) {
      if (steps[i] < top - ripple * peak) return null;
      top = Math.max(top, steps[i]);
    } else {
      if (steps[i] > low + ripple * peak) return null;
      low = Math.min(low, steps[i]);
    }
  }
  const easeIn = rise(steps, from, move.peak, 1);
  const easeOut = rise(steps, to + 1, move.peak, -1);
  const eased = easedStop(to - from);
  for (const ease of [easeIn, easeOut])
    if (!(ease >= leastShare * eased && ease <= mostShare * eased)) return null;
  return {
    node,
    nodes: [node],
    from,
    to,
    measured: { quantity: "ease out", value: easeOut, unit: "frames" },
    within: {
      min: leastShare * eased,
      max: mostShare * eased,
      unit: "frames",
      source: "Flash & Hogan 1985: 80 to 10 % of the peak speed; 0.7 to 1.8 times it: common practice",
    },
    size: travel,
    easeIn,
    easeOut,
    travel,
    carrier,
  };
}

/** Samples from 10 to 80 % of the peak, with fractions, walking from an end of a move to its peak. */
function rise(steps: Float64Array, start: number, peak: number, way: 1 | -1): number {
  const at = (share: number) => {
    const level = share * steps[peak];
    let before = 0;
    for (let i = start + (way > 0 ? 1 : -1); i !== peak + way; i += way) {
      const here = steps[i];
      if (here >= level) return i - way * (here > before ? (here - level) / (here - before) : 0);
      before = here;
    }
    return peak;
  };
  return Math.abs(at(0.8) - at(0.1));
}
