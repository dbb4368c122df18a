import { inDegrees } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { beatingChainsOf } from "../../../motion/parts/beat-wave.ts";
import { boneTurns, carriedTurns } from "../../../motion/parts/bone.ts";
import {
  answersSlightly,
  type Driven,
  drivenOf,
  type Stiff,
  stiffStretches,
} from "../../../motion/parts/driven.ts";
import { bestLag } from "../../../motion/parts/lag.ts";
import { type LooseChain, looseChainsOf, wingEndsOf } from "../../../motion/parts/loose-chain.ts";
import { cutsOf, stepsWithoutCuts } from "../../../motion/path/cuts.ts";
import { relativeAngle, relativeTurns } from "../../../motion/path/relative.ts";
import { figuresOf } from "../../../rig/body.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { onUnkeyed, unkeyedAxisOf } from "../../unkeyed-turn.ts";
import { turnsSlightly } from "../still-wrist/check.ts";
import { findingOf, type NoDragFinding, numbersOf, shiftOf } from "./finding.ts";
import { waveFinding } from "./wave.ts";

const settings = {
  turn: {
    default: 15,
    unit: "deg",
    what: "least turning of what carries the chain for it to have to answer",
    source:
      "common practice: hair and tails are set swinging by turns that are seen; in smaller ones they may go along",
    min: 0,
  },
  push: {
    default: 0.3,
    unit: "g",
    what: "acceleration of what carries the chain for it to have to answer",
    source: "common practice: about what a brisk start or stop takes",
    min: 0,
  },
  response: {
    default: 2,
    unit: "deg",
    what: "turn of the chain against its carrier up to which it counts as stiff",
    source:
      "common practice: 2° move the tip of a tail of half a metre by less than 2 cm, which reads as rigid",
    min: 0,
  },
  lag: {
    default: 0.5,
    unit: "frames",
    what: "least time by which each link has to follow the one before it",
    source: "common practice: half a frame a link is the least that reads as drag",
    min: 0,
  },
} as const;

/**
 * Turning, rad/s, that a link's carrier has to give its direction for the link's timing to be compared with it: 2.4° a
 * frame at 24 per second; in slower turning a lag of a frame is not measured (our choice).
 */
const leastDrive = 1;

/**
 * Correlation from which on a link goes the way that its carrier would take it, so that a lag is told from another swing:
 * common practice, as for arms that make the same move and not merely a similar one. What swings by itself has no lag.
 */
const sameCourse = 0.95;

/** Fewest links beyond the one that swings them for which these are judged apart: two are seen to bend or not to (our choice). */
const fewestOfRod = 2;
/** Times the turn of a stiff link by which the link that swings a rod turns at least: 10°, a bend that is seen (our choice). */
const rodSwing = 5;

/** A tail, hair, an ear or another loose chain that does not lag what carries it. */
export const noDrag = defineCheck({
  name: "no-drag",
  title: "No drag",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  notBefore: "splining",
  what: "A loose part (tail, hair, ear, strap, ribbon, coat, the outer wing) does not lag what carries it, or its links all move at once.",
  why: "What hangs loose is pulled along: it answers late, and later towards its tip. Without that lag it looks like part of the bone.",
  computes:
    "Loose are tails, hair and ears, and chains of two links and more that hang off head or trunk without a branch, whatever their names. So is what hangs by its name: chain, rope, cord, hook. So are tails among the declared limbs, and the one chain behind a body that lies along the ground. Of a wing it is what lies beyond its first joint, where that has curves. Only the wing's turns against the body ask it to answer, and only its stiffness counts. They have to answer where the carrier turns by more than 15° within a quarter of a second, or is pushed across the chain by more than 0.3 g. A chain is stiff where no link turns by more than 2° against the one before it for half a second and more. At least half of that time it has to answer; a longer stretch is marked from the first time that it has to, to the last. Where the carrier only turns, it is stiff if that is also less than the carrier turns in half a frame at its fastest. A pop of up to two frames within it is another fault, and left out. Two links and more at its end are judged so by themselves where the link that carries them swings by 10° and more: a rod on a hinge. Where a tail, hair or an ear is never so stiff, the lag of each link is measured. The turning of its direction is compared with that which it would have if it were fixed to the link before it. The lag is the one at which the two correlate best, by 0.95 and more; it is looked for from polish on, when parts are offset. A roll about its own length does not count. A chain that beats is a wing, or in water the body from its root to the end of its tail. Where no head is known that is the farthest end that the root swims away from. Each joint of it has to bend later than the one before it, by half a frame or a 36th of a beat. That is looked at where two joints bend about one axis in one timing, correlated by 0.9, for two beats and more.",
  fix: "Shift each link's keys by one or two frames against the one before it.",
  notAFault: [
    "a single link of hair or an ear without any curves: modelled stiff; but not of what hangs by its name, as a chain or a rope",
    "a carrier that hardly moves",
    "a bird's tail of one joint as the beat of the wings pushes its body, or ahead of it: it steers",
    "a link that swings in another way than its carrier takes it: it has no lag to be measured",
    "a wing that folds while it beats, whose joints turn about axes of their own",
    "cuts by step keys from one held pose to the next, in which nothing is carried along",
  ],
  limits: [
    "The lag is measured over the whole range at once; a chain that drags in one move and leads in another averages out.",
    "Chains of a figure without known limbs are judged only on its head, or where the body map names them.",
  ],
  sources: ["Common practice: overlapping action; what hangs loose follows what carries it"],
  since: "0.1.0",
  settings,
  styles: {
    limited: { off: true, why: "Hair and cloth are drawn with what carries them, and are held with it." },
    twos: { times: { lag: 2 }, why: "A lag of less than one drawing, which is two frames, cannot be drawn." },
  },
  find(study, index, values) {
    const found: NoDragFinding[] = [];
    const { kind } = figuresOf(study)[index];
    for (const joints of wingEndsOf(study, index)) {
      // Air bends a wing as it beats against the body; a wing that is folded goes along with the body as it is.
      const { parent } = rigOf(study);
      const carrier = parent[joints[0]];
      const beat = relativeTurns(study, carrier, parent[carrier]);
      const driven = drivenOf(study, joints, { turn: values.turn, push: Infinity }, beat);
      if (driven === null) continue;
      found.push(...stiffFindings(study, index, joints, driven, values));
    }
    for (const chain of looseChainsOf(study, index)) {
      const { joints, part, isKeyed, hangs } = chain;
      if (part !== "tail" && !isKeyed && !hangs && joints.length < 2) {
        excused(joints[0], 0, gridOf(study).count - 1, "it is one link without curves: modelled stiff");
        continue;
      }
      // Each beat of wings pushes the body to and fro. A tail that is one fan, as of a bird, is held against that: it steers.
      const isHeld = part === "tail" && kind === "winged" && joints.length === 1;
      const driven = drivenOf(study, joints, isHeld ? { turn: values.turn, push: Infinity } : values);
      const stiff = driven === null ? [] : stiffFindings(study, index, joints, driven, values);
      // What swings at its first joints alone is a rod from there on.
      for (let k = 1; stiff.length === 0 && isKeyed && joints.length - k >= fewestOfRod; k++) {
        const outer = joints.slice(k);
        const swung = drivenOf(study, outer, values);
        const rods = swung === null ? [] : stiffFindings(study, index, outer, swung, values);
        stiff.push(...rods.filter((rod) => swings(study, joints[k - 1], rod, values.response)));
      }
      found.push(...stiff);
      // Chains that only their shape tells are too many kinds of things for their timing to be judged.
      if (driven === null || stiff.length > 0 || !isKeyed || part === "chain" || isHeld) continue;
      const late = lagFinding(study, index, chain, driven, values.lag);
      if (late !== null) found.push(late);
    }
    for (const chain of beatingChainsOf(study, index)) {
      // What is stiff is told as that.
      if (found.some(({ node }) => chain.joints.includes(node))) continue;
      const wave = waveFinding(study, index, chain, values.lag, settings.lag.source);
      if (wave !== null) found.push(wave);
    }
    return found;
  },
  word(finding, words) {
    const { response, lag, links, stiff, shift, missing } = finding.numbers;
    const carrier = words.name(finding.numbers.carrier);
    const before = words.name(finding.numbers.before);
    const by = words.frames(Math.abs(lag));
    const late =
      by === words.frames(0)
        ? `moves together with ${before}`
        : lag < 0
          ? `is ${by} ahead of ${before}`
          : `follows ${before} by ${by} only`;
    const message =
      finding.numbers.beats === 1
        ? `${words.part} beats ${Math.round(Math.abs(10 * lag)) === 0 ? "together with" : `${by} ${lag < 0 ? "ahead of" : "behind"}`} ${before} in ${words.span(finding.from, finding.to)}: no wave runs down to its end`
        : stiff === 1
          ? `${words.part} ${turnsSlightly(words.angle(response))} against ${carrier} in ${words.span(finding.from, finding.to)}, whatever ${carrier} does`
          : `${words.part} ${late}: it does not drag`;
    // What does not turn has no keys that could be shifted: it lacks a swing.
    const change =
      stiff === 1
        ? `let it swing against ${carrier}, ${words.frames(shift)} behind it${onUnkeyed(missing, "its")}`
        : `shift its keys ${words.frames(shift)} later`;
    const further = links > 1 ? `, and each further link by another ${words.frames(1)}` : "";
    return { message, suggestion: change + further };
  },
});

/** Where a chain is stiff although what carries it asks for an answer. */
function stiffFindings(
  study: Study,
  figure: number,
  joints: readonly number[],
  driven: Driven,
  { response, lag }: { readonly response: number; readonly lag: number },
): NoDragFinding[] {
  const carrier = rigOf(study).parent[joints[0]];
  return stiffStretches(study, joints, driven, response)
    .filter((stretch) => !answersSlightly(study, carrier, driven, stretch, lag))
    .map((stretch) => stiffFinding(study, figure, joints, driven, stretch, response));
}

function stiffFinding(
  study: Study,
  figure: number,
  joints: readonly number[],
  { asks }: Driven,
  { from, to, turn: response }: Stiff,
  still: number,
): NoDragFinding {
  const base = joints[0];
  return {
    ...findingOf(study, figure, joints, base, from, to),
    measured: { quantity: "turn against the carrier", value: inDegrees(response), unit: "deg" },
    expected: { min: inDegrees(still), unit: "deg", source: settings.response.source },
    excess: Math.max(1, 2 - response / still),
    asked: {
      by: rigOf(study).parent[base],
      from,
      weights: Float64Array.from(asks.subarray(from, to + 1)),
      // Turns are added up over a quarter of a second.
      late: Math.round(gridOf(study).rate / 4),
    },
    numbers: {
      ...numbersOf(study, joints, base),
      response,
      lag: 0,
      stiff: 1,
      shift: shiftOf(study, 0),
      missing: unkeyedAxisOf(study, base, rigOf(study).parent[base], from, to),
    },
    fault: { kind: "keys", keys: keysOfNodes(study, joints, from, to) },
  };
}

/** Whether a link turns against the one before it by so much that what it carries is seen to go along as a rod. */
function swings(study: Study, link: number, { from, to }: NoDragFinding, still: number): boolean {
  const before = rigOf(study).parent[link];
  for (let i = from + 1; i <= to; i++)
    if (relativeAngle(study, link, before, from, i) > rodSwing * still) return true;
  return false;
}

/** The link that follows the one before it too soon; null where each of them drags, or none can be timed. */
function lagFinding(
  study: Study,
  figure: number,
  { joints }: LooseChain,
  { from, to }: Driven,
  least: number,
): NoDragFinding | null {
  const rig = rigOf(study);
  const { rate } = gridOf(study);
  let worst = joints[0];
  let lag = Number.POSITIVE_INFINITY;
  let driving: Float64Array = new Float64Array(0);
  for (const node of joints) {
    const end = rig.children[node][0];
    if (end === undefined) continue;
    // What the link would do if it were fixed to what carries it, against what it does.
    const cuts = cutsOf(study, node);
    const drive = stepsWithoutCuts(carriedTurns(study, node, end, from), null, cuts);
    if (!drive.some((turn) => turn * rate > leastDrive)) continue;
    const answer = stepsWithoutCuts(boneTurns(study, node, end), null, cuts);
    const best = bestLag(drive, answer, Math.round(rate / 2));
    if (best.correlation > sameCourse && best.lag < lag) {
      lag = best.lag;
      worst = node;
      driving = drive;
    }
  }
  if (!(lag < least)) return null;
  let response = 0;
  for (const node of joints) {
    for (let i = from; i <= to; i++)
      response = Math.max(response, relativeAngle(study, node, rig.parent[node], from, i));
  }
  return {
    ...findingOf(study, figure, joints, worst, from, to),
    notBefore: "polish",
    measured: { quantity: "lag behind the link before", value: lag, unit: "frames" },
    expected: { min: least, unit: "frames", source: settings.lag.source },
    excess: 1 + (least - lag) / Math.max(least, 1e-6) / 2,
    // A correlation hangs on squares.
    asked: { by: rig.parent[worst], from: 0, weights: driving.map((turn) => turn * turn), late: 0 },
    numbers: {
      ...numbersOf(study, joints, worst),
      response,
      lag,
      stiff: 0,
      shift: shiftOf(study, lag),
      missing: -1,
    },
    fault: { kind: "keys", keys: keysOfNodes(study, [worst], from, to) },
  };
}
