// @ts-check
/**
 * Faults of falling, pushing off and flying.
 * @import { FaultKind, Performance, Place, Poses } from "../types.d.ts"
 */
import { addTrack, channelAt, copy, massCentreAt } from "../motion/index.mjs";
import { fitting } from "./tools/fitting.mjs";
import { bodyOf, carrierOf, endOf, eventsOf, isBlocked, keepEnds, meets, planted } from "./tools/limbs.mjs";
import { at24, lagBehind, over, retime, sampled, turns, within } from "./tools/windows.mjs";

/** Standard gravity, m/s² (CGPM 1901). */
const gravity = 9.80665;

/** @param {Performance} performance @param {string} joint @param {number} from @param {number} to */
const heights = (performance, joint, from, to) =>
  over(from, to, (frame) => channelAt(performance, joint, "translation.y", frame));

/** Vertical speed of a joint, metres per frame. @param {Poses} poses @param {string} joint */
const risingOf = (poses, joint) => (/** @type {number} */ frame) => {
  const [a, b] = [sampled(poses, frame - 1), sampled(poses, frame + 1)];
  return (poses.position(joint, b)[1] - poses.position(joint, a)[1]) / Math.max(1, b - a);
};

/**
 * Where a fall to a landing begins: the body's highest frame in the second before.
 * @param {Performance} performance @param {string} joint @param {number} at
 */
function topBefore(performance, joint, at) {
  const from = Math.max(performance.first, Math.round(at - performance.rate));
  const all = heights(performance, joint, from, at);
  return from + all.indexOf(Math.max(...all));
}

/** @type {FaultKind} */
export const earlyStop = {
  name: "early stop",
  checks: ["early-stop"],
  unit: "frames at 24 per second by which the body brakes too soon",
  sizes: [
    {
      value: 1.4,
      reason:
        "60 ms: at 2.5 m/s, the speed of a touch-down from 0.32 m (Zhang, Bates and Dufek 2000), the body is 15 cm further than its feet allow.",
    },
    {
      value: 2.1,
      reason: "90 ms, half of the 0.15 to 0.25 s that a landing takes to its deepest bend (common range).",
    },
    {
      value: 3,
      reason:
        "125 ms: near the 150 ms over which fewer than half accept a reaction's time (Hoyet, McDonnell and O'Sullivan 2012).",
    },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    /** @type {Place[]} */
    const places = [];
    for (const { figure, at, low } of eventsOf(performance, "landing")) {
      const body = bodyOf(performance, figure);
      const joint = carrierOf(performance, body);
      const top = topBefore(performance, joint, at);
      const fall =
        channelAt(performance, joint, "translation.y", top) -
        channelAt(performance, joint, "translation.y", at);
      if (at - top < at24(performance, 4.5) || fall < 0.04 * body.stature) continue;
      const from = Math.round(at - at24(performance, 4));
      const legs = planted(performance, figure, at, low).map((limb) => endOf(body.limbs[limb]));
      places.push({ figure, joint, also: [body.root, ...body.trunk, ...legs], from, to: low, at, low, top });
    }
    return fitting(performance, random.shuffled(places), earlyStop, random);
  },
  perform(performance, place, size) {
    const { figure, joint, at, low, top } = /** @type {Place & { at: number, low: number, top: number }} */ (
      place
    );
    const before = copy(performance);
    const ahead = at24(performance, size);
    const from = Math.max(performance.first, Math.round(top - (at - top) * 0.4));
    const end = Math.min(performance.last, Math.round(low + 3.5 * ahead + 2));
    // Longer at the far side: the course read ahead must not run backwards.
    const course = (/** @type {number} */ frame) =>
      frame + ahead * within(frame, from, at - ahead, low, Math.max(end, low + 1));
    retime(performance, [joint], ["translation.y"], course);
    keepEnds(performance, before, figure, from, end);
  },
  measure(poses, place, twin) {
    const { joint, at, low } = /** @type {Place & { at: number, low: number }} */ (place);
    const rate = poses.performance.rate;
    const from = Math.round(at - at24(poses.performance, 3));
    const lag = lagBehind(risingOf(poses, joint), risingOf(twin, joint), from, low, at24({ rate }, 6));
    return Math.max(0, (-lag * 24) / rate);
  },
};

/** @type {FaultKind} */
export const liftBeforePush = {
  name: "lift before push",
  checks: ["lift-before-push"],
  unit: "frames at 24 per second by which what drives the body runs behind its rise",
  sizes: [
    {
      value: 1.5,
      reason:
        "The driver is meant to lead by 3 to 5 frames (common practice); a frame and a half behind is visible as a float.",
    },
    {
      value: 2.5,
      reason:
        "100 ms, the difference at which parts that are out of step with the body are noticed (Jörg, Hodgins and O'Sullivan 2010).",
    },
    {
      value: 4,
      reason:
        "Over 150 ms, which fewer than half accept between a cause and its effect (Hoyet, McDonnell and O'Sullivan 2012).",
    },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    /** @type {Place[]} */
    const places = [];
    for (const { figure, from, to } of eventsOf(performance, "push")) {
      const body = bodyOf(performance, figure);
      const joint = carrierOf(performance, body);
      const [first, last] = heights(performance, joint, from, to).filter(
        (_, i, all) => i === 0 || i === all.length - 1,
      );
      if (to - from < at24(performance, 4) || last - first < 0.05 * body.stature) continue;
      const standing = planted(performance, figure, from, from).filter((n) => body.limbs[n].kind === "leg");
      const wings = body.limbs.flatMap(({ kind }, n) => (kind === "wing" ? [n] : []));
      const beats = eventsOf(performance, "beat", figure).some((beat) => meets(beat, from, to));
      const limbs = standing.length > 0 ? standing : beats ? wings : [];
      if (limbs.length === 0) continue;
      const ends = limbs.flatMap((limb) => body.limbs[limb].joints);
      places.push({
        figure,
        joint,
        also: [body.root, ...body.trunk, ...ends],
        from,
        to,
        limbs,
        freed: limbs,
      });
    }
    return fitting(performance, random.shuffled(places), liftBeforePush, random);
  },
  perform(performance, place, size) {
    const { figure, from, to, limbs } = /** @type {Place & { limbs: number[] }} */ (place);
    const late = at24(performance, size);
    const edge = 2.4 * late;
    const next = eventsOf(performance, "plant", figure)
      .filter((plant) => limbs.includes(plant.limb) && plant.from > to)
      .map((plant) => plant.from);
    // What pushes has caught up before it lands again.
    const end = Math.min(to + 2 * edge, ...next.map((frame) => Math.max(to + 1, frame - 1)));
    const open = from - edge;
    const course = (/** @type {number} */ frame) =>
      frame - late * within(frame, open, from, Math.min(to + late, end - 1), end);
    const joints = limbs.flatMap((limb) => bodyOf(performance, figure).limbs[limb].joints);
    retime(performance, joints, turns, course);
  },
  measure(poses, place, twin) {
    const { figure, from, to, joint, limbs } = /** @type {Place & { limbs: number[] }} */ (place);
    const rate = poses.performance.rate;
    const body = bodyOf(poses.performance, figure);
    const most = at24({ rate }, 7);
    // How far each driver is stretched out (a leg) or lowered (a wing), the body's own way apart.
    const driven = (/** @type {Poses} */ shot) => (/** @type {number} */ frame) => {
      let sum = 0;
      for (const n of limbs) {
        const limb = body.limbs[n];
        const at = sampled(shot, frame);
        const top = shot.position(limb.joints[0], at);
        const end = shot.position(endOf(limb), at);
        sum +=
          limb.kind === "wing"
            ? end[1] - top[1]
            : Math.hypot(end[0] - top[0], end[1] - top[1], end[2] - top[2]);
      }
      return sum;
    };
    const height = (/** @type {Poses} */ shot) => (/** @type {number} */ frame) =>
      shot.position(joint, sampled(shot, frame))[1];
    const driver = lagBehind(driven(poses), driven(twin), from, to, most);
    const rise = lagBehind(height(poses), height(twin), from, to, most);
    return Math.max(0, ((driver - rise) * 24) / rate);
  },
};

/**
 * Acceleration of the centre of mass downwards over a flight, m/s²: a parabola by least squares.
 * @param {Poses} poses @param {string} figure @param {number} from @param {number} to
 */
function fallOf(poses, figure, from, to) {
  const n = to - from + 1;
  const middle = (from + to) / 2;
  const square = (/** @type {number} */ frame) => (frame - middle) ** 2;
  const mean = over(from, to, square).reduce((sum, one) => sum + one, 0) / n;
  let [top, bottom] = [0, 0];
  for (let frame = from; frame <= to; frame++) {
    const u = square(frame) - mean;
    top += u * poses.massCentre(figure, frame)[1];
    bottom += u * u;
  }
  return -2 * (top / bottom) * poses.performance.rate ** 2;
}

/** @type {FaultKind} */
export const hangTime = {
  name: "hang time",
  checks: ["hang-time"],
  unit: "g by which the fall differs from free fall",
  sizes: [
    {
      value: 0.3,
      reason:
        "A clip's speed is found wrong from 9 to 18 % on (Sci Rep 2017 7:15379), which is 0.19 to 0.39 in gravity.",
    },
    {
      value: 0.5,
      reason:
        "Beyond the 0.39 g that naive viewers notice (same source); a jump of 30 cm lasts as long as one of 20 or of 60.",
    },
    {
      value: 0.7,
      reason: "Gravity of Mars, or a fall nearly twice too hard: nobody takes it for a jump on Earth.",
    },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean) || performance.medium === "water") return [];
    /** @type {Place[]} */
    const places = [];
    for (const { figure, from, to } of eventsOf(performance, "flight")) {
      const isFlown = eventsOf(performance, "beat", figure).some((beat) => meets(beat, from, to));
      if (isFlown || to - from < 0.24 * performance.rate) continue;
      const body = bodyOf(performance, figure);
      const joint = carrierOf(performance, body);
      const also = [...new Set([body.root, ...body.trunk])];
      places.push({ figure, joint, also, from, to, sign: random.chance(0.5) ? 1 : -1 });
    }
    return random.shuffled(places);
  },
  perform(performance, place, size) {
    const { figure, joint, from, to, sign } = /** @type {Place & { sign: number }} */ (place);
    const [start, end] = [Math.max(performance.first, from - 1), Math.min(performance.last, to + 1)];
    const height = (/** @type {number} */ frame) => massCentreAt(performance, figure, frame)[1];
    const arc = over(start, end, height);
    const line = (/** @type {number} */ i) =>
      arc[0] + ((arc[arc.length - 1] - arc[0]) * i) / (arc.length - 1);
    // A parabola over the same time is as high as gravity is strong.
    addTrack(
      performance,
      joint,
      "translation.y",
      (frame) => sign * size * (arc[frame - start] - line(frame - start)),
      start,
      end,
    );
  },
  measure(poses, place, twin) {
    const { figure, from, to, sign } = /** @type {Place & { sign: number }} */ (place);
    const difference = fallOf(poses, figure, from + 1, to - 1) - fallOf(twin, figure, from + 1, to - 1);
    return Math.max(0, (sign * difference) / gravity);
  },
};
