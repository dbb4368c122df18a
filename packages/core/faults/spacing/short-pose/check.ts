import { excused } from "../../../base/excuse.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { airborneAt } from "../../../motion/body/flight.ts";
import { nodeContactAt } from "../../../motion/ground/contact.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { heldOf, onTwosOf } from "../../../motion/path/held.ts";
import { restFloorOf, restTurnOf } from "../../../motion/path/moves.ts";
import { chainOf, worldOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { isReachedAt } from "../../../settings/stage.ts";
import { settingsOf } from "../../../settings/study.ts";
import { gridOf } from "../../../time/grid.ts";
import { causesOf, keysFault } from "../../cause.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { belowCarrier } from "../shared/motion-frame.ts";
import { ofBodies } from "./body.ts";
import { type Apart, apartIn, apartInWorld, framesIn, type Part, partsOf, stayAround } from "./part.ts";
import { type Shown, type Stay, shownPoses } from "./shown.ts";

/** With numbers in working units. */
export interface ShortPoseFinding extends Finding {
  readonly numbers: {
    /** Judged frames on which the part is in its pose, and on which it should be. */
    readonly stands: number;
    readonly needed: number;
    readonly carrier: number;
    /** 1 for a head, whose turn tells. */
    readonly turns: number;
    /** 1 for a pose that step keys hold, and for one that hips and more parts than one are in. */
    readonly drawn: number;
    readonly body: number;
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
  isOfAct: true,
  hangsOn: ["body"],
  what: "A hand or a head goes to a pose, and leaves it before anybody can have read it.",
  why: "A pose speaks while it stands. One that is gone as it comes is seen as a swing, and what it was to tell is lost.",
  computes:
    "Steps of each hand against what carries its arm, and turns of the head against what carries the neck. A move is a stretch of them around a peak, over a fifth of it. Between two moves, at its slowest, the part is in a pose. It is in it for as long as it stays within 1.9°, of a hand over the length of its arm, of where it is there. That is to be six frames, or four where one of the two moves is less than twice the least. The least is 0.08 body heights, or 15° of the head, from pose to pose. Told is what stays in a pose for six frames before the first move, and behind the second. The part goes the least in the world as well. In blocked work, a pose that step keys hold is to stand for four frames, as those beside it do. Where the hips and two of these parts are in it on the same frames, it is told as one of the body.",
  fix: "Hold the pose for some frames more: leave it later, and take the frames from the hold that follows.",
  notAFault: [
    "a chain of moves: the pose before it, or the one behind it, is as short, as in all that a person does who was recorded",
    "a wind-up, or a settle: one move is at most half of the other, which goes back over it",
    "a hand that comes back to where it was, within a quarter of its way: a wave, a toss, a beat of speech. One that goes out twice the least in the world, and comes back there no quicker than it went, is to show its pose",
    "a head that keeps looking where it looked while the chest turns under it, and a hand that stays in its place",
    "a stop on the way of a move that goes on within 45° of its direction, which is a hitch or a hold",
    "what is out and back within half a second, such as a blow or a nod",
    "a hand that touches, takes or lets go of something in its pose, or on which the body walks",
    "a body in the air",
    "a part on twos, and poses that step keys cut, but in blocked work",
    "in blocked work, a pose on the way: the next one is farther from the one before than either step is long",
  ],
  limits: [
    "What a pose tells is not known: a swing that means nothing, between two holds, is taken for one.",
    "Poses of legs are not looked at, nor those of a whole body but by its hands and head in blocked work.",
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
    ofBodies(
      study,
      figure,
      partsOf(study, figure, values.same).flatMap((part) => findingsOn(study, figure, part, values)),
    ),
  word({ numbers, from, to }, words) {
    const { stands, needed, turns, body } = numbers;
    const more = needed - stands;
    return {
      message: `${body === 1 ? "the body" : words.part} ${turns > body ? "turns" : "goes"} to a pose and leaves it again in ${words.span(from, to)}: it stands for ${words.frames(stands)}, where such a pose is read in ${words.frames(needed)}`,
      suggestion: `hold the pose ${words.frames(more)} longer, and take them from the hold behind it`,
    };
  },
});

function findingsOn(study: Study, figure: number, part: Part, values: Values): ShortPoseFinding[] {
  const { node, turns, near } = part;
  const { count } = gridOf(study);
  const { position, orientation } = worldOf(study, node);
  const apart = apartIn(study, part, turns ? orientation : position);
  const inWorld = apartInWorld(study, part);
  const steps = floats(count);
  for (let i = 1; i < count; i++) steps[i] = apart(i - 1, i);
  const least = 2 * (turns ? restTurnOf(study) : restFloorOf(study, node));
  const way = turns ? values.turn : values.way;
  // Frames are whole.
  const [read, beat] = [values.reading, values.beat].map((frames) => Math.floor(frames + 0.01));
  const moves = onTwosOf(study, node) <= 1;
  return shownPoses(steps, least).flatMap((shown) => {
    const { at, sets, arrives } = shown;
    const drawn = isDrawn(study, node, shown);
    if (!drawn && (!moves || arrives - sets < values.whole)) return [];
    const [first, last] = drawn ? [shown.into - 1, shown.out] : [Math.floor(sets), Math.ceil(arrives)];
    const [into, out, whole] = [apart(first, at), apart(at, last), apart(first, last)];
    // A head that keeps looking where it looked shows no pose, however the chest turns under it.
    const inBoth = Math.min(into, out, inWorld(first, at), inWorld(at, last));
    if (inBoth < way) return [];
    // How long a drawing of blocked work stands is not settled yet, but that it is there for a beat.
    const needed = drawn || inBoth < values.large * way ? beat : read;
    const stay = stayAround(apart, at, count, near);
    if (framesIn(stay) >= needed) return [];
    // What never stands speaks by its moves: a pose is one among poses that do.
    const stands = (from: number, to: number) => {
      const [lo, hi] = [Math.max(1, Math.ceil(from)), Math.min(count - 1, Math.floor(to))];
      let slowest = lo;
      for (let i = lo; i <= hi; i++) if (steps[i] < steps[slowest]) slowest = i;
      return lo <= hi && framesIn(stayAround(apart, slowest, count, near)) >= (drawn ? beat : read);
    };
    if (!stands(sets - shown.before, sets) || !stands(arrives, arrives + shown.after)) return [];
    if (!drawn && isCutBetween(cutsOf(study, node), first, last)) return [];
    const excuse = excuseOf(study, figure, part, shown, {
      ...{ into, out, whole, drawn },
      isGesture:
        isGesture(inWorld, [first, at, last], values.large * way) && steps[shown.out] <= steps[shown.into],
    });
    if (excuse !== null) {
      excused(node, Math.ceil(stay.from), Math.floor(stay.to), excuse);
      return [];
    }
    return [findingOf(study, figure, part, shown, stay, needed, Math.min(into, out), drawn)];
  });
}

/** Whether moves are there to be judged: what eases are still to come tells nothing, unless the check is asked for. */
const isEased = (study: Study, { into, out }: Shown): boolean =>
  settingsOf(study).checks.get("short-pose")?.isAsked === true || isReachedAt(study, "splining", into, out);

/**
 * Whether a pose is one drawing: a step key leads from a pose that is held to it, it is held, and a step key leads on. On
 * the way of blocked work alone: where drawings follow each other on twos, a style tells how long each of them stands.
 */
function isDrawn(study: Study, node: number, { into, out }: Shown): boolean {
  if (out - into < 2 || isReachedAt(study, "splining", into, out)) return false;
  const held = heldOf(study, node);
  if (held[into - 1] !== 1 || held[into] === 1 || held[out] === 1) return false;
  for (let i = into + 1; i < out; i++) if (held[i] !== 1) return false;
  return true;
}

/** Ways of a part to a pose, away from it, and from where it was to where it ends up. */
interface Ways {
  readonly into: number;
  readonly out: number;
  readonly whole: number;
  readonly drawn: boolean;
  /** Whether it goes out so far that it tells something, and comes back no quicker, with the body where it was. */
  readonly isGesture: boolean;
}

/** Whether a part goes out so far in the world, and comes back there: what a body carries on as it walks does not. */
function isGesture(
  inWorld: Apart,
  [first, at, last]: readonly [number, number, number],
  large: number,
): boolean {
  const shorter = Math.min(inWorld(first, at), inWorld(at, last));
  return shorter >= large && inWorld(first, last) <= back * shorter;
}

/** Why a pose may be short; null where nothing says so. */
function excuseOf(
  study: Study,
  figure: number,
  { node, turns }: Part,
  shown: Shown,
  { into, out, whole, drawn, isGesture }: Ways,
): string | null {
  const { into: first, out: last } = shown;
  if (!drawn && !isEased(study, shown)) return "the work is blocked there, and its eases are still to come";
  if (Math.min(into, out) <= small * Math.max(into, out) && whole < Math.max(into, out))
    return "one of the moves is the wind-up or the settle of the other";
  if (!turns && !isGesture && whole <= back * Math.min(into, out))
    return "the hand swings out, and back to where it was";
  if (drawn ? whole >= Math.max(into, out) : whole >= onward * (into + out))
    return "the move goes on in its direction: it stands on its way";
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
  drawn: boolean,
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
    numbers: { stands, needed, carrier, turns: turns ? 1 : 0, drawn: drawn ? 1 : 0, body: 0 },
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
