// @ts-check
/**
 * Bodies that stand where they would fall.
 * @import { Body, FaultKind, Limb, Performance, Place, Vector } from "../types.d.ts"
 */
import { cross, multiply, rotate, subtract, toAngles } from "../../../../demo/motion/vector.mjs";
import { channelAt, copy, massCentreAt, trackOf, worldAt } from "../motion/index.mjs";
import { fitting } from "./tools/fitting.mjs";
import {
  bodyOf,
  contactPoints,
  contactPointsAt,
  endOf,
  eventsOf,
  holding,
  isBlocked,
  isPosedIn,
  jointOf,
  keepEnds,
  lengthOf,
  meets,
} from "./tools/limbs.mjs";
import { median, over, within } from "./tools/windows.mjs";

/** @typedef {Place & { limbs: number[], toward: Vector }} Stand `toward`: level unit direction of the lean */

/** @param {readonly Vector[]} points @param {Vector} toward */
const reach = (points, [x, , z]) => Math.max(...points.map((point) => point[0] * x + point[2] * z));
/** @param {Vector} point @param {Vector} toward */
const along = (point, toward) => reach([point], toward);

/**
 * Breadth of a sole as a share of its length: a person's 0.055 over 0.152 body heights (Drillis & Contini 1966); prints of
 * paws, hooves and birds' feet are about as broad as they are long (common knowledge).
 * @param {Body} body
 */
const breadthOf = ({ plan }) => (plan === "two legs" || plan === "puppet" ? 0.055 / 0.152 : 0.9);

/**
 * Corners of what limbs stand on: heels and toes are points on the line through a sole, which is as broad on each side.
 * @param {Body} body @param {readonly number[]} limbs @param {(limb: Limb) => Vector[]} pointsOf from heel to toe
 * @returns {Vector[]}
 */
function cornersOf(body, limbs, pointsOf) {
  return limbs.flatMap((n) => {
    const points = pointsOf(body.limbs[n]);
    const [heel, toe] = [points[0], points[points.length - 1]];
    const half = breadthOf(body) / 2;
    const [x, z] = [half * (toe[2] - heel[2]), half * (heel[0] - toe[0])];
    return points.flatMap((point) => [
      /** @type {Vector} */ ([point[0] + x, point[1], point[2] + z]),
      /** @type {Vector} */ ([point[0] - x, point[1], point[2] - z]),
    ]);
  });
}

/** @type {FaultKind} */
export const offBalance = {
  name: "off balance",
  checks: ["off-balance"],
  unit: "statures by which the centre of mass stands outside the feet",
  sizes: [
    {
      value: 0.015,
      reason:
        "2.5 cm on a grown person: just over the 2 cm by which the ankles of a standing leg catch the body (Hof, Vermerris and Gjaltema 2010).",
    },
    { value: 0.035, reason: "6 cm: only a step would catch it, and none comes." },
    {
      value: 0.065,
      reason: "11 cm, a quarter of a stride's support, held for a second: the figure hangs in the air.",
    },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    const { rate } = performance;
    /** @type {Place[]} */
    const places = [];
    for (const { id: figure, body } of performance.figures) {
      if (performance.medium === "water") continue;
      for (let from = performance.first; from + 1.2 * rate <= performance.last; from += Math.round(rate)) {
        const to = Math.min(performance.last, Math.round(from + random.between(1.2, 2.2) * rate));
        const found = standAt(performance, figure, from, to, random);
        if (found === null) continue;
        // Of a blocked shot only its poses are seen: one has to stand where the lean is whole.
        if (isBlocked(clean) && !isPosedIn(clean, body.root, from + 0.32 * (to - from), (from + to) / 2))
          continue;
        const { limbs, toward, feet } = found;
        places.push({ figure, joint: body.root, also: [...body.trunk, ...feet], from, to, limbs, toward });
      }
    }
    return fitting(performance, random.shuffled(places), offBalance, random);
  },
  perform(performance, place, size) {
    const { figure, from, to, limbs, toward } = /** @type {Stand} */ (place);
    const body = bodyOf(performance, figure);
    const before = copy(performance);
    const edge = Math.min(0.4 * performance.rate, (to - from) / 3.2);
    const middle = Math.round((from + to) / 2);
    const points = cornersOf(body, limbs, (limb) => contactPointsAt(before, limb, middle));
    const pivot = /** @type {Vector} */ (
      [0, 1, 2].map((axis) => points.reduce((sum, point) => sum + point[axis], 0) / points.length)
    );
    const wanted = reach(points, toward) + size * body.stature;
    const lean = (/** @type {number} */ angle, /** @type {number} */ first, /** @type {number} */ last) => {
      const { root } = body;
      for (
        let frame = Math.max(performance.first, first);
        frame <= Math.min(performance.last, last);
        frame++
      ) {
        const by = angle * within(frame, from, from + edge, to - edge, to);
        if (by !== 0) tip(performance, before, root, frame, pivot, toward, by);
        if (by !== 0) lowerIntoReach(performance, before, figure, limbs, frame);
      }
      keepEnds(performance, before, figure, first, last);
    };
    // The angle by which the centre of mass comes out as far as wanted: a few steps of the secant.
    const height = massCentreAt(before, figure, middle)[1] - pivot[1];
    const start = along(massCentreAt(before, figure, middle), toward);
    let angle = Math.asin(Math.min(0.9, (wanted - start) / height));
    for (let n = 0; n < 4; n++) {
      lean(angle, middle, middle);
      const moved = along(massCentreAt(performance, figure, middle), toward) - start;
      if (moved > 1e-6) angle = Math.min(0.9, (angle * (wanted - start)) / moved);
    }
    lean(angle, Math.ceil(from), Math.floor(to));
  },
  measure(poses, place) {
    const { figure, from, to, limbs, toward } = /** @type {Stand} */ (place);
    const body = bodyOf(poses.performance, figure);
    const third = (to - from) / 3;
    const outside = over(from + third, to - third, (frame) => {
      const points = cornersOf(body, limbs, (limb) => contactPoints(poses, limb, frame));
      return along(poses.massCentre(figure, frame), toward) - reach(points, toward);
    });
    return Math.max(0, median(outside)) / body.stature;
  },
};

/**
 * Limbs that stand through these frames and a direction in which the body may lean out; null where it steps, holds on or
 * where no direction is near enough.
 * @param {Performance} performance @param {string} figure @param {number} from @param {number} to
 * @param {import("../types.d.ts").Random} random
 */
function standAt(performance, figure, from, to, random) {
  const body = bodyOf(performance, figure);
  const { first, last, rate } = performance;
  const standing = eventsOf(performance, "plant", figure).filter((plant) => meets(plant, from, to));
  const soon = 0.5 * rate;
  const steps = standing.some(
    (plant) => (plant.from > from && plant.from > first) || (plant.to < to + soon && plant.to < last),
  );
  const limbs = [...new Set(standing.map(({ limb }) => limb))];
  const legs = limbs.every((n) => body.limbs[n].kind === "leg");
  if (steps || !legs || limbs.length === 0 || holding(performance, figure, from, to).length > 0) return null;
  const middle = Math.round((from + to) / 2);
  const points = cornersOf(body, limbs, (limb) => contactPointsAt(performance, limb, middle));
  const centre = massCentreAt(performance, figure, middle);
  const directions = over(0, 7, (n) => {
    const turn = (n * Math.PI) / 4;
    const toward = /** @type {Vector} */ ([Math.sin(turn), 0, Math.cos(turn)]);
    return { toward, margin: reach(points, toward) - along(centre, toward) };
  });
  const near = directions.filter(({ margin }) => margin > 0 && margin < 0.14 * body.stature);
  // A body that sits or lies low has its weight on something else.
  if (near.length === 0 || centre[1] - performance.ground.height < 0.35 * body.stature) return null;
  const { toward } = random.pick(near.sort((a, b) => a.margin - b.margin).slice(0, 4));
  return { limbs, toward, feet: limbs.map((n) => endOf(body.limbs[n])) };
}

/** Tips the root over about a point on the ground. @param {Performance} performance @param {Performance} before
 * @param {string} root @param {number} frame @param {Vector} pivot @param {Vector} toward @param {number} angle radians */
function tip(performance, before, root, frame, pivot, toward, angle) {
  const { position, quaternion } = worldAt(before, root, frame);
  const axis = cross([0, 1, 0], toward);
  const half = Math.sin(angle / 2);
  const turn = [axis[0] * half, axis[1] * half, axis[2] * half, Math.cos(angle / 2)];
  const from = rotate(turn, subtract(position, pivot));
  const joint = jointOf(before, root);
  const known = /** @type {const} */ (["x", "y", "z"]).map((axis) =>
    channelAt(before, root, `rotation.${axis}`, frame),
  );
  const angles = toAngles(joint.order, multiply(turn, [...quaternion]), known);
  /** @type {const} */ (["x", "y", "z"]).forEach((axis, n) => {
    trackOf(performance, root, `translation.${axis}`)[frame - performance.first] = pivot[n] + from[n];
    trackOf(performance, root, `rotation.${axis}`)[frame - performance.first] = angles[n];
  });
}

/** Lowers the root until no standing leg has to be longer than it was, or than nearly straight.
 * @param {Performance} performance @param {Performance} before @param {string} figure
 * @param {readonly number[]} limbs @param {number} frame */
function lowerIntoReach(performance, before, figure, limbs, frame) {
  const body = bodyOf(performance, figure);
  const height = trackOf(performance, body.root, "translation.y");
  for (let n = 0; n < 12; n++) {
    let over = 0;
    for (const limb of limbs) {
      const { joints } = body.limbs[limb];
      const end = worldAt(before, endOf(body.limbs[limb]), frame).position;
      const gap = (/** @type {Performance} */ table) =>
        Math.hypot(...subtract([...worldAt(table, joints[0], frame).position], [...end]));
      const most = Math.max(gap(before), 0.995 * lengthOf(body.limbs[limb], before));
      over = Math.max(over, gap(performance) - most);
    }
    if (over < 1e-5) return;
    height[frame - performance.first] -= 1.15 * over;
  }
}
