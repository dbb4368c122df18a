/** Faults of spacing and timing. */
import { curveAt, onCurve, put, rekeyed } from "../keyed.mjs";
import {
  below,
  changes,
  curvesOf,
  facts,
  nearContact,
  nearImpact,
  ownMoves,
  ownTurn,
  standsAt,
  stepOf,
  turningNodes,
  turnOf,
} from "./places.mjs";
import { relegged } from "./relegged.mjs";
import { delayed, paced, shareAt } from "./retime.mjs";

const degrees = 180 / Math.PI;

/** Truth of a fault that was put into one node's keys. */
export function truthAt(base, id, channels, from, to, keysFrom = from, keysTo = to) {
  return {
    from,
    to,
    nodes: below(base, id),
    keys: { nodes: new Set([id]), channels, from: keysFrom, to: keysTo },
  };
}

/** Truth of a fault that holds for the shot as a whole, so that its first and last frame say nothing. */
export const timeless = (truth) => ({ ...truth, timeless: true });

/** One value off: a key that belongs to another pose. */
function offKey(base, curve, frame, by) {
  if (base.kind !== "keyed") return rekeyedOne(curve, frame, by);
  const [a, b, c] = [frame - 1, frame, frame + 1].map((f) => onCurve(curve, f));
  return put(curve, a, { ...b, value: b.value + by, slope: 0 }, c);
}

function rekeyedOne(curve, frame, by) {
  return {
    ...curve,
    keys: curve.keys.map((key) => (key.frame === frame ? { ...key, value: key.value + by } : key)),
  };
}

/** Share of a part's own spacing under which the page of `pop` takes a deviation for lost in the movement. */
const lostShare = 0.2;

export const pop = {
  check: "pop",
  strengths: [5, 8, 15, 30],
  unit: "° of one joint, or as many twelfths of 1 % of the body's height at the root",
  place(base, random) {
    const { rig, first, last, stature } = facts(base);
    const frame = random.whole(first + 6, last - 6);
    const roots = [...base.curves.values()].filter((c) => c.channel.startsWith("translation") && changes(c));
    if (roots.length > 0 && random.next() < 0.15) {
      const curve = random.pick(roots);
      const unit = unitOf(base);
      const off = (0.01 * stature) / 12;
      const spacing = stepOf(base, rig.indexOf.get(curve.node), frame);
      if (this.strengths[0] * off < lostShare * spacing) return null;
      return nearImpact(base, curve.node, frame)
        ? null
        : { curve, frame, scale: (random.sign() * off) / unit };
    }
    const id = random.pick(turningNodes(base));
    const curve = random.pick(curvesOf(base, id, "rotation"));
    const turn = turnOf(base, rig.indexOf.get(id), frame) * degrees;
    if (this.strengths[0] < lostShare * turn) return null;
    return nearImpact(base, id, frame) ? null : { curve, frame, scale: random.sign() };
  },
  inject(base, { curve, frame, scale }, strength) {
    return {
      curves: [offKey(base, curve, frame, scale * strength)],
      truth: truthAt(base, curve.node, exactly(curve), frame, frame),
    };
  },
};

export const exactly = ({ channel }) => new RegExp(`^${channel.replace(".", "\\.")}$`);
const rotations = /^rotation/;

/** Metres per unit of a base's document. */
export function unitOf(base) {
  return base.shot.header.space?.metresPerUnit ?? 1;
}

/**
 * A frame in the middle of a move that a joint makes by itself, or the root of a figure with all that it carries, in
 * which what hangs on it travels well.
 */
export function inMove(base, random, reach, leastStep, evenness = Infinity) {
  const { rig, stature, first, last } = facts(base);
  const id = random.pick(turningNodes(base));
  const node = rig.indexOf.get(id);
  const parent = rig.parent[node];
  const moving = curvesOf(base, id, "translation").some(changes);
  if (parent >= 0 && moving) return null;
  const curves = [...curvesOf(base, id, "rotation"), ...curvesOf(base, id, "translation")];
  const frame = random.whole(first + reach + 4, last - reach - 4);
  const child = moving ? node : farthestChild(base, node, frame);
  const steps = Array.from({ length: 2 * reach + 1 }, (_, i) => stepOf(base, child, frame - reach + i));
  if (Math.max(...steps) > evenness * Math.min(...steps)) return null;
  for (let f = frame - reach; f <= frame + reach; f++) {
    if (stepOf(base, child, f) < leastStep * stature) return null;
    if (moving) continue;
    if (parent >= 0 && turnOf(base, parent, f) > (0.2 * ownTurn(curves, f - 1, f)) / degrees) return null;
    if (stepOf(base, node, f) > 0.3 * stepOf(base, child, f)) return null;
  }
  if (moving && nearContact(base, id, frame)) return null;
  // Feet that stand under a root have to be solved again for it; where they cannot be, they would be torn off the ground.
  if (moving && base.act === null && standsAt(base, id, frame)) return null;
  return nearImpact(base, id, frame, reach) ? null : { id, frame, curves, child, moving };
}

/** Curves of a place that were changed; the legs are solved again under a root that was. */
function stood(base, { moving }, curves, from, to) {
  return moving && base.act !== null ? relegged(base, curves, { from, to }) : curves;
}

function farthestChild(base, node, frame) {
  const { children } = facts(base).rig;
  return children[node].reduce((far, one) =>
    stepOf(base, one, frame) > stepOf(base, far, frame) ? one : far,
  );
}

export const hitch = {
  check: "hitch",
  strengths: [0.8, 0.9, 1, 2],
  unit: "of a frame's travel that is missing (2: two frames stand still)",
  // The steps around a hitch have to be alike within a factor of two.
  place: (base, random) => inMove(base, random, 3, 0.006, 2),
  inject(base, place, strength) {
    const { id, frame, curves } = place;
    const late =
      strength > 1 ? [1, 2, 1.3, 0.8, 0.4, 0.1] : [1, 0.62, 0.36, 0.14].map((part) => part * strength);
    const to = frame + late.length - 1;
    const stands = strength > 1 ? 2 : 1;
    const changed = delayed(curves, frame, to, (f) => late[Math.round(f) - frame] ?? 0);
    return {
      curves: stood(base, place, changed, frame - 1, to),
      truth: truthAt(base, id, undefined, frame, frame + stands - 1, frame - 1, frame + stands),
    };
  },
};

/** A move of a joint from rest to rest, or the end of one, with nothing else moving what hangs on it there. */
function restedMove(base, random, { end = null, shortest = 7 }) {
  const { rig, stature, first, last } = facts(base);
  const id = random.pick(turningNodes(base));
  const node = rig.indexOf.get(id);
  const curves = curvesOf(base, id, "rotation");
  const moves = ownMoves(base, id).filter(
    ({ from, to, travel }) => to - from >= shortest && from > first + 4 && to < last - 4 && travel > 8,
  );
  if (moves.length === 0) return null;
  const move = random.pick(moves);
  const child = rig.children[node][0];
  // Fast enough to be judged: 0.15 body heights per second, with some to spare.
  if (stepOf(base, child, move.peak) * 24 < 0.25 * stature) return null;
  const still = 0.0012 * stature;
  const ends =
    end === null
      ? [move.from - 2, move.from - 1, move.from, move.to + 1, move.to + 2, move.to + 3]
      : end > 0
        ? [move.to + 1, move.to + 2, move.to + 3]
        : [move.from - 2, move.from - 1, move.from];
  if (ends.some((f) => stepOf(base, child, f) > still || stepOf(base, node, f) > still)) return null;
  for (let f = move.from + 1; f <= move.to; f++) {
    if (stepOf(base, node, f) > 0.35 * stepOf(base, child, move.peak)) return null;
  }
  return nearImpact(base, id, end === -1 ? move.from : move.to, 4) ? null : { id, curves, move };
}

/**
 * The end of a move made short: full speed up to a slowing-down that takes only a share of the frames it took. The
 * fault's frames are those between which the joint slows: from the frame nearest to where it begins to, to the one on
 * which it rests. Where that takes less than half a frame, the joint stops on one frame.
 * @param {1 | -1} end 1: how it stops, -1: how it starts
 */
function hardened({ curves, move }, share, end) {
  const { from, to } = move;
  const gone = shareAt(curves, from, to);
  const way = (u) => (end > 0 ? gone(from + u) : 1 - gone(to - u));
  const length = to - from;
  const peak = end > 0 ? move.peak - from : length - (move.peak - from) + 1;
  const left = 1 - way(peak);
  const speed = way(peak) - way(peak - 1);
  // The joint comes to rest on a frame, not between two: until then it goes on at its peak speed or a little under it.
  const slow = share * (length - peak);
  const even = Math.max(1, Math.ceil(((1 - share) * left) / speed + slow)) - slow;
  const slowing = share * (length - peak);
  const at = (u) => {
    if (u <= peak) return way(u);
    if (u < peak + even) return way(peak) + ((1 - share) * left * (u - peak)) / even;
    if (slowing === 0) return 1;
    const w = Math.min(length, peak + (u - peak - even) / share);
    return way(peak) + (1 - share) * left + share * (way(w) - way(peak));
  };
  const stops = Math.min(length, Math.ceil(peak + even + slowing - 1e-6));
  const fast = Math.round(peak + even);
  return end > 0
    ? { curves: paced(curves, from, to, (f) => at(f - from)), from: from + fast, to: from + stops }
    : { curves: paced(curves, from, to, (f) => 1 - at(to - f)), from: to - stops, to: to - fast };
}

const hardEnd = (check, end) => ({
  check,
  // An eased end takes three or four frames from 80 % to 10 % of the speed here, and 0.4 of them is the floor: about
  // what is left where an eighth of the frames are.
  strengths: [0.12, 0.08, 0.03, 0],
  unit: `of the frames that the ${end > 0 ? "stop" : "start"} took`,
  place: (base, random) => restedMove(base, random, { end }),
  inject(base, place, share) {
    const hard = hardened(place, share, end);
    return {
      curves: hard.curves,
      truth: truthAt(base, place.id, rotations, hard.from, hard.to, hard.from - 1, hard.to + 1),
    };
  },
});
export const hardStop = hardEnd("hard-stop", 1);
export const hardStart = hardEnd("hard-start", -1);

export const spacingJump = {
  check: "spacing-jump",
  strengths: [2.6, 3.3, 4.5, 6],
  unit: "times the spacing, from one frame to the next",
  place(base, random) {
    const place = inMove(base, random, 6, 0.003, 3);
    return place === null ? null : { ...place, faster: random.next() < 0.5 };
  },
  inject(base, place, ratio) {
    const { id, frame, curves, faster } = place;
    // Steps before the jump shrink (or grow) over three frames, stay so for three; those after mirror them.
    const gone = (low) => {
      const steps = [1 + (low - 1) / 4, 1 + (low - 1) / 2, 1 + (3 * (low - 1)) / 4, low, low, low];
      const high = low * ratio;
      return [...steps, high, high, high, 1 + (3 * (high - 1)) / 4, 1 + (high - 1) / 2, 1 + (high - 1) / 4];
    };
    let [a, b] = [0.05, 1];
    for (let i = 0; i < 40; i++) {
      const middle = (a + b) / 2;
      if (gone(middle).reduce((sum, step) => sum + step) < 12) a = middle;
      else b = middle;
    }
    const steps = gone(a);
    if (!faster) steps.reverse();
    const times = [frame - 6];
    for (const step of steps) times.push(times[times.length - 1] + step);
    const changed = curves.map((curve) =>
      rekeyed(curve, frame - 6, frame + 6, (f) =>
        curveAt(curve, times[Math.max(0, Math.min(12, Math.round(f) - frame + 6))]),
      ),
    );
    return {
      curves: stood(base, place, changed, frame - 6, frame + 6),
      truth: truthAt(base, id, undefined, frame, frame, frame - 1, frame + 1),
    };
  },
};

export const evenSpacing = {
  check: "even-spacing",
  strengths: [0.07, 0.05, 0.02, 0],
  unit: "variation of the spacing that is left",
  place: (base, random) => restedMove(base, random, { shortest: 8 }),
  inject(base, { id, curves, move: { from, to } }, variation) {
    const gone = shareAt(curves, from, to);
    // A minimum-jerk move varies by 0.65 over its length.
    const eased = variation / 0.65;
    const even = (f) => (f - from) / (to - from);
    return {
      curves: paced(curves, from, to, (f) => (1 - eased) * even(f) + eased * gone(f)),
      truth: truthAt(base, id, rotations, from, to, from - 1, to + 1),
    };
  },
};
