import { excused } from "../../../base/excuse.ts";
import { angleBetween } from "../../../base/quaternion.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { airborneAt } from "../../../motion/body/flight.ts";
import { nodeContactAt } from "../../../motion/ground/contact.ts";
import { footPointsOf } from "../../../motion/ground/feet.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { carriedPath, carriedTurns } from "../../../motion/path/carried.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { onTwosOf } from "../../../motion/path/held.ts";
import { restFloorOf, restTurnOf } from "../../../motion/path/moves.ts";
import { figuresOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { limbCarrierOf } from "../../../rig/limb-carrier.ts";
import { chainOf, worldOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { causesOf, keysFault } from "../../cause.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { belowCarrier } from "../shared/paces.ts";
import { type Shown, type Stay, shownPoses, stayAt } from "./shown.ts";

/** With numbers in working units. */
export interface ShortPoseFinding extends Finding {
  readonly numbers: {
    /** Judged frames on which the part is in its pose, and on which it should be. */
    readonly stands: number;
    readonly needed: number;
    readonly carrier: number;
    /** 1 for a head, whose turn tells. */
    readonly turns: number;
  };
  readonly shown: Shown;
}

const settings = {
  same: {
    default: 1.9,
    unit: "deg",
    what: "turn within which a part is seen in one pose; of a hand over the length of its arm",
    source: "Wilson and others 2000: the least turn of a head that is seen as one is 1.9°",
    min: 0,
  },
  reading: {
    default: 6,
    unit: "frames",
    what: "least time for which a part is in its pose between two large moves",
    source: "common practice: a pose that tells something is held for a quarter of a second, six frames",
    min: 1,
  },
  beat: {
    default: 4,
    unit: "frames",
    what: "the same between moves of which one is not large",
    source:
      "common practice: a beat takes four frames. In less than 180 ms nobody answers to what is seen (Kosinski's review)",
    min: 1,
  },
  way: {
    default: 0.08,
    unit: "H",
    what: "least way of a hand to a pose, and away from it",
    source: "common practice: 14 cm of a grown person, more than hands drift while one stands and talks",
    min: 0,
  },
  turn: {
    default: 15,
    unit: "deg",
    what: "least turn of a head to a pose, and away from it",
    source: "common practice: up to 15° is a glance or a nod",
    min: 0,
  },
  large: {
    default: 2,
    unit: "ratio",
    what: "how many times the least way both moves are as long from which the pose is one that tells something",
    source: "common practice: a hand that goes a quarter of a body's height and comes back is a gesture",
    min: 1,
  },
  whole: {
    default: 12,
    unit: "frames",
    what: "shortest time that both moves take together with the pose",
    source: "common practice: what is out and back within half a second is one action, such as a blow",
    min: 2,
  },
} as const;

type Values = { readonly [K in keyof typeof settings]: number };

/** One of two moves is a wind-up, or a settle, where it is at most so large a share of the other and that goes back over it. */
const small = 0.5;
/** A hand that ends up so near to where it set out, as a share of the shorter move, swings out and back. */
const back = 0.25;
/** A move that goes on within 45° of its direction stands on its way: two equal ways at that angle bring it so far. */
const onward = Math.cos(Math.PI / 8);

/** A pose that is gone before it can be read. */
export const shortPose = defineCheck({
  name: "short-pose",
  title: "Short pose",
  family: "spacing",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  notBefore: "splining",
  what: "A hand or a head goes to a pose, and leaves it before anybody can have read it.",
  why: "A pose speaks while it stands. One that is gone as it comes is seen as a swing, and what it was to tell is lost.",
  computes:
    "Steps of each hand against what carries its arm, and turns of the head against what carries the neck. A move is a stretch of them around a peak, over a fifth of it. Between two moves, at its slowest, the part is in a pose. It is in it for as long as it stays within 1.9°, of a hand over the length of its arm, of where it is there. That is to be six frames, or four where one of the two moves is less than twice the least. The least is 0.08 body heights, or 15° of the head, from pose to pose. Told is what stays in a pose for six frames before the first move, and behind the second.",
  fix: "Hold the pose for some frames more: leave it later, and take the frames from the hold that follows.",
  notAFault: [
    "a chain of moves: the pose before it, or the one behind it, is as short, as in all that a person does who was recorded",
    "a wind-up, or a settle: one move is at most half of the other, which goes back over it",
    "a hand that comes back to where it was, within a quarter of its way: a wave, a toss, a beat of speech",
    "a stop on the way of a move that goes on within 45° of its direction, which is a hitch or a hold",
    "what is out and back within half a second, such as a blow or a nod",
    "a hand that touches, takes or lets go of something in its pose, or on which the body walks",
    "a body in the air",
    "a part on twos, and poses that step keys cut",
  ],
  limits: [
    "What a pose tells is not known: a swing that means nothing, between two holds, is taken for one.",
    "Poses of the whole body and of legs are not looked at.",
  ],
  sources: [
    "Common practice: four frames for a beat, six for a pose that tells something",
    "Kosinski's review of reaction times (second hand): 180 to 200 ms to answer to what is seen",
  ],
  since: "0.1.0",
  settings,
  yieldsTo: ["hitch"],
  styles: {
    snappy: {
      times: { reading: 2 / 3, beat: 0.75 },
      why: "Poses are hit at once, and are read from the first frame on.",
    },
    limited: { off: true, why: "A pose is one drawing, whose time its step keys tell." },
    twos: { off: true, why: "A pose of two drawings stands for four frames, and its eases tell no more." },
  },
  find: (study, figure, values) =>
    partsOf(study, figure, values.same).flatMap((part) => findingsOn(study, figure, part, values)),
  word({ numbers, from, to }, words) {
    const { stands, needed, turns } = numbers;
    const more = needed - stands;
    return {
      message: `${words.part} ${turns === 1 ? "turns" : "goes"} to a pose and leaves it again in ${words.span(from, to)}: it stands for ${words.frames(stands)}, where such a pose is read in ${words.frames(needed)}`,
      suggestion: `hold the pose ${words.frames(more)} longer, and take them from the hold behind it`,
    };
  },
});

/** A hand or a head with what carries it; whether it is its turn that tells, and how near is the same pose. */
interface Part {
  readonly node: number;
  readonly carrier: number;
  readonly turns: boolean;
  readonly near: number;
}

/** Hands and head of a figure that move, but for hands on which it walks. */
function partsOf(study: Study, figure: number, same: number): Part[] {
  const head = figuresOf(study)[figure].parts.get("head")?.[0];
  const feet = footPointsOf(study, figure);
  const isWalkedOn = (root: number) => feet.some(({ node }) => isAbove(rigOf(study), root, node));
  const hands = limbsOf(study, figure).filter(({ kind, root }) => kind === "arm" && !isWalkedOn(root));
  const part = (node: number, turns: boolean, near: number): Part => {
    const carrier = limbCarrierOf(study, node);
    return { node, turns, near, carrier: carrier < 0 ? rigOf(study).parent[node] : carrier };
  };
  return [
    ...hands.map(({ end, upper, lower }) => part(end, false, same * (upper + lower))),
    ...(head === undefined ? [] : [part(head, true, same)]),
  ].filter(({ node, carrier }) => carrier >= 0 && !worldOf(study, node).still && onTwosOf(study, node) <= 1);
}

/** A part against what carries it: how far it is apart at two samples of a series that begins at the grid's `lo`. */
function apartIn(
  study: Study,
  { carrier, turns }: Part,
  series: Float64Array,
  lo = 0,
): (i: number, k: number) => number {
  const world = worldOf(study, carrier);
  const seen = turns ? carriedTurns(series, world.orientation, lo) : carriedPath(series, world, lo);
  return turns
    ? (i, k) => angleBetween(seen, 4 * i, seen, 4 * k)
    : (i, k) => distanceBetween(seen, i, seen, k);
}

/** The longer of the two stays around the slowest step, which leads to a sample. */
function stayAround(apart: (i: number, k: number) => number, at: number, count: number, near: number): Stay {
  const [a, b] = [at - 1, at].map((own) => stayAt((i) => apart(own, i), own, count, near));
  return a.to - a.from >= b.to - b.from ? a : b;
}

/** Samples at which a part is seen in its pose. */
const framesIn = ({ from, to }: Stay): number => Math.floor(to) - Math.ceil(from) + 1;

function findingsOn(study: Study, figure: number, part: Part, values: Values): ShortPoseFinding[] {
  const { node, turns, near } = part;
  const { count } = gridOf(study);
  const { position, orientation } = worldOf(study, node);
  const apart = apartIn(study, part, turns ? orientation : position);
  const steps = floats(count);
  for (let i = 1; i < count; i++) steps[i] = apart(i - 1, i);
  const least = 2 * (turns ? restTurnOf(study) : restFloorOf(study, node));
  const way = turns ? values.turn : values.way;
  return shownPoses(steps, least).flatMap((shown) => {
    const { at, sets, arrives } = shown;
    if (arrives - sets < values.whole) return [];
    const [first, last] = [Math.floor(sets), Math.ceil(arrives)];
    const [into, out, whole] = [apart(first, at), apart(at, last), apart(first, last)];
    if (Math.min(into, out) < way) return [];
    // Frames are whole.
    const read = Math.floor(values.reading + 0.01);
    const needed = Math.floor(
      (Math.min(into, out) < values.large * way ? values.beat : values.reading) + 0.01,
    );
    const stay = stayAround(apart, at, count, near);
    if (framesIn(stay) >= needed) return [];
    // What never stands speaks by its moves: a pose is one among poses that do.
    const stands = (from: number, to: number) => {
      const [lo, hi] = [Math.max(1, Math.ceil(from)), Math.min(count - 1, Math.floor(to))];
      let slowest = lo;
      for (let i = lo; i <= hi; i++) if (steps[i] < steps[slowest]) slowest = i;
      return lo <= hi && framesIn(stayAround(apart, slowest, count, near)) >= read;
    };
    if (!stands(sets - shown.before, sets) || !stands(arrives, arrives + shown.after)) return [];
    if (isCutBetween(cutsOf(study, node), first, last)) return [];
    const excuse = excuseOf(study, figure, part, shown, [into, out, whole]);
    if (excuse !== null) {
      excused(node, Math.ceil(stay.from), Math.floor(stay.to), excuse);
      return [];
    }
    return [findingOf(study, figure, part, shown, stay, needed, Math.min(into, out))];
  });
}

/** Why a pose may be short; null where nothing says so. */
function excuseOf(
  study: Study,
  figure: number,
  { node, turns }: Part,
  { into: first, out: last }: Shown,
  [into, out, whole]: readonly [number, number, number],
): string | null {
  if (Math.min(into, out) <= small * Math.max(into, out) && whole < Math.max(into, out))
    return "one of the moves is the wind-up or the settle of the other";
  if (!turns && whole <= back * Math.min(into, out)) return "the hand swings out, and back to where it was";
  if (whole >= onward * (into + out)) return "the move goes on in its direction: it stands on its way";
  const air = airborneAt(study, figure);
  const touch = nodeContactAt(study, node);
  for (let i = first; i <= last; i++) {
    if (air[i] === 1) return "the body is in the air";
    if (touch[i] === 1) return "the hand touches something in its pose";
  }
  const takes = gripsOf(study).some(
    (grip) => grip.hand === node && [grip.from, grip.to].some((at) => at >= first && at <= last),
  );
  return takes ? "the hand takes something, or lets go of it, in its pose" : null;
}

function findingOf(
  study: Study,
  figure: number,
  part: Part,
  shown: Shown,
  stay: Stay,
  needed: number,
  way: number,
): ShortPoseFinding {
  const { node, carrier, turns, near } = part;
  const stands = framesIn(stay);
  const [lo, hi] = [Math.max(0, shown.into - 1), shown.out];
  return {
    node,
    figure,
    from: Math.ceil(stay.from),
    to: Math.floor(stay.to),
    measured: { quantity: "frames in the pose", value: stands, unit: "frames" },
    expected: { min: needed, unit: "frames", source: settings.reading.source },
    excess: needed / Math.max(stands, needed / 4),
    size: (1 - stands / needed) * 0.25 * way * (turns ? farReachOf(study, node) : 1),
    numbers: { stands, needed, carrier, turns: turns ? 1 : 0 },
    shown,
    fault: causeOf(study, part, [Math.floor(stay.to), shown.out], {
      kind: turns ? "orientation" : "position",
      subject: node,
      top: belowCarrier(study, node, carrier),
      lo,
      hi,
      from: Math.floor(stay.to),
      to: hi,
      sees: ["short pose", shown.at - lo, near, needed, carrier],
      strength: (series) => {
        const count = series.length / (turns ? 4 : 3);
        const { from, to } = stayAround(apartIn(study, part, series, lo), shown.at - lo, count, near);
        return Math.max(0, 2 * needed - (to - from));
      },
    }),
  };
}

/** The keys that end a pose too soon, by trial; else those with which the part leaves it. */
function causeOf(
  study: Study,
  { node, carrier }: Part,
  [from, to]: readonly [number, number],
  fault: Fault,
): Fault {
  const { frames } = gridOf(study);
  const causes = causesOf(study, fault).filter(({ frame }) => frame >= frames[from]);
  if (causes.length > 0) return keysFault(causes);
  const rig = rigOf(study);
  const chain = chainOf(rig, node).filter((joint) => joint !== carrier && isAbove(rig, carrier, joint));
  return { kind: "keys", keys: keysOfNodes(study, chain, from, to, 3) };
}
