// @ts-check
/**
 * Poses that do not speak: one that is gone before it can be read, and figures that never tilt.
 * @import { Body, FaultKind, Performance, Place, Poses } from "../types.d.ts"
 * @import { Move } from "./tools/moves.mjs"
 * @import { Mover } from "./tools/where.mjs"
 */
import { inverse, multiply, rotate, subtract } from "../../../../demo/motion/vector.mjs";
import { copy, minimumJerk, setTurn, worldAt } from "../motion/index.mjs";
import { fitting, sinkIntoReach } from "./tools/fitting.mjs";
import { eventsOf, isBlocked, isBusy, jointOf, keepEnds, planted } from "./tools/limbs.mjs";
import { movesOf } from "./tools/moves.mjs";
import { turnsIn, turnsOn } from "./tools/turning.mjs";
import { drawn, moversIn } from "./tools/where.mjs";
import { at24, between, over, turns } from "./tools/windows.mjs";

/**
 * A pose of a part between two moves. `into`, `out`: quickest frames of the moves to it and away from it; `held`: the pose;
 * `back`: end of the second move, and until when there is room; `limit`: metres per frame under which the part stands.
 * @typedef {Place & { joints: readonly string[], base: string, tip: string, end: import("../types.d.ts").Vector, into: number, out: number,
 *   held: readonly [number, number], back: readonly [number, number], limit: number }} PosePlace
 */

/** Frames at 24 per second that a pose needs which tells something (common practice: 6, and 4 for a beat). */
const readable = 6;
/** Frames at 24 per second of a move's length from which on its pose is read while the part still comes, or already leaves. */
const slow = 16;
/** Share of the slower of two moves' top speed under which a part stands. */
const still = 1 / 5;

/** @typedef {(joint: string, frame: number) => { position: readonly number[], quaternion: readonly number[] }} World */

/** The end of a place's part in the frame of what carries it. @param {World} world @param {PosePlace} place */
const seenFrom =
  (world, { base, tip, end }) =>
  (/** @type {number} */ frame) => {
    const [carrier, last] = [world(base, frame), world(tip, frame)];
    const point = last.position.map((value, k) => value + rotate([...last.quaternion], end)[k]);
    return rotate(inverse([...carrier.quaternion]), subtract(point, [...carrier.position]));
  };

/**
 * Frames at 24 per second that a pose lacks: for how long the part stands after the move into it, read between frames.
 * @param {World} world @param {PosePlace} place @param {number} rate
 */
function lacking(world, place, rate) {
  const { into, out, limit } = place;
  const at = seenFrom(world, place);
  const speed = (/** @type {number} */ frame) => Math.hypot(...subtract(at(frame + 1), at(frame)));
  let before = speed(into);
  for (let frame = into + 1; frame < out; frame++) {
    const now = speed(frame);
    if (now >= limit) {
      before = now;
      continue;
    }
    const start = frame - (limit - now) / (before - now);
    for (let last = now; frame < out + 2; frame++) {
      const next = speed(frame + 1);
      if (next >= limit) return readable - ((frame + (limit - last) / (next - last) - start) * 24) / rate;
      last = next;
    }
    return readable - ((out - start) * 24) / rate;
  }
  return readable;
}

/** @param {Performance} performance @returns {World} */
const worldOn = (performance) => (joint, frame) => worldAt(performance, joint, frame);

/** Names of the tracks that turn a place's joints. @param {PosePlace} place */
const namesOf = ({ joints }) => joints.flatMap((joint) => turns.map((channel) => `${joint} ${channel}`));

/**
 * Cuts frames out of a pose: the part leaves it sooner, and rests longer afterwards.
 * @param {Performance} performance changed in place @param {PosePlace} place @param {number} by frames
 */
function cut(performance, place, by) {
  const { held, back } = place;
  const [a, b, end, room] = [...held, ...back].map((frame) => frame - performance.first);
  const leaves = b - by;
  for (const name of namesOf(place)) {
    const track = performance.tracks.get(name);
    if (track === undefined) continue;
    const before = track.slice();
    // It sets out from where the pose is by then.
    const off = between(before, leaves) - before[b];
    for (let i = Math.ceil(Math.max(a, leaves)); i < room; i++) {
      track[i] =
        i <= end - by
          ? between(before, i + by) + off * (1 - minimumJerk((i - leaves) / (end - b)))
          : between(before, end + ((i - end + by) * (room - end)) / (room - end + by));
    }
  }
}

/** Most frames that can be cut out of a pose. @param {PosePlace} place */
const mostCut = ({ held: [a, b] }) => b - a - 0.25;

/** What a pose would lack. @param {Performance} performance @param {PosePlace} place @param {number} by */
function lackingAfter(performance, place, by) {
  const tried = { ...performance, tracks: new Map(performance.tracks) };
  for (const name of namesOf(place)) {
    const track = tried.tracks.get(name);
    if (track !== undefined) tried.tracks.set(name, track.slice());
  }
  cut(tried, place, by);
  return lacking(worldOn(tried), place, performance.rate);
}

/**
 * The pose between two quick moves which stands alone: before the first and behind the second the part rests for as long as
 * a pose is read, so that it is none of a chain.
 * @param {Performance} performance @param {Mover} one @param {number} last end of the move before @param {Move} a @param {Move} b
 * @param {number} next start of the move behind @returns {PosePlace[]}
 */
function poseBetween(performance, one, last, a, b, next) {
  const { figure, part, joint, also, joints, limb, lever } = one;
  const frames = b.from - a.to;
  const least = 0.05 * figure.body.stature;
  if (frames < at24(performance, 4) || frames > at24(performance, 40)) return [];
  const quick = at24(performance, slow);
  if (a.to - a.from > quick || b.to - b.from > quick) return [];
  if (Math.min(a.from - last, next - b.to) < at24(performance, readable)) return [];
  if (a.travel < least || b.travel < least) return [];
  if (
    !["arm", "head", "neck"].includes(part) ||
    (limb !== undefined && isBusy(performance, figure.id, limb, a.from, b.to))
  )
    return [];
  const base = jointOf(performance, lever.chain[0].id).parent;
  if (base === null) return [];
  const room = Math.min(next, b.to + Math.round(at24(performance, 30)));
  const tip = lever.chain[lever.chain.length - 1].id;
  return [
    {
      ...{
        figure: figure.id,
        joint,
        also,
        joints,
        base,
        tip,
        end: lever.end,
        from: a.to - 1,
        to: b.from + 1,
      },
      ...{ into: a.peak, out: b.peak, held: [a.to, b.from], back: [b.to, room] },
      limit: still * Math.min(a.spacing, b.spacing),
    },
  ];
}

/** @type {FaultKind} */
export const shortPose = {
  name: "short pose",
  checks: ["short-pose"],
  unit: "frames at 24 per second that a pose between two moves lacks of the six in which it is read",
  sizes: [
    { value: 2, reason: "Four frames: a beat, but no pose that tells something (common practice: six)." },
    {
      value: 3,
      reason:
        "Three frames, an eighth of a second, less than it takes to see and to answer (180 ms, Kosinski's review).",
    },
    { value: 4, reason: "Two frames: the eye is still on its way when the pose is gone." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    const { first, last } = performance;
    const places = drawn(random, moversIn(clean), ({ weight }) => weight).flatMap((one) => {
      const moves = movesOf(clean, one);
      return moves
        .slice(1)
        .flatMap((move, n) =>
          poseBetween(
            performance,
            one,
            moves[n - 1]?.to ?? first,
            moves[n],
            move,
            moves[n + 2]?.from ?? last,
          ),
        );
    });
    const fit = places.slice(0, 12).filter((place) => {
      if (lackingAfter(performance, place, 0) > shortPose.sizes[0].value / 2) return false;
      return lackingAfter(performance, place, mostCut(place)) >= shortPose.sizes[2].value;
    });
    return fitting(performance, fit, shortPose, random);
  },
  perform(performance, place, size) {
    const pose = /** @type {PosePlace} */ (place);
    let [low, high] = [0, mostCut(pose)];
    for (let round = 0; round < 12; round++) {
      const middle = (low + high) / 2;
      if (lackingAfter(performance, pose, middle) < size) low = middle;
      else high = middle;
    }
    cut(performance, pose, high);
  },
  measure(poses, place) {
    const world = (/** @type {string} */ joint, /** @type {number} */ frame) => ({
      position: poses.position(joint, frame),
      quaternion: poses.orientation(joint, frame),
    });
    return Math.max(0, lacking(world, /** @type {PosePlace} */ (place), poses.performance.rate));
  },
};

/** @typedef {Place & { column: readonly string[], seen: readonly string[] }} SetPlace `seen`: pelvis, chest and head */

/** Pelvis, what stands on it, and the head, from the lowest on. @param {Body} body */
function columnOf({ joints, trunk, head, root }) {
  const parents = new Map(joints.map(({ id, parent }) => [id, parent]));
  /** @type {string[]} */
  const neck = [];
  for (let at = head; at != null && !trunk.includes(at); at = parents.get(at) ?? null) neck.unshift(at);
  return [...(trunk.length > 0 ? trunk : [root]), ...neck];
}

/** A turn as a turn about the upright, and the tilt that is left before it. @param {readonly number[]} turn */
function parted(turn) {
  const half = Math.atan2(turn[1], turn[3]);
  const yaw = [0, Math.sin(half), 0, Math.cos(half)];
  return { yaw, tilt: multiply(inverse(yaw), [...turn]) };
}

const degrees = 180 / Math.PI;

/** Tilt as two angles, degrees. @param {readonly number[]} tilt */
function anglesOfTilt([x, , z, w]) {
  const sign = w < 0 ? -1 : 1;
  return [2 * Math.atan2(sign * x, sign * w) * degrees, 2 * Math.atan2(sign * z, sign * w) * degrees];
}

/** How far pelvis, chest and head tilt about their middle tilt, degrees, on the mean. @param {import("./tools/turning.mjs").Turns} turnsOf
 * @param {Pick<SetPlace, "seen" | "from" | "to">} place */
function tilting(turnsOf, { seen, from, to }) {
  const each = seen.map((joint) => {
    const all = over(from, to, (frame) => anglesOfTilt(parted(turnsOf(joint, frame)).tilt));
    const mean = [0, 1].map((k) => all.reduce((sum, one) => sum + one[k], 0) / all.length);
    const square = all.reduce((sum, one) => sum + (one[0] - mean[0]) ** 2 + (one[1] - mean[1]) ** 2, 0);
    return Math.sqrt(square / all.length);
  });
  return each.reduce((sum, one) => sum + one, 0) / each.length;
}

/** Plans whose column turns about the upright: a fish and a snake do so by nature, and never tilt. */
const upright = new Set(["two legs", "puppet", "four legs", "bird"]);

/** @type {FaultKind} */
export const straightSet = {
  name: "straight set",
  checks: ["straight-set"],
  unit: "share of the tilting of hips, chest and head that is missing all shot long",
  sizes: [
    {
      value: 0.7,
      reason:
        "A head that tilts by 6° is left with 1.8°, under the 1.9° at which turns are told apart (Wilson and others 2000).",
    },
    { value: 0.85, reason: "Under a degree of tilt: hips, chest and head turn like discs on a pole." },
    { value: 1, reason: "One axis for everything, first frame to last: a figure on a spindle." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    const { first: from, last: to } = performance;
    const turnsOf = turnsOn(performance);
    const places = performance.figures.flatMap(({ id: figure, body }) => {
      const { head, trunk } = body;
      if (!upright.has(body.plan) || head === null || trunk.length < 2) return [];
      const flies = eventsOf(performance, "flight", figure).length > 0;
      const seen = [trunk[0], trunk[trunk.length - 1], head];
      const yaws = over(from, to, (frame) => {
        const ahead = rotate(turnsOf(head, frame), [0, 0, 1]);
        return Math.atan2(ahead[0], ahead[2]) * degrees;
      });
      const turned = yaws
        .slice(1)
        .reduce((sum, yaw, i) => sum + Math.abs(((yaw - yaws[i] + 540) % 360) - 180), 0);
      const all = tilting(turnsOf, { seen, from, to });
      if (flies || turned < 30 || all < 1.5) return [];
      const column = columnOf(body);
      const also = [...new Set([body.root, ...column, ...seen])];
      return [{ figure, joint: seen[1], also, from, to, column, seen }];
    });
    return fitting(performance, random.shuffled(places), straightSet, random);
  },
  perform(performance, place, size) {
    const { figure, column, from, to } = /** @type {SetPlace} */ (place);
    const before = copy(performance);
    for (const joint of column) {
      const turnsBefore = over(from, to, (frame) => parted([...worldAt(before, joint, frame).quaternion]));
      const near = turnsBefore[0].tilt;
      const sum = [0, 0, 0, 0];
      for (const { tilt } of turnsBefore) {
        const sign = tilt.reduce((dot, value, k) => dot + value * near[k], 0) < 0 ? -1 : 1;
        tilt.forEach((value, k) => {
          sum[k] += sign * value;
        });
      }
      const length = Math.hypot(...sum);
      const middle = sum.map((value) => value / length);
      const { parent } = jointOf(performance, joint);
      turnsBefore.forEach(({ yaw, tilt }, i) => {
        const sign = tilt.reduce((dot, value, k) => dot + value * middle[k], 0) < 0 ? -1 : 1;
        const mixed = tilt.map((value, k) => (1 - size) * sign * value + size * middle[k]);
        const world = multiply(
          yaw,
          mixed.map((value) => value / Math.hypot(...mixed)),
        );
        const base = parent === null ? [0, 0, 0, 1] : [...worldAt(performance, parent, from + i).quaternion];
        setTurn(performance, joint, from + i, multiply(inverse(base), world), before);
      });
    }
    sinkIntoReach(performance, before, figure, planted(performance, figure, from, to), from, to, () => 1);
    keepEnds(performance, before, figure, from, to);
  },
  measure(poses, place, twin) {
    const set = /** @type {SetPlace} */ (place);
    return Math.max(0, 1 - tilting(turnsIn(poses), set) / (tilting(turnsIn(twin), set) || 1));
  },
};
