import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { type Order, turnOrder } from "../../../motion/parts/order.ts";
import { type Swing, swingsIn } from "../../../motion/parts/swing.ts";
import { rangeOf, turnBetween, turnIn, twistAbout, twistIn } from "../../../motion/parts/twist.ts";
import { turnsOf } from "../../../motion/path/moves.ts";
import { relativeAngles } from "../../../motion/path/relative.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { chainOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { causesOf, keysFault } from "../../cause.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { missingOn } from "../../missing.ts";
import { startsOf } from "../../order-words.ts";
import type { SeriesFault } from "../../trial.ts";
import { onUnkeyed, unkeyedAxisOf } from "../../unkeyed-turn.ts";

/** With numbers in working units. */
export interface LoneJointFinding extends Finding {
  readonly numbers: {
    readonly turn: number;
    readonly answer: number;
    readonly amount: number;
    /** Rig index of what carries the head, and which of its axes lacks keys, 0 to 3; −1 where its turns have some. */
    readonly carrier: number;
    readonly missing: number;
  };
  /** Who starts the turn and who follows. */
  readonly order: Order;
}

const settings = {
  turn: {
    default: 15,
    unit: "deg",
    what: "least turn of the head against its parent",
    source:
      "common practice: a head alone makes glances and nods of up to 15°; of eye movements that nothing asks for, 83 % stay under that (Malinov and others 2000, abstract)",
    min: 0,
  },
  answer: {
    default: 0.08,
    unit: "share",
    what: "least turning of what carries a head without a neck joint, or that of a bird, as a share of the head's own",
    source:
      "common practice: of a head turn of 30° that is 2.4°, the least by which a chest is seen to go along",
    min: 0,
    max: 1,
  },
  neck: {
    default: 0.29,
    unit: "share",
    what: "least turning of what carries a head on a neck joint, as a share of the head's own",
    source:
      "Of the 79° that a neck turns to a side, 43° are made between its first two bones (Dvorak and others 1987, from memory). The joints below make the rest. Half of their share is 0.29 of what the head is then left with.",
    min: 0,
    max: 1,
  },
  window: {
    default: 6,
    unit: "frames",
    what: "how long before the turn an answer counts, and how long after it one of the hips",
    source: "common practice: parts of one body that overlap do so within a quarter of a second",
    min: 0,
  },
  late: {
    default: 2,
    unit: "frames",
    what: "how long after the head's turn neck and trunk may still answer it",
    source:
      "common practice: they start a frame or two after the head; what starts when the head has arrived is a move of its own",
    min: 0,
  },
  glance: {
    default: 12,
    unit: "frames",
    what: "a turn that comes back within this time is a glance",
    source: "common practice: half a second out and back is a glance, which a head makes alone",
    min: 0,
  },
} as const;

/** The head turns and nothing under it answers. */
export const loneJoint = defineCheck({
  name: "lone-joint",
  title: "Lone joint",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  notBefore: "splining",
  what: "The head makes a turn alone: neck, chest and hips do not answer.",
  why: "Turning a head pulls on everything that it sits on; with a still body under it the head looks screwed on.",
  computes:
    "For each turn of the head against its parent by more than 15°: how far that parent turns in the world about the axis of the head's turn. A turn goes from one turning point to the next. It counts from six frames before the turn to two after it, and is taken as a share of the head's own turn. Hips have six frames after it as well. Neck, chest, hips and the body's way all count, a nod during a turn does not. A neck has to take a larger share than a chest without one, or than the neck of a bird. The note tells what follows the head after all, and how much later.",
  fix: "Let neck and chest take part of the turn, starting a frame or two after the head.",
  notAFault: [
    "small turns",
    "glances that come back within half a second",
    "a cut by step keys from one held pose to the next",
  ],
  limits: ["Only the head is looked at."],
  sources: [
    "Malinov and others 2000, Vision Research 40:2083 (abstract): sizes of free saccades",
    "Dvorak and others 1987, Spine 12:197 (from memory): how far the joints of a neck turn",
  ],
  since: "0.1.0",
  settings,
  styles: {
    snappy: {
      times: { turn: 1.5 },
      why: "A head that snaps round leaves the body no frames to answer a small turn.",
    },
    limited: { off: true, why: "The head is a drawing of its own on a body that is held." },
  },
  find(study, index, values) {
    const figure = figuresOf(study)[index];
    const { parts } = figure;
    const root = carrierOf(figure);
    const head = parts.get("head")?.[0];
    if (head === undefined) {
      excused(-1, 0, gridOf(study).count - 1, "no head is known");
      return [];
    }
    const rig = rigOf(study);
    const window = Math.round(values.window);
    const late = Math.round(values.late);
    const chain = chainOf(rig, head);
    const under = chain.slice(Math.max(0, chain.indexOf(root)), -1);
    if (under.length < 2) return [];
    const { count } = gridOf(study);
    const carrier = rig.parent[head];
    // Mammals share the joints of the neck; birds have two to three times as many.
    const hasNeck = figure.kind !== "winged" && parts.get("neck")?.includes(carrier) === true;
    const least = hasNeck ? values.neck : values.answer;
    const angle = relativeAngles(study, head, carrier);
    const inBody = relativeAngles(study, head, root);
    const swings = turnsOf(study, head).flatMap(({ from, to }) => swingsIn(angle, from, to, values.turn));
    const middles = swings.map((swing) => middleOf(angle, swing));
    const found: LoneJointFinding[] = [];
    swings.forEach((swing, k) => {
      const { from, to } = swing;
      const turned = turnBetween(study, { node: head, against: carrier }, from, to);
      if (turned === null || turned.angle < values.turn) return;
      const turn = turned.angle;
      const isGlance = [k, k + 1].some((back) => {
        if (swings[back - 1] === undefined || swings[back] === undefined) return false;
        const away = middles[back] - middles[back - 1];
        return away <= values.glance && inBody(swings[back - 1].from, swings[back].to) < 0.3 * turn;
      });
      if (isGlance) {
        excused(head, from, to, "it is a glance, there and back");
        return;
      }
      const first = Math.max(0, from - window);
      const turnOf = (node: number, last: number) =>
        rangeOf(
          twistAbout(study, { node, against: -1 }, turned.axis, from, first, Math.min(count - 1, last)),
        );
      // What carries the head turns with whatever is under it. Only hips may come later, since they wait for a step.
      const answer = Math.max(turnOf(carrier, to + late), turnOf(root, to + window));
      const share = answer / turn;
      if (share >= least) return;
      found.push({
        node: head,
        figure: index,
        from,
        to,
        measured: { quantity: "turning under the head over the head's turn", value: share, unit: "share" },
        expected: { min: least, unit: "share", source: settings[hasNeck ? "neck" : "answer"].source },
        excess: 1 + (turn / values.turn - 1) / 2 + (1 - share / least) / 2,
        size: turn * farReachOf(study, head),
        // The turn itself is meant: what is amiss is the share of it that nothing below answers with.
        amiss: 0.25 * turn * farReachOf(study, head),
        numbers: {
          turn,
          answer,
          amount: 0.25 * turn,
          carrier,
          missing: unkeyedAxisOf(study, carrier, head, from, to),
        },
        order: turnOrder(study, index, turned.axis, from, to),
        fault: causeOf(study, [head, carrier, root], { first, from, to, late, window }, turn, 2 * least),
      });
    });
    return found;
  },
  word(finding, words) {
    const { turn, answer, amount, carrier, missing } = finding.numbers;
    return {
      message: `${words.part} turns ${words.angle(turn)} alone in ${words.span(finding.from, finding.to)}; neck and chest answer with ${words.angle(answer)}${startsOf(finding.order, words)}`,
      suggestion: `give ${words.angle(amount)} of the turn to neck and chest, a frame or two after the head${onUnkeyed(missing, `${words.name(carrier)}'s`)}`,
    };
  },
});

/** The first sample by which a swing has gone half of its way. */
function middleOf(angle: (a: number, b: number) => number, { from, to, angle: whole }: Swing): number {
  let at = from;
  while (at < to && angle(from, at) < 0.5 * whole) at++;
  return at;
}

/**
 * The keys that keep the head's turn alone, by trial. Where none does, an answer is missing: named is the channel under the
 * head on which one would do most.
 */
function causeOf(
  study: Study,
  [head, carrier, root]: readonly [number, number, number],
  { first, from, to, late, window }: Answering,
  turn: number,
  enough: number,
): Fault {
  const lo = first;
  const hi = Math.min(gridOf(study).count - 1, to + Math.max(late, window));
  const fault: SeriesFault = {
    kind: "orientation",
    subject: head,
    others: [carrier, root],
    lo,
    hi,
    from,
    to,
    strength: (turns, [under, hips]) => {
      const turned = turnIn(turns, under, from - lo, to - lo);
      if (turned === null) return 0;
      const answer = (series: Float64Array, last: number) =>
        rangeOf(twistIn(series, null, turned.axis, from - lo, 0, Math.min(hi, last) - lo));
      const share = Math.max(answer(under, to + late), answer(hips, to + window)) / turned.angle;
      return Math.max(0, enough - share);
    },
  };
  const tried = causesOf(study, fault);
  if (tried.length > 0) return keysFault(tried);
  const rig = rigOf(study);
  const answering = chainOf(rig, carrier).filter((node) => isAbove(rig, root, node));
  const keys = missingOn(study, fault, answering.reverse(), 0.25 * turn);
  return { kind: "keys", keys: keys ?? keysOfNodes(study, [head], from, to) };
}

/** The samples of a head's turn, the first one at which an answer may begin, and how much later it may end. */
interface Answering {
  readonly first: number;
  readonly from: number;
  readonly to: number;
  readonly late: number;
  readonly window: number;
}
