// @ts-check
/**
 * From a score, feet and grips to poses: the root is moved until the centre of mass is where it is to be and no leg is
 * asked for more than it has, the feet stay on their places and the hands on theirs.
 */
import { add, fromAngles, mix, rotate, scale, subtract } from "../../../../../demo/motion/vector.mjs";
import { sides } from "../../bodies/two-legs.mjs";
import { armsOf, legsOf, trunkOf } from "./mass.mjs";
import { gripArm, placeLeg, turnsAt } from "./pose.mjs";

/** @import { Rig } from "../../bodies/two-legs.mjs" @import { Score } from "./score.mjs"
 * @import { Upright } from "./mass.mjs"
 * @import { FootState } from "./feet.mjs" @import { Grip, Place } from "./pose.mjs" */

/**
 * What moves a figure.
 * @typedef {object} Act
 * @property {Rig} rig @property {Score} score @property {number} lag see `turnsAt`
 * @property {Record<"l" | "r", (frame: number) => FootState>} feet
 * @property {Grip[]} grips
 * @property {{ weight: (frame: number) => number, at: (frame: number) => number[] }[]} seats places of the root, by weight
 * @property {{ share: (frame: number) => number, at: (frame: number, body: Place) => number[] }[]} loads carried masses
 *   as shares of the body's, and where they are
 */

/** @typedef {{ turns: Map<string, number[]>, hips: number[], stretch: number[], massCentre: number[] }} Solved */

/** The longest that a leg is asked to be, as a share of thigh and shin: no leg is locked straight. */
export const fullestLeg = 0.977;

/**
 * Solves all frames of a shot.
 * @param {Act} act @param {number} first @param {number} last
 * @returns {{ solved: Solved[], places: Place[] }} one per frame; the places are those on which grips and loads leant
 */
export function solveAct(act, first, last) {
  // Frames before and after are solved as well, so that smoothing sees no ends.
  const margin = 12;
  const from = first - margin;
  const count = last - first + 1 + 2 * margin;
  const dip = new Float64Array(count);
  const asked = Array.from({ length: count }, (_, i) => askedOf(act, from + i));
  /** @type {Solved[]} */
  let solved = [];
  /** @type {Place[]} */
  let places = [];
  /** @type {Place[]} */
  let leant = [];
  for (let pass = 0; pass < 4; pass++) {
    /** @type {Solved[]} */
    const next = [];
    const excess = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      const guess = solved[i]?.hips ?? next[i - 1]?.hips;
      next.push(solveFrame(act, asked[i], dip[i], guess, places[i]));
      excess[i] = excessOf(act, asked[i], next[i]);
    }
    solved = next;
    leant = places.length > 0 ? places : smoothedPlaces(act, solved, from);
    places = smoothedPlaces(act, solved, from);
    if (pass < 3 && excess.some((value) => value > 1e-5)) {
      const more = envelope(excess, Math.max(2, Math.round(2.6 * act.lag)));
      for (let i = 0; i < count; i++) dip[i] += more[i];
    } else if (pass >= 2 || (act.grips.length === 0 && act.loads.length === 0)) break;
  }
  const own = (/** @type {number} */ length) => [margin, length - margin];
  return { solved: solved.slice(...own(count)), places: leant.slice(...own(count)) };
}

/** The root's place and heading with the steps' bob taken out, a little late: what a carried thing goes along with.
 * @param {Act} act @param {Solved[]} solved @param {number} from @returns {Place[]} */
function smoothedPlaces(act, solved, from) {
  const reach = Math.round(4 * act.lag);
  const late = Math.round(1.2 * act.lag);
  return solved.map((_, i) => {
    let hips = [0, 0, 0];
    let yaw = 0;
    let total = 0;
    for (let k = -reach; k <= reach; k++) {
      const n = Math.max(0, Math.min(solved.length - 1, i - late + k));
      const weight = Math.exp(-2.5 * (k / reach) ** 2);
      hips = add(hips, scale(solved[n].hips, weight));
      yaw += weight * act.score.at("pelvis.yaw", from + n);
      total += weight;
    }
    return { hips: scale(hips, 1 / total), yaw: yaw / total };
  });
}

/** By how much a leg is too short, as a height of the root. @param {Act} act @param {Asked} asked @param {Solved} solved */
function excessOf({ rig }, { feet, flight }, { hips, turns }) {
  const full = fullestLeg * (rig.thigh + rig.shank);
  const free = 1 - Math.min(1, flight);
  const pelvis = /** @type {number[]} */ (turns.get(rig.hips));
  let excess = 0;
  for (const side of sides) {
    const foot = feet[side];
    const out = side === "l" ? 1 : -1;
    const start = add(hips, rotate(pelvis, [out * rig.hipHalf, -rig.hipDrop, 0]));
    const [x, y, z] = subtract(start, foot.ankle);
    const flat = Math.hypot(x, z);
    // A foot so far away that no height will do is reached as far as a deep lunge goes.
    const most = Math.sqrt(Math.max(0.09 * full * full, full * full - flat * flat));
    excess = Math.max(excess, (y - most) * free);
  }
  return excess;
}

/** A smooth curve that is nowhere below the given one: its maximum over a window, averaged over the same window.
 * @param {Float64Array} values @param {number} reach frames to each side */
function envelope(values, reach) {
  const most = values.map((_, i) => {
    let max = 0;
    for (let k = -reach; k <= reach; k++) max = Math.max(max, values[i + k] ?? 0);
    return max;
  });
  const weights = Array.from(
    { length: 2 * reach + 1 },
    (_, k) => Math.cos(((k - reach) / (reach + 1)) * (Math.PI / 2)) ** 2,
  );
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return values.map((_, i) => {
    let sum = 0;
    for (let k = -reach; k <= reach; k++) {
      const n = Math.max(0, Math.min(values.length - 1, i + k));
      sum += weights[k + reach] * most[n];
    }
    return sum / total;
  });
}

/**
 * What a frame asks for, whatever the root's place turns out to be.
 * @typedef {ReturnType<typeof askedOf>} Asked
 * @param {Act} act @param {number} frame
 */
function askedOf(act, frame) {
  const { rig, score } = act;
  const turns = turnsAt(rig, score, frame, act.lag);
  const upright = trunkOf(rig, turns);
  const flight = score.at("com.y.weight", frame);
  return {
    frame,
    turns,
    upright,
    arms: armsOf(rig, turns, upright),
    feet: { l: act.feet.l(frame), r: act.feet.r(frame) },
    flight,
    goal: [score.at("com.x", frame), flight > 0 ? score.at("com.y", frame) : 0, score.at("com.z", frame)],
    height: score.at("pelvis.h", frame),
    yaw: score.at("pelvis.yaw", frame),
    knees: { l: score.at("knee.out.l", frame), r: score.at("knee.out.r", frame) },
    grips: act.grips.map((grip) => ({ grip, weight: grip.weight(frame) })).filter(({ weight }) => weight > 0),
    loads: act.loads.map((load) => ({ load, share: load.share(frame) })).filter(({ share }) => share > 0),
  };
}

/**
 * @param {Act} act @param {Asked} asked @param {number} dip how much lower the root is kept
 * @param {number[] | undefined} guess @param {Place | undefined} place
 * @returns {Solved}
 */
function solveFrame(act, asked, dip, guess, place) {
  const { rig } = act;
  const { frame, feet, knees, goal, flight, grips, loads, upright } = asked;
  const turns = new Map(asked.turns);
  const height = asked.height - dip;
  const stretch = [0, 0];
  let hips = guess === undefined ? [goal[0], height, goal[2]] : [guess[0], height, guess[2]];
  let massCentre = goal;
  let arms = asked.arms;
  // The centre of mass goes along with the root, less what stays with the feet: by how much is seen from step to step.
  const gain = [1.2, 1.2, 1.2];
  let [last, stepped] = [goal, goal];
  for (let n = 0; n < 24; n++) {
    sides.forEach((side, i) => {
      const soft = !feet[side].planted;
      stretch[i] = placeLeg(rig, side, turns, hips, feet[side], knees[side], soft);
    });
    const body = place ?? { hips, yaw: asked.yaw };
    if (grips.length > 0) {
      arms = grippingArms(rig, turns, asked.turns, upright, hips, grips, frame, body);
    }
    massCentre = add(hips, add(add(upright.mass, arms), legsOf(rig, turns)));
    // What is carried counts with the body.
    let [total, sum] = [1, massCentre];
    for (const { load, share } of loads) {
      sum = add(sum, scale(load.at(frame, body), share));
      total += share;
    }
    const off = subtract(goal, scale(sum, 1 / total));
    off[1] = flight > 0 ? goal[1] - massCentre[1] : 0;
    if (n > 0) {
      for (let k = 0; k < 3; k++) {
        const gone = last[k] - off[k];
        if (Math.abs(stepped[k]) > 1e-7 && Math.abs(gone) > 1e-9) {
          gain[k] = Math.max(0.8, Math.min(2.5, stepped[k] / gone));
        }
      }
    }
    const keep = height - hips[1];
    const step = [gain[0] * off[0], keep + (gain[1] * off[1] - keep) * flight, gain[2] * off[2]];
    hips = add(hips, step);
    if (Math.hypot(...step) < 1e-7) break;
    last = off;
    stepped = step;
  }
  for (const seat of act.seats) {
    const weight = seat.weight(frame);
    if (weight > 0) hips = mix(hips, seat.at(frame), weight);
  }
  sides.forEach((side, i) => {
    stretch[i] = placeLeg(rig, side, turns, hips, feet[side], knees[side], !feet[side].planted);
  });
  const body = place ?? { hips, yaw: asked.yaw };
  if (grips.length > 0) grippingArms(rig, turns, asked.turns, upright, hips, grips, frame, body);
  return { turns, hips, stretch, massCentre };
}

/**
 * How high the root is on a frame if the standing leg that reaches farthest is to be a share of its full length, and where
 * the centre of mass is then.
 * @param {Act} act @param {number} frame @param {number} share
 * @returns {{ root: number, massCentre: number[] }}
 */
export function reachingUp(act, frame, share) {
  const asked = askedOf(act, frame);
  const { rig } = act;
  const feet = sides.filter((side) => asked.feet[side].planted);
  const lowest = Math.min(...feet.map((side) => asked.feet[side].ankle[1]));
  let [low, high] = [lowest, lowest + rig.hipDrop + rig.thigh + rig.shank];
  let solved = solveFrame(act, asked, asked.height - high, undefined, undefined);
  for (let n = 0; n < 22; n++) {
    const root = (low + high) / 2;
    solved = solveFrame(act, asked, asked.height - root, solved.hips, undefined);
    const longest = Math.max(...feet.map((side) => solved.stretch[side === "l" ? 0 : 1]));
    if (longest > share) high = root;
    else low = root;
  }
  return { root: low, massCentre: solved.massCentre };
}

/** Where the centre of mass would be on a frame if the root had a given height. @param {Act} act @param {number} frame
 * @param {number} height metres */
export function massCentreWith(act, frame, height) {
  const asked = askedOf(act, frame);
  return solveFrame(act, asked, asked.height - height, undefined, undefined).massCentre;
}

/**
 * @param {Rig} rig @param {Map<string, number[]>} turns changed in place @param {Map<string, number[]>} own before grips
 * @param {Upright} upright @param {number[]} hips @param {{ grip: Grip, weight: number }[]} grips
 * @param {number} frame @param {Place} body
 */
function grippingArms(rig, turns, own, upright, hips, grips, frame, body) {
  const chest = upright.poses.get(rig.spine[rig.spine.length - 1]);
  for (const side of sides) {
    const part = rig.sides[side];
    for (const id of [part.upper, part.fore, part.hand]) turns.set(id, /** @type {number[]} */ (own.get(id)));
  }
  for (const { grip, weight } of grips) {
    const pose = /** @type {{ position: number[], orientation: number[] }} */ (
      upright.poses.get(rig.sides[grip.side].clavicle)
    );
    const out = grip.side === "l" ? 1 : -1;
    const [x, y, z] = grip.elbow ?? [0.8, -0.5, -0.6];
    const pole = rotate(chest?.orientation ?? fromAngles("xyz", [0, 0, 0]), [out * x, y, z]);
    const clavicle = { position: add(pose.position, hips), orientation: pose.orientation };
    gripArm(rig, grip.side, turns, clavicle, { ...grip.at(frame, body), weight, pole });
  }
  return armsOf(rig, turns, upright);
}
