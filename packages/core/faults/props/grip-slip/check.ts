import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { floats, integers } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween, type Vector } from "../../../base/vector.ts";
import { fingerTipsOf, slipBetween, slipWay } from "../../../motion/parts/grip-slip.ts";
import { type Grip, gripsOf } from "../../../motion/parts/grips.ts";
import { statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import type { World } from "../../../rig/world.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { causesOf, keysFault } from "../../cause.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { causeOr } from "../../weight/shared/cause-or.ts";
import { type Gap, gapCause, gapOf } from "./gap.ts";

/** With numbers in working units. */
export interface GripSlipFinding extends Finding {
  /** The hand that holds, and until when it does. */
  readonly grip: Grip;
  readonly numbers:
    | { readonly kind: "slip"; readonly slip: number }
    /** How far a hand is off what it is to hold, metres, and where it is farthest (sample). */
    | { readonly kind: "off"; readonly gap: number; readonly widest: number };
}

const settings = {
  slip: {
    default: 0.01,
    unit: "H",
    what: "how far a held thing may shift in the hand",
    source:
      "common practice: a thing that shifts by a finger's breadth is not held. Slides of feet under 2.1 cm are seen in most conditions (Pražák, Hoyet, O'Sullivan 2011, abstract)",
    min: 0.001,
  },
  time: {
    default: 48,
    unit: "frames",
    what: "within how many frames",
    source: "common practice: a shift that takes longer than two seconds is a new hold, or not seen",
    min: 2,
  },
  gap: {
    default: 0.02,
    unit: "H",
    what: "how far a hand may be off the shape of what the document says it holds",
    source:
      "common practice: shapes are drawn as close as a finger is broad (0.0125 body heights); light shows between a hand and a thing that are twice as far apart",
    min: 0,
  },
} as const;

/** A thing that is held shifts in the hand. */
export const gripSlip = defineCheck({
  name: "grip-slip",
  title: "Grip slip",
  family: "props",
  scope: "figure",
  ceiling: "major",
  hangsOn: ["body"],
  what: "A thing that a hand holds shifts in the hand while it is carried, or the hand that is to hold it does not reach it.",
  why: "What is held goes with the hand. A thing that drifts along the fingers is pasted on, and weighs nothing.",
  computes:
    "A hand holds a prop as the document says, or where the two go together for a quarter of a second and more. They are near each other, shift by less than 0.16 body heights per second, and the prop is carried by 0.02 body heights. A prop whose shape is farther off has to keep its place within 0.01 body heights, before a shift and after it. The shift is told at each point of the triangle of wrist, finger tips and the prop's node. It is how far the point goes apart as the hand carries it and as the prop does. The least of these counts, so that a palm that pivots on what it holds, or a wrist that bends over it, lets nothing slip. The note tells the first of the largest such shifts within two seconds; a tenth of it at either end is left out of its frames. Frames in which the prop rests are left out: a hand may take it anew there. Where the document says that a hand holds a prop with a shape, the gap between the two is asked for as well. It is that from the line from wrist to finger tips, less half of a hand's thickness, 0.016 body heights. A gap of more than 0.02 body heights for a quarter of a second is told of, and how wide it gets.",
  fix: "Let the prop's keys follow the hand, or the hand the prop, from where it was taken on. A hand that is off it has to come to it.",
  notAFault: [
    "a hand that takes a resting thing anew",
    "hands that pivot on what they hold",
    "a hold of which the document says that it slides",
    "a hand that goes beside a thing which another hand holds firmly",
  ],
  limits: [
    "A thing without a shape is taken to be within reach where its node is less than 0.25 body heights from the wrist.",
    "Turns in the hand about a point of it are not told.",
    "A shift while the hand turns on the thing is told smaller than it is.",
    "A handle may be no part of a shape: a hand that is off it throughout its hold is minor at most.",
  ],
  sources: [
    "Pražák, Hoyet, O'Sullivan 2011: slides of feet are seen at very low levels (abstract)",
    "Drillis & Contini 1966: length of a hand, 0.108 body heights (from memory)",
  ],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    const found: GripSlipFinding[] = [];
    const grips = gripsOf(study).filter((grip) => grip.figure === figure);
    for (const grip of grips) {
      if (grip.slides) {
        excused(grip.thing, grip.from, grip.to, "the document says that it slides");
        continue;
      }
      const gap = gapOf(study, grip, values.gap);
      if (gap !== null) found.push(gapFinding(study, grip, gap, values.gap));
      const shift = largestShift(study, grip, values.slip, Math.round(values.time));
      if (shift === null) continue;
      // Both hands tell of one thing: the one in which it shifts more.
      const same = found.findIndex(
        ({ numbers, node, from, to }) =>
          numbers.kind === "slip" && node === grip.thing && from <= shift.to && to >= shift.from,
      );
      const finding = findingOf(study, grip, shift, values.slip);
      if (same < 0) found.push(finding);
      else if (found[same].size < finding.size) found[same] = finding;
    }
    return found;
  },
  word({ numbers, from, to, grip }, words) {
    const hand = words.name(grip.hand);
    if (numbers.kind === "off") {
      const thing = words.name(grip.thing);
      return {
        message: `${words.part} is ${words.length(numbers.gap)} off ${thing}, which it is to hold, ${words.counted(from, to)}`,
        suggestion: `bring it ${words.length(numbers.gap)} to ${thing} at frame ${words.frame(numbers.widest)}, or let the hold begin where it gets there`,
      };
    }
    return {
      message: `${words.part} slips ${words.length(numbers.slip)} in the ${hand} over ${words.counted(from, to)}`,
      suggestion: `let it keep its place in the ${hand} from ${words.span(from, from)} on, or move the hand with it`,
    };
  },
});

/** Between two samples a thing shifts in a hand, metres. */
interface Shift extends Span {
  readonly slip: number;
}

/** A thing that moves by less than this between two frames at 24 per second rests, body heights. */
const restShare = 0.0004;

/** A hand and a thing through the shot. */
interface Pair {
  readonly hand: World;
  readonly thing: World;
  readonly tip: Vector;
}

/** The largest shift within a stretch of a grip in which the thing is not laid down and taken anew. */
function largestShift(study: Study, grip: Grip, least: number, reach: number): Shift | null {
  const { hand, thing, figure } = grip;
  const pair = {
    hand: worldOf(study, hand),
    thing: worldOf(study, thing),
    tip: fingerTipsOf(study, figure, hand),
  };
  const { position } = pair.thing;
  const { count, rate } = gridOf(study);
  const rest = (restShare * statureOf(study, figure) * referenceRate) / rate;
  const last = Math.min(grip.to, count - 1);
  // All that it shifts from frame to frame: no stretch has more than that.
  const shifted = floats(count);
  let best: Shift | null = null;
  for (let from = grip.from; from < last; ) {
    let to = from;
    for (; to < last; to++) {
      const step = slipBetween(pair.hand, pair.thing, pair.tip, to, to + 1);
      shifted[to + 1] = shifted[to] + step;
      if (step > rest && distanceBetween(position, to, position, to + 1) < rest) break;
    }
    const piece = shiftIn(pair, { from, to }, shifted, least, reach);
    if (piece !== null && (best === null || piece.slip > best.slip)) best = piece;
    from = to + 1;
  }
  return best;
}

/** Of several large shifts the first is told: by the others a thing comes back, or goes on. */
const asLarge = 0.8;

function shiftIn(
  pair: Pair,
  { from: first, to: last }: Span,
  shifted: Float64Array,
  least: number,
  reach: number,
): Shift | null {
  const { hand, thing, tip } = pair;
  /** The largest shift up to each sample, and from where. */
  const slips = floats(last - first + 1);
  const starts = integers(last - first + 1);
  let most = least;
  for (let to = first + 1; to <= last; to++) {
    const at = to - first;
    for (let from = Math.max(first, to - reach); from < to; from++) {
      if (shifted[to] - shifted[from] < least) break;
      const slip = slipBetween(hand, thing, tip, from, to);
      if (slip <= slips[at]) continue;
      slips[at] = slip;
      starts[at] = from;
    }
    most = Math.max(most, slips[at]);
  }
  if (most <= least) return null;
  let at = slips.findIndex((slip) => slip >= Math.max(asLarge * most, least));
  while (at + 1 < slips.length && slips[at + 1] > slips[at]) at++;
  const whole = { from: starts[at], to: first + at, slip: slips[at] };
  const core = coreOf(pair, whole);
  return core.slip >= least ? core : whole;
}

/** Shares of a shift that its first and its last frames may leave out. */
const edge = 0.1;

/** The part of a shift in which most of it happens. */
function coreOf({ hand, thing, tip }: Pair, { from, to, slip }: Shift): Shift {
  slipBetween(hand, thing, tip, from, to);
  const [x, y, z] = slipWay;
  const done = (i: number) => {
    slipBetween(hand, thing, tip, from, i);
    return (slipWay[0] * x + slipWay[1] * y + slipWay[2] * z) / (slip * slip);
  };
  let last = from + 1;
  while (last < to && done(last) < 1 - edge) last++;
  let first = last - 1;
  while (first > from && done(first) > edge) first--;
  return { from: first, to: last, slip: slipBetween(hand, thing, tip, first, last) };
}

function findingOf(study: Study, grip: Grip, { from, to, slip }: Shift, least: number): GripSlipFinding {
  const { thing, figure } = grip;
  return {
    node: thing,
    figure,
    from,
    to,
    measured: { quantity: "shift in the hand", value: slip, unit: "m" },
    expected: { max: least, unit: "m", source: settings.slip.source },
    excess: slip / least,
    size: slip,
    grip,
    numbers: { kind: "slip", slip },
    fault: causeOf(study, grip, from, to),
  };
}

function gapFinding(
  study: Study,
  grip: Grip,
  { from, to, gap, widest, touches }: Gap,
  limit: number,
): GripSlipFinding {
  return {
    node: grip.hand,
    figure: grip.figure,
    from,
    to,
    measured: { quantity: "gap between the hand and what it holds", value: gap, unit: "m" },
    expected: { max: limit, unit: "m", source: settings.gap.source },
    excess: gap / limit,
    size: gap,
    ...(!touches && { ceiling: "minor" as const }),
    grip,
    numbers: { kind: "off", gap, widest },
    fault: gapCause(study, grip, { from, to }),
  };
}

/** Keys of the thing, which is to follow the hand; where they cannot mend it, those of both. */
function causeOf(study: Study, grip: Grip, from: number, to: number): Fault {
  const own = causesOf(study, slipFault(study, grip, from, to, false));
  if (own.length > 0) return keysFault(own);
  return causeOr(study, slipFault(study, grip, from, to, true), [grip.thing, grip.hand], from, to);
}

/** The shift again with other paths of the thing, and of the hand; their turns stay. */
function slipFault(
  study: Study,
  { hand, thing, figure }: Grip,
  from: number,
  to: number,
  isOfHand: boolean,
): Fault {
  const tip = fingerTipsOf(study, figure, hand);
  const last = to - from;
  const cut = (node: number) => {
    const { position, orientation } = worldOf(study, node);
    return {
      position: position.slice(3 * from, 3 * to + 3),
      orientation: orientation.slice(4 * from, 4 * to + 4),
      linear: null,
      still: false,
    };
  };
  const held = cut(thing);
  const holding = cut(hand);
  return {
    kind: "position",
    subject: thing,
    ...(isOfHand ? { others: [hand] } : {}),
    lo: from,
    hi: to,
    from,
    to,
    strength: (series, [other]) =>
      slipBetween(
        isOfHand ? { ...holding, position: other } : holding,
        { ...held, position: series },
        tip,
        0,
        last,
      ),
  };
}
