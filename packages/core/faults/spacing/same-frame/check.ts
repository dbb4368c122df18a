import { referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { impactsOf } from "../../../motion/body/impact.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { type Move, movesOf, turnsOf } from "../../../motion/path/moves.ts";
import { localAngularSpeedOf } from "../../../motion/path/rotation.ts";
import { spacingOf } from "../../../motion/path/spacing.ts";
import { type Figure, figuresOf } from "../../../rig/body.ts";
import { reachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface SameFrameFinding extends Finding {
  readonly numbers: { readonly parts: number; readonly moving: number; readonly starts: number };
}

const settings = {
  share: {
    default: 0.8,
    unit: "share",
    what: "share of the moving parts that start, or arrive, together",
    source:
      "common practice: overlap wants parts that start and end apart; where four in five go together, nothing is seen to lead",
    min: 0,
    max: 1,
  },
  parts: {
    default: 5,
    unit: "count",
    what: "least number of moving parts",
    source: "common practice: a gesture of one arm has three or four parts, and these may well move together",
    min: 2,
  },
  within: {
    default: 1,
    unit: "frames",
    what: "frames before and after that count as the same",
    source:
      "common practice: parts that are meant to overlap are offset by two frames or more; one frame is not read as a lead",
    min: 0,
  },
  size: {
    default: 0.02,
    unit: "H",
    what: "smallest move of a part that counts, in body heights at its end",
    source:
      "common practice: about 3 cm of a grown person at the part's end; smaller shifts are settling, not moves",
    min: 0,
  },
} as const;

type TogetherValues = { readonly [K in keyof typeof settings]: number };

/**
 * Frames (at 24 per second) around an onset in which a part that moves is one of those that could have started then: a
 * third of a second, over which overlap is spread (our choice).
 */
const around = 8;

/** All parts start, or arrive, on the same frame. */
export const sameFrame = defineCheck({
  name: "same-frame",
  title: "Same frame",
  family: "spacing",
  scope: "figure",
  ceiling: "minor",
  what: "All parts of a figure start, or arrive, on the same frame: pose to pose.",
  why: "In a body one part leads and the others follow; what starts and stops as one looks like a puppet on one string.",
  computes:
    "Onsets and arrivals of every part: turns of its joints against their parents, and travel of the root. A move starts where it has a tenth of its own peak speed, and arrives where it loses it. At each, the parts that start (or arrive) within 1 frame are held against all parts that move within 8 frames of it. Legs that stand are left out. It is noted above 80 % of at least 5 parts.",
  fix: "Let the hips lead by two frames and the ends of the limbs follow by two, or as the note says.",
  notAFault: [
    "an impact of the whole body",
    "legs that stand, which follow the hips",
    "cuts by step keys from one held pose to the next",
    "the start and the end of the range",
    "props: only figures are judged",
  ],
  limits: ["Fingers, hair and other chains count once, by the first joint that moves."],
  sources: [],
  since: "0.1.0",
  settings,
  find(study, index, values) {
    const parts = movingParts(study, figuresOf(study)[index], values);
    if (parts.length < values.parts) return [];
    const starts = together(study, index, parts, values, "start");
    const arrivals = together(study, index, parts, values, "arrival");
    return [...starts, ...arrivals].sort((a, b) => a.from - b.from);
  },
  word({ from, numbers }, words) {
    const { parts, moving, starts } = numbers;
    const does = starts === 1 ? "start" : "arrive";
    const lead =
      starts === 1 ? "let the hips start 2 frames earlier" : "let the hips arrive 2 frames earlier";
    return {
      message: `${parts} of the ${moving} moving parts ${does} within a frame of frame ${words.frame(from)}`,
      suggestion: `${lead}, at frame ${words.frame(from - 2)}, and the hands and the head 2 frames later, at frame ${words.frame(from + 2)}`,
    };
  },
});

interface MovingPart {
  readonly part: BodyPart | "node";
  readonly nodes: readonly number[];
  readonly moves: readonly TimedMove[];
}

/** A move with the samples, nearest to it, at which it has (and loses) a tenth of its own peak speed. */
interface TimedMove extends Move {
  readonly starts: number;
  readonly arrives: number;
}

/**
 * Share of its own peak speed at which a move starts and has arrived. Compared with its own peak and not with a
 * floor, moves of one timing start together whatever their size; a floor meets the small one later.
 */
const underWay = 0.1;

/** Parts with moves large enough to be seen. */
function movingParts(study: Study, figure: Figure, values: TogetherValues): MovingPart[] {
  const found: MovingPart[] = [];
  for (const [part, nodes] of partsOf(study, figure)) {
    for (const node of nodes) {
      const least = values.size / Math.max(reachOf(study, node), 1e-6);
      const moves = timed(turnsOf(study, node), localAngularSpeedOf(study, node), least);
      if (part === "root") moves.push(...timed(movesOf(study, node), spacingOf(study, node), values.size));
      if (moves.length === 0) continue;
      found.push({ part, nodes: [node], moves: moves.sort((a, b) => a.from - b.from) });
      break;
    }
  }
  return found;
}

/** The moves of at least some travel, with the times at which they start and arrive. */
function timed(moves: readonly Move[], steps: Float64Array, least: number): TimedMove[] {
  return moves
    .filter(({ travel }) => travel >= least)
    .map((move) => {
      const level = underWay * steps[move.peak];
      let starts = move.from;
      let arrives = move.to;
      while (starts + 1 < move.peak && steps[starts + 1] < level) starts++;
      while (arrives > move.peak && steps[arrives] < level) arrives--;
      return { ...move, starts, arrives };
    });
}

/** The figure's parts; where it has hardly any, each of its chains is one: what has no branch moves as a whole. */
function partsOf(study: Study, figure: Figure): [BodyPart | "node", readonly number[]][] {
  const parts: [BodyPart | "node", readonly number[]][] = [...figure.parts];
  if (parts.length >= 5) return parts;
  const { children, parent } = rigOf(study);
  const chains = new Map<number, number[]>();
  for (const node of figure.nodes) {
    const chain =
      node === figure.root || children[parent[node]].length > 1 ? undefined : chains.get(parent[node]);
    chain?.push(node);
    chains.set(node, chain ?? [node]);
  }
  return [...new Set(chains.values())].map((nodes) => [nodes[0] === figure.root ? "root" : "node", nodes]);
}

function together(
  study: Study,
  figure: number,
  parts: readonly MovingPart[],
  values: TogetherValues,
  what: "start" | "arrival",
): SameFrameFinding[] {
  const { rate, count } = gridOf(study);
  const within = Math.round(values.within);
  const reach = Math.round((around * rate) / referenceRate);
  const impacts = impactsOf(study, figure);
  const timeOf = (move: TimedMove) => (what === "start" ? move.starts : move.arrives);
  const isEnd = (move: Move) => (what === "start" ? move.startsAtRest : move.endsAtRest);
  // How many parts start (or arrive) on each sample.
  const events = new Uint16Array(count);
  for (const { moves } of parts) for (const move of moves) if (isEnd(move)) events[timeOf(move)]++;
  const found: SameFrameFinding[] = [];
  for (let at = 0; at < count; at++) {
    // The middle of what starts around it, whether or not anything starts just there.
    if (impacts[at] === 1 || !isPeak(events, at, within)) continue;
    const standing = standingParts(study, figure, at, within);
    const moving = parts.filter(
      ({ part, moves }) =>
        !standing.has(part) && moves.some((move) => move.from <= at + reach && move.to >= at - reach),
    );
    const same = moving.filter(({ moves }) =>
      moves.some((move) => isEnd(move) && Math.abs(timeOf(move) - at) <= within),
    );
    if (moving.length < values.parts || same.length <= values.share * moving.length) continue;
    found.push(findingOf(study, figure, at, same, moving.length, values, what));
    at += within;
  }
  return found;
}

const legs = {
  left: ["leftThigh", "leftShin", "leftFoot", "leftToes"],
  right: ["rightThigh", "rightShin", "rightFoot", "rightToes"],
} as const;

/** Parts of the legs that stand at a sample: between a hip that moves and a foot that does not, they have no choice. */
function standingParts(study: Study, figure: number, at: number, within: number): ReadonlySet<string> {
  const standing = new Set<string>();
  const { partOf } = figuresOf(study)[figure];
  for (const { node, from, to } of contactsOf(study, figure)) {
    if (from > at + within || to < at - within) continue;
    const part = partOf.get(node);
    const leg = part?.startsWith("left") ? legs.left : legs.right;
    if (leg.some((name) => name === part)) for (const name of leg) standing.add(name);
  }
  return standing;
}

/** Whether there are events around a sample, and no sample within reach has more of them. */
function isPeak(events: Uint16Array, at: number, within: number): boolean {
  const sum = (middle: number) => {
    let total = 0;
    for (let i = Math.max(0, middle - within); i <= middle + within && i < events.length; i++)
      total += events[i];
    return total;
  };
  const here = sum(at);
  if (here === 0) return false;
  for (let other = at - within; other <= at + within; other++) {
    if (other < 0 || other >= events.length) continue;
    if (sum(other) > here || (sum(other) === here && events[other] > events[at])) return false;
  }
  return true;
}

function findingOf(
  study: Study,
  figure: number,
  at: number,
  same: readonly MovingPart[],
  moving: number,
  values: TogetherValues,
  what: "start" | "arrival",
): SameFrameFinding {
  const { rate } = gridOf(study);
  const nodes = same.flatMap((part) => part.nodes);
  const { root, parts } = figuresOf(study)[figure];
  let size = 0;
  for (const { moves, nodes } of same) {
    for (const move of moves) {
      if (Math.abs((what === "start" ? move.starts : move.arrives) - at) > 1) continue;
      size = Math.max(size, (move.peakSpeed / rate) * Math.max(reachOf(study, nodes[0]), 1e-6));
    }
  }
  return {
    node: parts.get("root")?.[0] ?? root,
    figure,
    from: at,
    to: at,
    measured: {
      quantity: `parts that ${what === "start" ? "start" : "arrive"} together`,
      value: same.length / moving,
      unit: "share",
    },
    expected: { max: values.share, unit: "share", source: settings.share.source },
    excess: (same.length / moving / values.share) * Math.sqrt(same.length / values.parts),
    size,
    numbers: { parts: same.length, moving, starts: what === "start" ? 1 : 0 },
    fault: { kind: "keys", keys: keysOfNodes(study, nodes, at, at) },
  };
}
