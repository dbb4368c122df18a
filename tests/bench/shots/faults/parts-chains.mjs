// @ts-check
/**
 * Parts that are carried along stiffly: tails and hair, wrists, fingers.
 * @import { Body, FaultKind, Performance, Place, Poses, Size } from "../types.d.ts"
 */
import { bodyOf, eventsOf, isBlocked, isBusy } from "./tools/limbs.mjs";
import { rangeOf, swingOf, turnsIn, turnsOn } from "./tools/turning.mjs";
import { at24, calm, within } from "./tools/windows.mjs";

/** @typedef {Place & { stiff: string[], tip: string, base: string, wholly: { from: number, to: number } }} ChainPlace joints
 * that are stilled, wholly so over some frames; the last of them is measured against `base` there */

/** Frames at 24 per second over which a part stiffens, and is loose again. */
const ramp = 8;

/**
 * The frames of a part that is stiff over a window: those over which it stiffens and loosens are frames of the fault.
 * @param {Performance} performance @param {number} from @param {number} to
 */
function stiffFrames(performance, from, to) {
  const edge = at24(performance, ramp);
  return {
    from: Math.max(performance.first, Math.floor(from - edge)),
    to: Math.min(performance.last, Math.ceil(to + edge)),
    wholly: { from, to },
  };
}

/** @param {Performance} performance @param {Place} place @param {number} size */
function stiffen(performance, place, size) {
  const { stiff, wholly } = /** @type {ChainPlace} */ (place);
  const { from, to } = wholly;
  const edge = at24(performance, ramp);
  // It keeps to where it is as the window opens, so that nothing jumps.
  const keep = Math.max(performance.first, Math.round(from));
  calm(performance, stiff, keep, (frame) => size * within(frame, from - edge, from, to, to + edge));
}

/** Share of the swing that is missing. @param {Poses} poses @param {Place} place @param {Poses} twin */
function missing(poses, place, twin) {
  const { wholly, tip, base } = /** @type {ChainPlace} */ (place);
  const swing = (/** @type {Poses} */ shot) => swingOf(turnsIn(shot), tip, base, wholly.from, wholly.to);
  return Math.max(0, 1 - swing(poses) / (swing(twin) || 1));
}

/** Sizes of faults that take a share of an answer away. @param {string} barely @param {string} ordinary
 * @param {string} strong @returns {[Size, Size, Size]} */
export const shares = (barely, ordinary, strong) => [
  { value: 0.6, reason: barely },
  { value: 0.8, reason: ordinary },
  { value: 1, reason: strong },
];

/** Frames in which something of a figure moves, cut to two seconds at most. @param {Performance} performance
 * @param {string} figure @param {import("../types.d.ts").Random} random */
function movingParts(performance, figure, random) {
  const { rate } = performance;
  const moving = performance.events.filter(
    (event) =>
      event.kind !== "hold" &&
      event.kind !== "plant" &&
      event.kind !== "hold-prop" &&
      event.kind !== "landing" &&
      event.figure === figure,
  );
  return moving.flatMap((event) => {
    const { from, to } = /** @type {{ from: number, to: number }} */ (event);
    const last = Math.min(performance.last, Math.round(Math.max(to, from + 0.7 * rate)));
    const span = Math.min(last - from, Math.round(random.between(1, 2) * rate));
    const start = from + Math.round(random.next() * (last - from - span));
    return span < 0.6 * rate ? [] : [{ from: start, to: start + span }];
  });
}

/** @type {FaultKind} */
export const noDrag = {
  name: "no drag",
  checks: ["no-drag"],
  unit: "share of a loose part's swing against its base that is missing",
  sizes: shares(
    "Less than half of the swing is left where chains of 0.1 to 0.5 m swing at 0.7 to 2 Hz (√(g/L)): it looks stiff.",
    "A fifth is left, a tremble at the tip: it looks like wire.",
    "The part and its base are one piece.",
  ),
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    const turns = turnsOn(performance);
    /** @type {Place[]} */
    const places = [];
    for (const { id: figure, body } of performance.figures) {
      // A fish's tail and a snake's drive; they do not trail.
      const isDriven = body.plan === "fish" || body.plan === "no legs";
      const windows = random.shuffled(movingParts(performance, figure, random)).slice(0, 8);
      for (const limb of body.limbs) {
        const wing = limb.kind === "wing";
        if (limb.kind !== "loose" && !wing && !(limb.kind === "tail" && !isDriven)) continue;
        // A wing's root beats by itself; what lies beyond it trails.
        const stiff = wing ? limb.joints.slice(1) : [...limb.joints];
        if (stiff.length === 0) continue;
        const base = wing ? limb.joints[0] : limb.girdle;
        const tip = stiff[stiff.length - 1];
        for (const { from, to } of windows) {
          if (swingOf(turns, tip, base, from, to) < 2.5) continue;
          const frames = stiffFrames(performance, from, to);
          places.push({ figure, joint: stiff[0], also: [...limb.joints], ...frames, stiff, tip, base });
        }
      }
    }
    return random.shuffled(places);
  },
  perform: stiffen,
  measure: missing,
};

/** Moves of an arm, several in a row as one. @param {Performance} performance @param {string} figure @param {Body} body
 * @returns {{ limb: number, from: number, to: number }[]} */
export function armMoves(performance, figure, body) {
  const pause = at24(performance, 16);
  /** @type {{ limb: number, from: number, to: number }[]} */
  const merged = [];
  body.limbs.forEach((limb, n) => {
    if (limb.kind !== "arm") return;
    const own = eventsOf(performance, "move", figure)
      .filter((move) => move.limb === n || move.joints.includes(limb.joints[0]))
      .sort((a, b) => a.from - b.from);
    let last = null;
    for (const { from, to } of own) {
      // A pause within a gesture belongs to it.
      if (last !== null && from - last.to <= pause && to - last.from < 4 * performance.rate)
        last.to = Math.max(last.to, to);
      else {
        last = { limb: n, from, to };
        merged.push(last);
      }
    }
  });
  return merged;
}

/** @type {FaultKind} */
export const stillWrist = {
  name: "still wrist",
  checks: ["still-wrist"],
  unit: "share of the wrist's turning that is missing",
  sizes: shares(
    "Less than half of the wrist's drag and follow-through is left: the hand looks heavy.",
    "Hands trail the forearm in every loose sweep (common practice); a fifth of that is not seen.",
    "The hand is a paddle at the end of the forearm.",
  ),
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    const turns = turnsOn(performance);
    /** @type {Place[]} */
    const places = [];
    for (const { id: figure, body } of performance.figures) {
      for (const { limb: n, from, to } of armMoves(performance, figure, body)) {
        const { joints, girdle } = body.limbs[n];
        const [, forearm, hand] = joints;
        if (
          hand === undefined ||
          to - from < at24(performance, 7) ||
          isBusy(performance, figure, n, from, to)
        )
          continue;
        // There is a sweep, and the wrist answers it.
        if (rangeOf(turns, forearm, girdle, from, to) < 28 || swingOf(turns, hand, forearm, from, to) < 2.5)
          continue;
        places.push({
          figure,
          joint: hand,
          also: joints,
          ...stiffFrames(performance, from, to),
          limb: n,
          stiff: [hand],
          tip: hand,
          base: forearm,
        });
      }
    }
    return random.shuffled(places);
  },
  perform: stiffen,
  measure: missing,
};

/** @typedef {Place & { fingers: string[][], hand: string }} GripPlace */

/** Degrees by which fingers have turned over some frames, each link's greatest, summed. @param {import("./tools/turning.mjs").Turns} turns
 * @param {GripPlace} place @param {number} from @param {number} to */
const curlOf = (turns, { fingers, hand }, from, to) =>
  fingers.reduce(
    (sum, chain) =>
      sum +
      chain.reduce(
        (part, joint, n) => part + rangeOf(turns, joint, n === 0 ? hand : chain[n - 1], from, to),
        0,
      ),
    0,
  );

/** @type {FaultKind} */
export const stillFingers = {
  name: "still fingers",
  checks: ["still-fingers"],
  unit: "share of the fingers' curl that is missing as a hand takes hold",
  sizes: shares(
    "Less than half of the grip closes: the thing is not held, it sticks.",
    "Fingers that answer 60 to 80 ms after a load (Eliasson and others 1995) hardly move.",
    "An open hand carries the thing as a magnet would.",
  ),
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    const turns = turnsOn(performance);
    /** @type {Place[]} */
    const places = [];
    for (const hold of eventsOf(performance, "hold-prop")) {
      const body = bodyOf(performance, hold.figure);
      for (const n of hold.limbs) {
        const { fingers, joints } = body.limbs[n];
        if (fingers === undefined || fingers.length === 0) continue;
        const hand = joints[Math.min(2, joints.length - 1)];
        const from = Math.max(performance.first, Math.round(hold.from - at24(performance, 9)));
        const to = Math.min(performance.last, hold.to, Math.round(hold.from + at24(performance, 14)));
        const place = {
          figure: hold.figure,
          joint: hand,
          also: fingers.flat(),
          from,
          to,
          limb: n,
          hand,
          fingers: fingers.map((chain) => [...chain]),
          last: hold.to,
        };
        if (curlOf(turns, place, from, to) < 6 * fingers.flat().length) continue;
        places.push(place);
      }
    }
    return random.shuffled(places);
  },
  perform(performance, place, size) {
    const { fingers, from, last } = /** @type {GripPlace & { last: number }} */ (place);
    const edge = at24(performance, 8);
    calm(
      performance,
      fingers.flat(),
      from,
      (frame) => size * within(frame, from - 1, from, last, last + edge),
    );
  },
  measure(poses, place, twin) {
    const grip = /** @type {GripPlace} */ (place);
    const curl = (/** @type {Poses} */ shot) => curlOf(turnsIn(shot), grip, grip.from, grip.to);
    return Math.max(0, 1 - curl(poses) / (curl(twin) || 1));
  },
};
