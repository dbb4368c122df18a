import { inDegrees, referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { boneTurns, carriedTurns } from "../../../motion/parts/bone.ts";
import { bestLag } from "../../../motion/parts/lag.ts";
import { cutsOf, isCutBetween, stepsWithoutCuts } from "../../../motion/path/cuts.ts";
import { relativeAngle } from "../../../motion/path/relative.ts";
import { accelerationOf } from "../../../motion/path/spacing.ts";
import { uncutTurnsOf } from "../../../motion/path/uncut.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { curveNamesOfNode } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { turnsSlightly } from "../still-wrist/check.ts";

/** With numbers in working units. */
export interface NoDragFinding extends Finding {
  readonly numbers: {
    readonly response: number;
    readonly lag: number;
    readonly links: number;
    readonly stiff: number;
    readonly carrier: number;
    readonly shift: number;
  };
}

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

const loose = ["tail", "hair", "ears"] as const;

/** A tail, hair or ear that does not lag what carries it. */
export const noDrag = defineCheck({
  name: "no-drag",
  title: "No drag",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  what: "A loose part (tail, hair, ear) does not lag what carries it, or its links all move at once.",
  why: "What hangs loose is pulled along: it answers late, and later towards its tip. Without that lag it looks like part of the bone.",
  computes:
    "Where the carrier turns by more than 15° or is pushed by more than 0.3 g: how far the chain turns against it. The turning of each link's direction is compared with that which it would have if it were fixed to the link before it. The lag at which the two correlate best is the link's. A roll about its own length does not count.",
  fix: "Shift each link's keys by one or two frames against the one before it.",
  notAFault: [
    "hair and ears without any curves: modelled stiff",
    "a carrier that hardly moves",
    "cuts by step keys from one held pose to the next, in which nothing is carried along",
  ],
  limits: [
    "The lag is measured over the whole range at once; a chain that drags in one move and leads in another averages out.",
  ],
  sources: ["Common practice: overlapping action; what hangs loose follows what carries it"],
  since: "0.1.0",
  settings,
  styles: { twos: { lag: 2 } },
  find(study, index, values) {
    const { parts } = figuresOf(study)[index];
    const found: NoDragFinding[] = [];
    for (const part of loose) {
      for (const chain of chainsOf(study, parts.get(part) ?? [])) {
        const keyed = chain.some((node) => curveNamesOfNode(study, node).length > 0);
        if (part !== "tail" && !keyed) {
          excused(chain[0] ?? -1, 0, gridOf(study).count - 1, "the chain has no curves");
          continue;
        }
        const finding = judge(study, index, chain, values);
        if (finding !== null) found.push(finding);
      }
    }
    return found;
  },
  word(finding, words) {
    const { response, lag, links, stiff, shift } = finding.numbers;
    const carrier = words.name(finding.numbers.carrier);
    const message =
      stiff === 1
        ? `${words.part} ${turnsSlightly(words.angle(response))} against ${carrier} in ${words.span(finding.from, finding.to)}, whatever ${carrier} does`
        : `${words.part} follows ${carrier} by ${words.frames(Math.max(0, lag))} only: it does not drag`;
    return {
      message,
      suggestion: `shift its keys ${words.frames(shift)} later${links > 1 ? `, and each further link by another ${words.frames(1)}` : ""}`,
    };
  },
});

/** The part's nodes as chains from the base outwards. */
function chainsOf(study: Study, nodes: readonly number[]): number[][] {
  const rig = rigOf(study);
  const among = new Set(nodes);
  return nodes
    .filter((node) => !among.has(rig.parent[node]) && rig.parent[node] >= 0)
    .map((base) => {
      const chain = [base];
      for (let next = rig.children[base].find((c) => among.has(c)); next !== undefined; ) {
        chain.push(next);
        next = rig.children[next].find((c) => among.has(c));
      }
      // A tip without curves only marks where the last link ends.
      const tip = chain[chain.length - 1];
      if (chain.length > 1 && rig.children[tip].length === 0 && curveNamesOfNode(study, tip).length === 0)
        chain.pop();
      return chain;
    });
}

function judge(
  study: Study,
  figure: number,
  chain: readonly number[],
  values: { turn: number; push: number; response: number; lag: number },
): NoDragFinding | null {
  const rig = rigOf(study);
  const { rate } = gridOf(study);
  const carrier = rig.parent[chain[0]];
  const span = drivenSpan(study, carrier, values);
  if (span === null) return null;
  const [from, to] = span;
  let response = 0;
  for (const node of chain) {
    for (let i = from; i <= to; i++)
      response = Math.max(response, relativeAngle(study, node, rig.parent[node], from, i));
  }
  const base = chain[0];
  const isStiff = response <= values.response;
  let worst = base;
  let lag = Number.POSITIVE_INFINITY;
  if (!isStiff) {
    for (const node of chain) {
      const end = rig.children[node][0];
      if (end === undefined) continue;
      // What the link would do if it were fixed to what carries it, against what it does.
      const cuts = cutsOf(study, node);
      const drive = stepsWithoutCuts(carriedTurns(study, node, end, from), null, cuts);
      if (!drive.some((turn) => turn * rate > leastDrive)) continue;
      const answer = stepsWithoutCuts(boneTurns(study, node, end), null, cuts);
      const best = bestLag(drive, answer, Math.round(rate / 2));
      if (best.correlation > 0.8 && best.lag < lag) {
        lag = best.lag;
        worst = node;
      }
    }
    if (!(lag < values.lag)) return null;
  }
  return {
    node: isStiff ? base : worst,
    figure,
    from,
    to,
    measured: isStiff
      ? { quantity: "turn against the carrier", value: inDegrees(response), unit: "deg" }
      : { quantity: "lag behind the carrier", value: lag, unit: "frames" },
    expected: isStiff
      ? { min: inDegrees(values.response), unit: "deg", source: settings.response.source }
      : { min: values.lag, unit: "frames", source: settings.lag.source },
    excess: isStiff
      ? 2 - response / values.response
      : 1 + (values.lag - lag) / Math.max(values.lag, 1e-6) / 2,
    size: 0.2 * Math.min(farReachOf(study, base), 0.3 * statureOf(study, figure)),
    numbers: {
      response,
      lag: Number.isFinite(lag) ? lag : 0,
      links: chain.length,
      stiff: isStiff ? 1 : 0,
      carrier,
      shift: Math.max(
        1,
        Math.round((1.5 * rate) / referenceRate - Math.min(0, Number.isFinite(lag) ? lag : 0)),
      ),
    },
    fault: { kind: "keys", keys: keysOfNodes(study, isStiff ? chain : [worst], from, to) },
  };
}

/** First and last sample in which the carrier turns or is pushed enough for a loose part to answer; null if never. */
function drivenSpan(
  study: Study,
  carrier: number,
  values: { turn: number; push: number },
): [number, number] | null {
  const { count, rate } = gridOf(study);
  const reach = Math.round(rate / 4);
  const cuts = cutsOf(study, carrier);
  const turns = uncutTurnsOf(study, carrier);
  const push = accelerationOf(study, carrier);
  let first = -1;
  let last = -1;
  let sum = 0;
  for (let i = 1; i < count; i++) {
    sum += turns[i] - (i > reach ? turns[i - reach] : 0);
    const pushed =
      !isCutBetween(cuts, i - 2, i + 1) &&
      lengthOf(push[3 * i], push[3 * i + 1], push[3 * i + 2]) > values.push;
    if (sum <= values.turn && !pushed) continue;
    if (first < 0) first = Math.max(0, i - reach);
    last = i;
  }
  return first < 0 || last - first < 3 ? null : [first, last];
}
