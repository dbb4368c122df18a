// @ts-check
/**
 * Spacing of the whole body while its feet stay where they are: pops, hitches and hard stops of what carries it, as a root
 * with feet of its own makes them.
 * @import { FaultKind, Figure, KeyedShot, Performance, Place, Poses } from "../types.d.ts"
 */
import { length, subtract } from "../../../../demo/motion/vector.mjs";
import { copy, worldAt } from "../motion/index.mjs";
import { fitting } from "./tools/fitting.mjs";
import { carrierOf, eventsOf, isBlocked, keepEnds, meets, planted } from "./tools/limbs.mjs";
import { movesAlong } from "./tools/moves.mjs";
import { below } from "./tools/where.mjs";
import { at24, sampled } from "./tools/windows.mjs";

/** @typedef {Place & { stature: number, at: number, start: number, peak: number, end: number, spacing: number, axis: string, sign: number }} Spot */
const spotOf = (/** @type {Place} */ place) => /** @type {Spot} */ (place);

const axes = ["x", "y", "z"];
/** Tracks of root and pelvis. @param {Performance} performance @param {Place} place @param {readonly string[]} kinds @returns {Float64Array[]} */
function tracksOf(performance, place, kinds) {
  const figure = performance.figures.find(({ id }) => id === place.figure);
  const joints = new Set([figure?.body.root, place.joint]);
  return [...joints].flatMap((joint) =>
    kinds.flatMap((kind) => axes.flatMap((axis) => performance.tracks.get(`${joint} ${kind}.${axis}`) ?? [])),
  );
}
const both = /** @type {const} */ (["translation", "rotation"]);

/** @param {Performance} performance @param {string} joint @param {number} from @param {number} to */
function stepsIn(performance, joint, from, to) {
  /** @type {number[][]} */
  const points = [];
  for (let frame = from; frame <= to; frame++) points.push([...worldAt(performance, joint, frame).position]);
  return points.slice(1).map((point, i) => length(subtract(point, points[i])));
}

/** @param {Poses} poses @param {string} joint @param {number} from @param {number} to */
function stepsSeen(poses, joint, from, to) {
  const steps = [];
  for (let frame = from; frame < to; frame++) {
    const [a, b] = [frame, frame + 1].map((one) => poses.position(joint, sampled(poses, one)));
    steps.push(length(subtract(b, a)));
  }
  return steps;
}

/**
 * Figures that stand, with the spacing of what carries them.
 * @param {KeyedShot} clean
 */
function bodiesIn({ performance }) {
  const { first, last, figures } = performance;
  return figures.map((figure) => {
    const joint = carrierOf(performance, figure.body);
    return { figure, joint, steps: stepsIn(performance, joint, first, last) };
  });
}

/** @param {Performance} performance @param {Figure} figure @param {number} from @param {number} to */
const stands = (performance, { id }, from, to) =>
  planted(performance, id, from, to).length > 0 &&
  !eventsOf(performance, "flight", id).some((event) => meets(event, from, to));

/** @param {Figure} figure @param {string} joint @param {number} from @param {number} to @param {Record<string, unknown>} detail @returns {Place} */
const placeOf = ({ id, body }, joint, from, to, detail) => ({
  ...{ figure: id, joint, also: [body.root, ...below(body, joint)], from, to, stature: body.stature },
  ...detail,
});

// ---------------------------------------------------------------- pop

/** @type {FaultKind} */
const popOfBody = {
  name: "pop of the body over its feet",
  checks: ["pop"],
  unit: "% of the stature off the path",
  sizes: [
    {
      value: 0.4,
      reason:
        "Four pixels of a full figure in a 1080-line picture for one frame, but of all of the figure at once.",
    },
    { value: 1, reason: "The whole figure twitches by nearly two centimetres, and its knees with it." },
    { value: 2.5, reason: "Four centimetres on a grown person: the body is knocked aside for a frame." },
  ],
  layer: "motion",
  places: (clean, random) => {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    const { first, last } = performance;
    const places = bodiesIn(clean).flatMap(({ figure, joint, steps }) =>
      Array.from({ length: 24 }, () => random.integer(first + 4, last - 4)).flatMap((frame) => {
        const calm =
          Math.max(...steps.slice(frame - first - 2, frame - first + 2)) < 0.01 * figure.body.stature;
        if (!calm || !stands(performance, figure, frame, frame)) return [];
        const detail = { at: frame, axis: random.pick(axes), sign: random.chance(0.5) ? 1 : -1 };
        return [placeOf(figure, joint, frame, frame, detail)];
      }),
    );
    return fitting(performance, random.shuffled(places), popOfBody, random);
  },
  perform(performance, place, size) {
    const { at, axis, sign, stature } = spotOf(place);
    const before = copy(performance);
    const root = performance.figures.find(({ id }) => id === place.figure)?.body.root;
    const track = performance.tracks.get(`${root} translation.${axis}`);
    if (track !== undefined) track[at - performance.first] += (sign * size * stature) / 100;
    keepEnds(performance, before, place.figure, at, at);
  },
  measure(poses, place, twin) {
    const { at, stature } = spotOf(place);
    const [a, b, c] = [-1, 0, 1].map((by) =>
      subtract(poses.position(place.joint, at + by), twin.position(place.joint, at + by)),
    );
    return (100 * length(b.map((value, k) => value - (a[k] + c[k]) / 2))) / stature;
  },
};

// ---------------------------------------------------------------- hitch

/** Most frames at 24 per second that a hitch lasts, and those in which the body makes up for it. */
const [longest, catching] = [3, 9];

/** @type {FaultKind} */
const hitchOfBody = {
  name: "hitch of the body",
  checks: ["hitch"],
  unit: "frames at 24 per second without travel",
  sizes: [
    {
      value: 1,
      reason: "One frame of 42 ms shown twice, of all of the figure: the shortest stutter that there is.",
    },
    {
      value: 2,
      reason: "Two still frames within a move, which practice never holds: the body stumbles on nothing.",
    },
    { value: longest, reason: "An eighth of a second: it stops and goes on." },
  ],
  layer: "motion",
  places: (clean, random) => {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    const { first, last } = performance;
    const [wait, catchUp] = [longest, catching].map((frames) => Math.ceil(at24(performance, frames)));
    const places = bodiesIn(clean).flatMap(({ figure, joint, steps }) =>
      Array.from({ length: 40 }, () => random.integer(first + 4, last - 4 - wait - catchUp)).flatMap((at) => {
        const around = steps.slice(at - first - 1, at - first + wait + catchUp);
        const spacing = around.reduce((sum, step) => sum + step, 0) / around.length;
        if (Math.min(...around) < Math.max(0.5 * spacing, 0.004 * figure.body.stature)) return [];
        if (!stands(performance, figure, at - 1, at + wait + catchUp)) return [];
        return [placeOf(figure, joint, at, at + wait + 1, { at, spacing })];
      }),
    );
    return fitting(performance, random.shuffled(places), hitchOfBody, random);
  },
  perform(performance, place, size) {
    const { at } = spotOf(place);
    const before = copy(performance);
    const wait = Math.max(1, Math.round(at24(performance, size)));
    const catchUp = Math.ceil(at24(performance, catching));
    const end = at + wait + catchUp;
    for (const track of tracksOf(performance, place, both)) {
      const own = track.slice();
      for (let frame = at + 1; frame < end; frame++) {
        const read = frame <= at + wait ? at : at + ((frame - at - wait) * (end - at)) / catchUp;
        const i = Math.floor(read) - performance.first;
        const share = read - Math.floor(read);
        track[frame - performance.first] = own[i] + share * ((own[i + 1] ?? own[i]) - own[i]);
      }
    }
    keepEnds(performance, before, place.figure, at, end);
  },
  measure(poses, place) {
    const { at, spacing } = spotOf(place);
    const wait = Math.ceil(at24(poses.performance, longest));
    const steps = stepsSeen(poses, place.joint, at, at + wait + 1);
    const still = steps.reduce((sum, step) => sum + (step < spacing / 3 ? 1 - step / spacing : 0), 0);
    return (still * 24) / poses.performance.rate;
  },
};

// ---------------------------------------------------------------- hard stop

/** The body's last way into a rest at speed, and a wait there. @param {Performance} performance @param {Place} place @param {number} sharpness mean slopes at the wall */
function runIntoWall(performance, place, sharpness) {
  const { peak, at, end } = spotOf(place);
  const { first } = performance;
  for (const track of tracksOf(performance, place, both)) {
    const [a, b] = [track[peak - first], track[end - first]];
    const own = ((track[peak + 1 - first] - track[peak - 1 - first]) / 2) * (at - peak);
    const [start, stop] = [own * (b - a) > 0 ? own : 0, sharpness * (b - a)];
    for (let frame = peak + 1; frame < end; frame++) {
      const t = Math.min(1, (frame - peak) / (at - peak));
      const value = a + t * (start + t * (3 * (b - a) - 2 * start - stop + t * (start + stop - 2 * (b - a))));
      track[frame - first] = value;
    }
  }
}

/** Greatest loss of speed from one frame to the next. @param {readonly number[]} steps */
const greatestLoss = (steps) => Math.max(0, ...steps.slice(1).map((step, i) => steps[i] - step));

/** @type {FaultKind} */
const hardStopOfBody = {
  name: "hard stop of the body",
  checks: ["hard-stop"],
  unit: "of the move's top speed lost within one frame",
  sizes: [
    {
      value: 0.55,
      reason:
        "An eased stop of a body loses a quarter of its top speed in a frame at most: this is twice that.",
    },
    { value: 0.75, reason: "A quarter of the ease is left: weight that has nowhere to go." },
    { value: 0.95, reason: "From full speed to none between two frames, with nothing in the way." },
  ],
  layer: "motion",
  places: (clean, random) => {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    const { first, last } = performance;
    const places = bodiesIn(clean).flatMap(({ figure, joint, steps }) =>
      movesAlong(steps, first, 0.003 * figure.body.stature).flatMap(({ from, to, peak, spacing }) => {
        const rest = steps.slice(peak - first, to - first).reduce((sum, step) => sum + step, 0);
        const at = peak + Math.max(2, Math.round(rest / (0.9 * spacing)));
        const isLong = to - from >= at24(performance, 8) && to < last - 2 && at < to;
        if (!isLong || !stands(performance, figure, peak, to)) return [];
        if (greatestLoss(steps.slice(peak - first - 1, to - first + 1)) > 0.27 * spacing) return [];
        return [placeOf(figure, joint, peak, to, { at, peak, end: to, spacing })];
      }),
    );
    return fitting(performance, random.shuffled(places), hardStopOfBody, random);
  },
  perform(performance, place, size) {
    const { peak, end, spacing } = spotOf(place);
    const before = copy(performance);
    let [low, high] = [0, 2.5];
    for (let round = 0; round < 10; round++) {
      const middle = (low + high) / 2;
      const trial = copy(before);
      runIntoWall(trial, place, middle);
      const loss = greatestLoss(stepsIn(trial, place.joint, peak - 1, end + 1)) / spacing;
      if (loss < size) low = middle;
      else high = middle;
    }
    runIntoWall(performance, place, high);
    keepEnds(performance, before, place.figure, peak, end);
  },
  measure(poses, place) {
    const { peak, end, spacing } = spotOf(place);
    return greatestLoss(stepsSeen(poses, place.joint, peak - 1, end + 1)) / spacing;
  },
};

/** @type {FaultKind[]} */
export const bodies = [popOfBody, hitchOfBody, hardStopOfBody];
