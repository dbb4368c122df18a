// @ts-check
/**
 * Jumps without what goes before and after: no crouch before the push, no give after the landing.
 * @import { FaultKind, Performance, Place, Poses } from "../types.d.ts"
 */
import { copy, massCentreAt, minimumJerk } from "../motion/index.mjs";
import { fitting } from "./tools/fitting.mjs";
import { bodyOf, carrierOf, endOf, eventsOf, isBlocked, keepEnds, meets, planted } from "./tools/limbs.mjs";
import { at24, over } from "./tools/windows.mjs";

/** Limbs that keep their own course: the ground holds legs, wings and tails are driven, loose parts drag. */
const apart = new Set(["leg", "wing", "fin", "tail", "loose"]);

/** Joints of the pose that a body takes: trunk, neck, head and arms. @param {import("../types.d.ts").Body} body */
function posed({ joints, limbs }) {
  const others = new Set(limbs.flatMap((limb) => (apart.has(limb.kind) ? limb.joints : [])));
  return joints.map(({ id }) => id).filter((id) => !others.has(id));
}

/**
 * Takes a share of what the pose does between two frames, both apart, and puts another course there.
 * @param {Performance} performance changed in place @param {readonly string[]} names of tracks
 * @param {number} from @param {number} to @param {number} share
 * @param {(track: Float64Array, frame: number) => number} course by the track as it was
 */
function replace(performance, names, from, to, share, course) {
  for (const name of names) {
    const track = performance.tracks.get(name);
    if (track === undefined) continue;
    const before = track.slice();
    for (let frame = from + 1; frame < to; frame++) {
      const i = frame - performance.first;
      track[i] += share * (course(before, frame) - before[i]);
    }
  }
}

/** A cubic with given ends. @param {number} t 0 to 1 @param {number} span frames @param {number} a @param {number} speedA
 * @param {number} b @param {number} speedB per frame */
function cubic(t, span, a, speedA, b, speedB) {
  const u = 1 - t;
  return u * u * (1 + 2 * t) * a + t * t * (3 - 2 * t) * b + span * t * u * (u * speedA - t * speedB);
}

/** Longest that a crouch or a recovery is looked for, frames: 1.3 s for a grown person, by Froude's law for others.
 * @param {Performance} performance @param {number} stature */
const reachOf = ({ rate }, stature) => Math.round(1.3 * rate * Math.max(0.5, Math.sqrt(stature / 1.7)));

/** @typedef {Place & { start: number, end: number, all: number }} JumpPlace `all`: metres of the crouch or give in the clean shot */

/**
 * How far the mass sinks under where it is on a frame, metres.
 * @param {(frame: number) => number} height @param {number} at @param {number} from @param {number} to
 */
const sunk = (height, at, from, to) => height(at) - Math.min(...over(from, to, height));

/** @param {Poses} poses @param {string} figure */
const heightIn = (poses, figure) => (/** @type {number} */ frame) => poses.massCentre(figure, frame)[1];
/** @param {Performance} performance @param {string} figure */
const heightOn = (performance, figure) => (/** @type {number} */ frame) =>
  massCentreAt(performance, figure, frame)[1];

/** @param {Performance} performance @param {string} figure @param {number} from @param {number} to */
function jointsOf(performance, figure, from, to) {
  const body = bodyOf(performance, figure);
  const ends = planted(performance, figure, from, to).map((limb) => endOf(body.limbs[limb]));
  const joint = carrierOf(performance, body);
  return { joint, also: [...new Set([body.root, ...body.trunk, ...ends])] };
}

/** @type {FaultKind} */
export const noAnticipation = {
  name: "no anticipation",
  checks: ["no-anticipation"],
  unit: "share of the crouch before a jump that is missing",
  sizes: [
    {
      value: 0.6,
      reason:
        "A dip of 0.25 to 0.35 m is usual before a jump (force-plate literature, from memory); 0.12 m is under half of the least.",
    },
    {
      value: 0.75,
      reason: "A quarter of the dip is left: knees that hardly bend cannot have thrown the body up.",
    },
    { value: 0.9, reason: "The figure stands, and is in the air: nothing tells that it will jump." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    /** @type {Place[]} */
    const places = [];
    for (const { figure, from: low, to: off } of eventsOf(performance, "push")) {
      const { stature } = bodyOf(performance, figure);
      const flights = eventsOf(performance, "flight", figure);
      if (!flights.some(({ from }) => from >= off && from <= off + 2)) continue;
      const height = heightOn(performance, figure);
      const earliest = Math.max(performance.first, low - reachOf(performance, stature));
      const top = Math.max(...over(earliest, low, height));
      const all = top - height(low);
      let start = low;
      while (start > earliest && height(start) < top - 0.06 * all) start--;
      let end = low;
      while (end < off && height(end) < height(start)) end++;
      const isAir = flights.some((flight) => meets(flight, start, low));
      if (isAir || all < 0.03 * stature || low - start < at24(performance, 4)) continue;
      places.push({
        figure,
        ...jointsOf(performance, figure, start, off),
        from: start,
        to: off,
        start,
        end,
        all,
        quick: true,
      });
    }
    return fitting(performance, random.shuffled(places), noAnticipation, random);
  },
  perform(performance, place, size) {
    const { figure, start, end, to, all } = /** @type {JumpPlace} */ (place);
    const before = copy(performance);
    const span = Math.min(end - start, Math.round(at24(performance, 4)));
    const slip = (/** @type {Performance} */ table, /** @type {number} */ share) => {
      // It stands as it stood, until the push begins at once.
      replace(table, tracksOf(table, figure), start, end, share, (track, frame) => {
        const [i, a] = [end - table.first, track[start - table.first]];
        const t = (frame - (end - span)) / span;
        const speed = (track[Math.min(track.length - 1, i + 1)] - track[i - 1]) / 2;
        return t <= 0 ? a : cubic(t, span, a, 0, track[i], speed);
      });
      keepEnds(table, before, figure, start, end);
    };
    asLarge(performance, size, slip, (table) => 1 - sunk(heightOn(table, figure), start, start, to) / all);
  },
  measure(poses, place) {
    const { figure, start, to, all } = /** @type {JumpPlace} */ (place);
    return Math.max(0, 1 - sunk(heightIn(poses, figure), start, start, to) / all);
  },
};

/**
 * Does a slip as strongly as makes its measure what was planned.
 * @param {Performance} performance changed in place @param {number} size
 * @param {(table: Performance, share: number) => void} slip @param {(table: Performance) => number} missing
 */
function asLarge(performance, size, slip, missing) {
  let share = size;
  for (let round = 0; round < 3; round++) {
    const tried = copy(performance);
    slip(tried, share);
    share = Math.max(0, Math.min(1.2, (share * size) / Math.max(0.05, missing(tried))));
  }
  slip(performance, share);
}

/** Tracks of a body's pose: the turns of what is posed, and where its root is. @param {Performance} performance @param {string} figure */
function tracksOf(performance, figure) {
  const body = bodyOf(performance, figure);
  const carriers = new Set([body.root, carrierOf(performance, body)]);
  return posed(body).flatMap((id) => [
    ...(carriers.has(id) ? [`${id} translation.x`, `${id} translation.y`, `${id} translation.z`] : []),
    ...["x", "y", "z"].map((axis) => `${id} rotation.${axis}`),
  ]);
}

/** @type {FaultKind} */
export const noSettle = {
  name: "no settle",
  checks: ["no-settle"],
  unit: "share of the give after a landing that is missing",
  sizes: [
    {
      value: 0.6,
      reason:
        "Knees bend on by 64 ± 12° after touch-down (spike jumps, Br J Sports Med, table 3); 26° is more than three deviations less.",
    },
    {
      value: 0.75,
      reason: "16° of bend are left, what a standing knee gives in one step of a walk.",
    },
    { value: 0.9, reason: "The body stops on the frame of contact, as a figure of wood does." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    /** @type {Place[]} */
    const places = [];
    for (const { figure, at, low } of eventsOf(performance, "landing")) {
      const { stature } = bodyOf(performance, figure);
      const height = heightOn(performance, figure);
      const all = height(at) - height(low);
      const pushes = eventsOf(performance, "push", figure);
      if (all < 0.025 * stature || at <= performance.first + 2 || low >= performance.last - 4) continue;
      // Where the give is the next jump's crouch, it is another fault to take it out.
      if (pushes.some(({ from }) => from >= at && from <= low + at24(performance, 4))) continue;
      const latest = Math.min(performance.last - 1, low + reachOf(performance, stature));
      let end = low;
      while (end < latest && height(end + 1) > height(end)) end++;
      if (end - low < at24(performance, 3)) continue;
      places.push({
        figure,
        ...jointsOf(performance, figure, at, end),
        from: at,
        to: end,
        start: at,
        end,
        all,
        quick: true,
      });
    }
    return fitting(performance, random.shuffled(places), noSettle, random);
  },
  perform(performance, place, size) {
    const { figure, start, end, all } = /** @type {JumpPlace} */ (place);
    const before = copy(performance);
    const stop = at24(performance, 1);
    // Over the ground it goes on as it did; only the give and the fold of the body go.
    const names = tracksOf(performance, figure).filter((name) => !/translation\.[xz]/.test(name));
    const slip = (/** @type {Performance} */ table, /** @type {number} */ share) => {
      replace(table, names, start, end, share, (track, frame) => {
        const [i, last] = [start - table.first, end - table.first];
        const halt = track[i] + 0.2 * stop * (track[i] - track[i - 1]);
        const t = (frame - start) / stop;
        if (t < 1) return track[i] + (halt - track[i]) * (1 - (1 - t) ** 2);
        return halt + (track[last] - halt) * minimumJerk((frame - start - stop) / (end - start - stop));
      });
      keepEnds(table, before, figure, start, end);
    };
    asLarge(performance, size, slip, (table) => 1 - sunk(heightOn(table, figure), start, start, end) / all);
  },
  measure(poses, place) {
    const { figure, start, end, all } = /** @type {JumpPlace} */ (place);
    return Math.max(0, 1 - sunk(heightIn(poses, figure), start, start, end) / all);
  },
};
