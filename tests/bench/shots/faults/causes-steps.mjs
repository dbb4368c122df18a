// @ts-check
/**
 * Feet that do as each other does: both leave, and both come down, on one frame.
 * @import { FaultKind, KeyedShot, Limb, Performance, Place, Poses } from "../types.d.ts"
 */
import { copy, resolve, worldAt } from "../motion/index.mjs";
import { fitting } from "./tools/fitting.mjs";
import { bodyOf, contactPoints, contactPointsAt, endOf, eventsOf, isBlocked, meets } from "./tools/limbs.mjs";
import { at24 } from "./tools/windows.mjs";

/**
 * Two feet that step: the one that is moved in time, the other one, and both steps' frames.
 * @typedef {Place & { limb: number, other: number, own: readonly [number, number], its: readonly [number, number],
 *   stands: readonly [number, number] }} StepsPlace `stands`: frames before and after, on which both stand
 */

/** How far each point of a foot is from where it stands on a frame, the nearest one, metres.
 * @param {(frame: number) => readonly (readonly number[])[]} points @param {number} stands */
function away(points, stands) {
  const there = points(stands);
  return (/** @type {number} */ frame) =>
    Math.min(...points(frame).map((point, n) => Math.hypot(...point.map((value, k) => value - there[n][k]))));
}

/**
 * When a foot leaves its place and when it comes to the next one, between frames.
 * @param {(frame: number) => readonly (readonly number[])[]} points @param {readonly [number, number]} stands frames before and after, on which it
 *   surely stands @param {number} near metres @param {readonly [number, number]} range frames that there are
 * @returns {[leaves: number, comes: number]}
 */
function momentsOf(points, [from, to], near, [first, last]) {
  const crossing = (/** @type {number} */ stands, /** @type {1 | -1} */ step) => {
    const gone = away(points, stands);
    let before = 0;
    for (let frame = stands + step; frame >= first && frame <= last; frame += step) {
      const now = gone(frame);
      if (now >= near) return frame - step + (step * (near - before)) / (now - before);
      before = now;
    }
    return stands;
  };
  return [crossing(Math.max(first, from), 1), crossing(Math.min(last, to), -1)];
}

/** Frames at 24 per second by which two feet are apart when they count as stepping one after the other. */
const distinct = 2;

/** Up to this much of being together, two steps are clearly apart, however they are keyed: half of what a twin may show. */
const clearlyApart = 0.15;

/** Moments of both feet of a place. @param {(limb: Limb, frame: number) => readonly (readonly number[])[]} points
 * @param {Performance} performance @param {StepsPlace} place */
function momentsBy(points, performance, { figure, limb, other, stands }) {
  const { limbs, stature } = bodyOf(performance, figure);
  return [limb, other].map((n) =>
    momentsOf((frame) => points(limbs[n], frame), stands, 0.012 * stature, [
      performance.first,
      performance.last,
    ]),
  );
}

/** @param {Performance} performance @param {StepsPlace} place */
const momentsOn = (performance, place) =>
  momentsBy((limb, frame) => contactPointsAt(performance, limb, frame), performance, place);

/**
 * How nearly two feet leave, and come down, on one frame: 1 on the same, 0 where they are two frames apart.
 * @param {readonly (readonly number[])[]} moments of both feet @param {number} rate
 */
function together([mine, its], rate) {
  const near = [0, 1].map((end) => Math.max(0, 1 - (Math.abs(mine[end] - its[end]) * 24) / rate / distinct));
  return (near[0] + near[1]) / 2;
}

/** Frames before and after two steps on which both feet stand. */
const apart = 6;

/** Steps of two feet of a pair, one after the other: of jumps, and on the spot. @param {KeyedShot} clean @returns {StepsPlace[]} */
function stepPairs({ performance }) {
  const { first, last } = performance;
  return performance.figures.flatMap(({ id: figure, body }) => {
    const gaits = eventsOf(performance, "gait", figure);
    const swings = eventsOf(performance, "swing", figure).filter(
      ({ limb, from, to }) =>
        body.limbs[limb].kind === "leg" &&
        from > first + 8 &&
        to < last - 8 &&
        !gaits.some((gait) => meets(gait, from, to)),
    );
    return swings.flatMap((a) =>
      swings.flatMap((b) => {
        // The later one of a pair is the one that is moved.
        const [mine, its] = [body.limbs[a.limb], body.limbs[b.limb]];
        const isPair = mine.side !== its.side && mine.girdle === its.girdle && a.from + a.to > b.from + b.to;
        if (!isPair || b.to < a.from - at24(performance, 12)) return [];
        const [from, to] = [Math.min(a.from, b.from), Math.max(a.to, b.to)];
        const others = eventsOf(performance, "swing", figure).filter(
          (one) => (one.limb === a.limb || one.limb === b.limb) && one !== a && one !== b,
        );
        if (others.some((one) => meets(one, from - apart, to + apart))) return [];
        const joint = endOf(mine);
        const also = [...mine.joints, endOf(its)].filter((one) => one !== joint);
        return [
          {
            figure,
            joint,
            also,
            from,
            to,
            stands: /** @type {const} */ ([from - apart, to + apart]),
            limb: a.limb,
            other: b.limb,
            own: /** @type {const} */ ([a.from, a.to]),
            its: /** @type {const} */ ([b.from, b.to]),
            freed: [a.limb, b.limb],
            quick: true,
          },
        ];
      }),
    );
  });
}

/**
 * A limb steps at other times, on its own way.
 * @param {Performance} performance changed in place @param {Performance} before @param {string} figure @param {number} limb
 * @param {readonly [number, number]} own when it left and came down @param {readonly [number, number]} now when it is to
 * @param {readonly [number, number]} range frames that may change
 */
function stepAt(performance, before, figure, limb, own, [leaves, comes], range) {
  const course = (/** @type {number} */ frame) =>
    frame <= leaves
      ? Math.min(frame, own[0])
      : frame >= comes
        ? Math.max(frame, own[1])
        : own[0] + ((frame - leaves) * (own[1] - own[0])) / (comes - leaves);
  const end = endOf(bodyOf(performance, figure).limbs[limb]);
  resolve(performance, before, figure, limb, range[0], range[1], (frame) => {
    const at = course(frame);
    const i = Math.floor(at);
    const [a, b] = [worldAt(before, end, i), worldAt(before, end, i + 1)];
    const share = at - i;
    const mixed = (/** @type {readonly number[]} */ p, /** @type {readonly number[]} */ q) =>
      p.map((value, k) => value + share * (q[k] - value));
    const near = a.quaternion.reduce((sum, value, k) => sum + value * b.quaternion[k], 0) < 0 ? -1 : 1;
    const turn = mixed(
      a.quaternion,
      b.quaternion.map((value) => near * value),
    );
    const length = Math.hypot(...turn);
    const [x, y, z] = mixed(a.position, b.position);
    const [i0, i1, i2, i3] = turn.map((value) => value / length);
    return { position: [x, y, z], quaternion: [i0, i1, i2, i3] };
  });
}

/**
 * When each of two feet is to leave and come down so that a gap is left between them.
 * @param {readonly [number, number]} mine @param {readonly [number, number]} its moments in the clean shot @param {number} gap frames
 * @returns {[[number, number], [number, number]]}
 */
function closer(mine, its, gap) {
  const off = (/** @type {0 | 1} */ end) => {
    const by = mine[end] - its[end];
    return Math.sign(by) * Math.min(Math.abs(by), gap);
  };
  // One step after the other: the second is put beside the first.
  if (mine[0] > its[1] || its[0] > mine[1]) {
    return [
      [its[0] + off(0), its[1] + off(1)],
      [its[0], its[1]],
    ];
  }
  // A jump: who leaves later leaves sooner, who lands sooner lands later, for there a leg is never too short.
  const leaves = mine[0] > its[0] ? [its[0] + off(0), its[0]] : [mine[0], mine[0] - off(0)];
  const comes = mine[1] < its[1] ? [its[1] + off(1), its[1]] : [mine[1], mine[1] - off(1)];
  return [
    [leaves[0], comes[0]],
    [leaves[1], comes[1]],
  ];
}

/** @type {FaultKind} */
export const mirroredSteps = {
  name: "mirrored steps",
  checks: ["mirrored-steps"],
  unit: "how nearly two feet leave and come down on one frame: 0 where they are two frames apart, at 24 per second",
  sizes: [
    {
      value: 0.6,
      reason:
        "Within one frame of each other: who steps through it sees them leave and land as one (common practice: offset by one to three frames).",
    },
    { value: 0.8, reason: "Less than half a frame: at speed there is one step of two feet." },
    {
      value: 1,
      reason: "Both feet leave on one frame and land on one frame, as if one were copied from the other.",
    },
  ],
  layer: "motion",
  places(clean, random) {
    if (isBlocked(clean)) return [];
    const { performance } = clean;
    // Some legs are too short to be on the ground as soon as the other.
    const places = random.shuffled(stepPairs(clean)).filter((place) => {
      if (together(momentsOn(performance, place), performance.rate) > clearlyApart) return false;
      const tried = copy(performance);
      mirroredSteps.perform?.(tried, place, mirroredSteps.sizes[2].value, random);
      return together(momentsOn(tried, place), performance.rate) > 0.9;
    });
    return fitting(performance, places, mirroredSteps, random);
  },
  perform(performance, place, size) {
    const steps = /** @type {StepsPlace} */ (place);
    const { figure, limb, other, own, its } = steps;
    const before = copy(performance);
    const gap = at24(performance, distinct) * (1 - size);
    const usual = momentsOn(before, steps);
    const wanted = closer(usual[0], usual[1], gap);
    const swings = [own, its];
    /** @type {[number, number][]} */
    const now = swings.map((swing, n) => [
      swing[0] + wanted[n][0] - usual[n][0],
      swing[1] + wanted[n][1] - usual[n][1],
    ]);
    let best = { error: Number.POSITIVE_INFINITY, now };
    const put = (/** @type {[number, number][]} */ times) => {
      [limb, other].forEach((one, n) => {
        stepAt(performance, before, figure, one, swings[n], times[n], steps.stands);
      });
    };
    for (let round = 0; round < 4; round++) {
      put(now);
      // A slow lift shows later than it begins.
      const off = momentsOn(performance, steps).map((moments, n) =>
        moments.map((moment, end) => wanted[n][end] - moment),
      );
      const error = off.flat().reduce((sum, one) => sum + Math.abs(one), 0);
      if (error < best.error) best = { error, now: now.map(([a, b]) => [a, b]) };
      now.forEach((times, n) => {
        times[0] += 0.6 * off[n][0];
        times[1] += 0.6 * off[n][1];
      });
    }
    put(best.now);
  },
  measure(poses, place) {
    const { performance } = poses;
    const points = (/** @type {Limb} */ limb, /** @type {number} */ frame) =>
      contactPoints(poses, limb, frame);
    return together(momentsBy(points, performance, /** @type {StepsPlace} */ (place)), performance.rate);
  },
};
