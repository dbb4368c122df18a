import { inRadians } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { impactsOf } from "../../../motion/body/impact.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { type Order, turnOrder } from "../../../motion/parts/order.ts";
import { turnBetween } from "../../../motion/parts/twist.ts";
import { type Move, movesOf, turnsOf } from "../../../motion/path/moves.ts";
import { localAngularSpeedOf } from "../../../motion/path/rotation.ts";
import { spacingOf } from "../../../motion/path/spacing.ts";
import { type Figure, figuresOf } from "../../../rig/body.ts";
import { reachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { startsOf } from "../../order-words.ts";

/** With numbers in working units. */
export interface SameFrameFinding extends Finding {
  readonly numbers: { readonly parts: number; readonly moving: number };
  /** Where the body turns: who starts the turn and who follows. */
  readonly order: Order;
}

const settings = {
  share: {
    default: 0.8,
    unit: "share",
    what: "share of the moving parts that start and arrive together",
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

/** All parts start, and arrive, on the same frames. */
export const sameFrame = defineCheck({
  name: "same-frame",
  title: "Same frame",
  family: "spacing",
  scope: "figure",
  ceiling: "minor",
  notBefore: "polish",
  what: "All parts of a figure start on the same frame and arrive on the same frame: pose to pose.",
  why: "In a body one part leads, or another follows; what starts and stops as one looks like a puppet on one string.",
  computes:
    "Onsets and arrivals of every part: turns of its joints against their parents, and travel of the root. A move starts where it has a tenth of its own peak speed, and arrives where it loses it. The parts that start within 1 frame of each other and arrive within 1 frame of each other are held against all parts that move between these frames. Legs that stand are left out. It is noted above 80 % of at least 5 parts. Where head or chest turns by 15° or more, the note tells in which order eyes, head, trunk, hips and feet start.",
  fix: "Let the hips lead by two frames and the ends of the limbs follow by two, or as the note says.",
  notAFault: [
    "parts that start as one and arrive one after the other, or the reverse: people who know where they turn start nearly as one (Anastasopoulos et al. 2009), and what follows is seen at the end",
    "an impact of the whole body",
    "legs that stand, which follow the hips",
    "cuts by step keys from one held pose to the next",
    "the start and the end of the range",
    "props: only figures are judged",
  ],
  limits: [
    "Fingers, hair and other chains count once, by the first joint that moves.",
    "What leads what is not asked: a lead of the trunk over the arms can be less than a frame (18 ms in a forehand).",
  ],
  sources: [
    "Anastasopoulos, Ziavra, Hollands, Bronstein 2009, abstract: where the target of a turn is known, trunk and feet start earlier, nearly as one with eyes and head",
    "Vision Research 2001 41:3307, abstract: in a task of one's own the head starts before the eyes in 48 of 100 shifts of gaze",
    "J Sports Sci Med 2010 9:643, abstract: in a forehand the trunk turns fastest 18 ms after the pelvis",
  ],
  since: "0.1.0",
  settings,
  find(study, index, values) {
    const parts = movingParts(study, figuresOf(study)[index], values);
    return parts.length < values.parts ? [] : poseChanges(study, index, parts, values);
  },
  word({ from, to, numbers, order }, words) {
    const { parts, moving } = numbers;
    return {
      message: `${parts} of the ${moving} moving parts start within a frame of frame ${words.frame(from)} and arrive within a frame of frame ${words.frame(to)}${startsOf(order, words)}`,
      suggestion: `let the hips start 2 frames earlier, at frame ${words.frame(from - 2)}, and the hands and the head arrive 2 frames later, at frame ${words.frame(to + 2)}`,
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

/** Where enough of the parts go from rest to rest in the same frames. */
function poseChanges(
  study: Study,
  figure: number,
  parts: readonly MovingPart[],
  values: TogetherValues,
): SameFrameFinding[] {
  const { count } = gridOf(study);
  const within = Math.round(values.within);
  const impacts = impactsOf(study, figure);
  const whole = parts.map(({ moves }) =>
    moves.filter(({ startsAtRest, endsAtRest }) => startsAtRest && endsAtRest),
  );
  const starts = new Uint16Array(count);
  const arrivals = new Uint16Array(count);
  for (const moves of whole) for (const { starts: at } of moves) starts[at]++;
  const found: SameFrameFinding[] = [];
  for (let from = 0; from < count; from++) {
    // The middle of what starts around it, whether or not anything starts just there.
    if (!isPeak(starts, from, within)) continue;
    const started = whole.map((moves) => moves.filter((move) => Math.abs(move.starts - from) <= within));
    arrivals.fill(0);
    for (const moves of started) for (const { arrives } of moves) arrivals[arrives]++;
    const to = busiest(arrivals, within);
    if (impacts[from] === 1 || impacts[to] === 1) continue;
    const standing = standingParts(study, figure, from - within, to + within);
    const isMoving = ({ part, moves }: MovingPart) =>
      !standing.has(part) && moves.some((move) => move.starts < to && move.arrives > from);
    const moving = parts.filter(isMoving).length;
    const same = parts.flatMap((part, i): PoseMove[] => {
      const move = started[i].find(({ arrives }) => Math.abs(arrives - to) <= within);
      return move === undefined || !isMoving(part) ? [] : [{ node: part.nodes[0], move }];
    });
    if (moving < values.parts || same.length <= values.share * moving) continue;
    found.push(findingOf(study, figure, { from, to, same, moving }, values));
  }
  return found;
}

/** The move that a part makes in a change of pose. */
interface PoseMove {
  readonly node: number;
  readonly move: Move;
}

/** The sample around which there are the most events; among equals the middle one has the most itself. */
function busiest(events: Uint16Array, within: number): number {
  let best = 0;
  for (let at = 1; at < events.length; at++) {
    const here = eventsAround(events, at, within);
    const there = eventsAround(events, best, within);
    if (here > there || (here === there && events[at] > events[best])) best = at;
  }
  return best;
}

const legs = {
  left: ["leftThigh", "leftShin", "leftFoot", "leftToes"],
  right: ["rightThigh", "rightShin", "rightFoot", "rightToes"],
} as const;

/** Parts of the legs that stand in a stretch: between a hip that moves and a foot that does not, they have no choice. */
function standingParts(study: Study, figure: number, first: number, last: number): ReadonlySet<string> {
  const standing = new Set<string>();
  const { partOf } = figuresOf(study)[figure];
  for (const { node, from, to } of contactsOf(study, figure)) {
    if (from > last || to < first) continue;
    const part = partOf.get(node);
    const leg = part?.startsWith("left") ? legs.left : legs.right;
    if (leg.some((name) => name === part)) for (const name of leg) standing.add(name);
  }
  return standing;
}

/** Whether there are events around a sample, and no sample within reach has more of them. */
function isPeak(events: Uint16Array, at: number, within: number): boolean {
  const here = eventsAround(events, at, within);
  if (here === 0) return false;
  for (let other = at - within; other <= at + within; other++) {
    if (other < 0 || other >= events.length) continue;
    const there = eventsAround(events, other, within);
    if (
      there > here ||
      (there === here && (events[other] > events[at] || (other < at && events[other] === events[at])))
    )
      return false;
  }
  return true;
}

function eventsAround(events: Uint16Array, middle: number, within: number): number {
  let total = 0;
  for (let i = Math.max(0, middle - within); i <= middle + within && i < events.length; i++)
    total += events[i];
  return total;
}

/** Least turn of a head or a chest of which an order is told, radians: less is no turn (common practice). */
const leastTurn = inRadians(15);

/** The order of a turn between two samples; none where neither head nor chest turns enough in the world. */
function orderOf(study: Study, figure: number, from: number, to: number): Order {
  const { parts } = figuresOf(study)[figure];
  for (const part of ["head", "chest"] as const) {
    const node = parts.get(part)?.[0];
    const turned = node === undefined ? null : turnBetween(study, { node, against: -1 }, from, to);
    if (turned !== null && turned.angle >= leastTurn) return turnOrder(study, figure, turned.axis, from, to);
  }
  return [];
}

function findingOf(
  study: Study,
  figure: number,
  { from, to, same, moving }: { from: number; to: number; same: readonly PoseMove[]; moving: number },
  values: TogetherValues,
): SameFrameFinding {
  const { rate } = gridOf(study);
  const { root, parts } = figuresOf(study)[figure];
  let size = 0;
  for (const { node, move } of same)
    size = Math.max(size, (move.peakSpeed / rate) * Math.max(reachOf(study, node), 1e-6));
  const nodes = same.map(({ node }) => node);
  return {
    node: parts.get("root")?.[0] ?? root,
    figure,
    from,
    to,
    measured: {
      quantity: "parts that start and arrive together",
      value: same.length / moving,
      unit: "share",
    },
    expected: { max: values.share, unit: "share", source: settings.share.source },
    excess: (same.length / moving / values.share) * Math.sqrt(same.length / values.parts),
    size,
    numbers: { parts: same.length, moving },
    order: orderOf(study, figure, from, to),
    fault: { kind: "keys", keys: keysOfNodes(study, nodes, from, from) },
  };
}
