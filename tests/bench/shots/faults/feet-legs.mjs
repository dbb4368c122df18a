// @ts-check
/**
 * Legs that snap straight, and bodies that bob with the feet.
 * @import { FaultKind, Limb, Performance, Place, Poses } from "../types.d.ts"
 */
import { addTrack, channelAt, copy, worldAt } from "../motion/index.mjs";
import { fitting, sinkIntoReach } from "./tools/fitting.mjs";
import {
  bodyOf,
  carrierOf,
  endOf,
  eventsOf,
  isBlocked,
  jointOf,
  keepEnds,
  meets,
  planted,
} from "./tools/limbs.mjs";
import {
  at24,
  between,
  lagBehind,
  median,
  minimumIn,
  over,
  retime,
  sampled,
  within,
} from "./tools/windows.mjs";

const degrees = 180 / Math.PI;

/** @typedef {Place & { limb: number, at: number }} SnapPlace */

/** By how many degrees a leg of two bones is off straight. @param {readonly (readonly number[])[]} points hip, knee, ankle */
function bendOf([hip, knee, ankle]) {
  const upper = [0, 1, 2].map((axis) => knee[axis] - hip[axis]);
  const lower = [0, 1, 2].map((axis) => ankle[axis] - knee[axis]);
  const along = upper[0] * lower[0] + upper[1] * lower[1] + upper[2] * lower[2];
  return (
    Math.acos(Math.max(-1, Math.min(1, along / (Math.hypot(...upper) * Math.hypot(...lower))))) * degrees
  );
}

/** Hip, knee and ankle. @param {Limb} limb */
const chainOf = (limb) => [limb.joints[0], limb.joints[1], endOf(limb)];

/** @param {Performance} performance @param {Limb} limb @param {number} frame */
const bendAt = (performance, limb, frame) =>
  bendOf(chainOf(limb).map((joint) => worldAt(performance, joint, frame).position));

/** Distance from hip to ankle at a bend. @param {Performance} performance @param {Limb} limb @param {number} bend degrees */
function reachAt(performance, limb, bend) {
  const [upper, lower] = [limb.joints[1], endOf(limb)].map((joint) =>
    Math.hypot(...jointOf(performance, joint).at),
  );
  return Math.sqrt(upper ** 2 + lower ** 2 + 2 * upper * lower * Math.cos(bend / degrees));
}

/** @type {FaultKind} */
export const legSnap = {
  name: "leg snap",
  checks: ["leg-snap"],
  unit: "degrees of bend that a leg loses within 3 frames at 24 per second as it hits full stretch",
  sizes: [
    {
      value: 8,
      reason:
        "Twice the change of one frame in a walk, whose knee turns at 150 to 300° a second at its quickest only in the swing (common values of gait).",
    },
    {
      value: 14,
      reason: "A standing knee jumps by what it gives in the whole loading of a step (15 to 20°).",
    },
    { value: 22, reason: "270° a second, stopped dead: the leg cracks like a whip." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    /** @type {Place[]} */
    const places = [];
    for (const plant of eventsOf(performance, "plant")) {
      const body = bodyOf(performance, plant.figure);
      const limb = body.limbs[plant.limb];
      if (limb.kind !== "leg" || limb.joints.indexOf(endOf(limb)) !== 2) continue;
      const [early, late] = [plant.from + at24(performance, 8), plant.to - at24(performance, 4)];
      if (late < early) continue;
      const at = Math.round(random.between(early, late));
      const room = at24(performance, 11);
      const flies = eventsOf(performance, "flight", plant.figure);
      if (flies.some((flight) => meets(flight, at - room, at + room))) continue;
      // Whoever stands bent by a lot would have to rise, which is another fault.
      const bends = over(at - at24(performance, 6), at + at24(performance, 3), (frame) =>
        bendAt(performance, limb, frame),
      );
      if (Math.max(...bends) > 40) continue;
      const [from, to] = [Math.round(at - at24(performance, 3)), Math.round(at + at24(performance, 3))];
      places.push({
        figure: plant.figure,
        joint: limb.joints[1],
        also: limb.joints,
        from,
        to,
        limb: plant.limb,
        at,
      });
    }
    return fitting(performance, random.shuffled(places), legSnap, random);
  },
  perform(performance, place, size) {
    const { figure, limb: n, at } = /** @type {SnapPlace} */ (place);
    const body = bodyOf(performance, figure);
    const limb = body.limbs[n];
    const before = copy(performance);
    const f = at24(performance, 1);
    const [first, last] = [
      Math.max(performance.first, Math.ceil(at - 11 * f)),
      Math.min(performance.last, Math.floor(at + 7 * f)),
    ];
    for (let frame = first; frame <= last; frame++) {
      const [hip, , ankle] = chainOf(limb).map((joint) => worldAt(before, joint, frame).position);
      const way = [0, 1, 2].map((axis) => hip[axis] - ankle[axis]);
      const reach = Math.hypot(...way);
      const usual = bendAt(before, limb, frame);
      // Softly to the planned bend, from there to straight within two frames; held a little and softly back.
      const soft = within(frame, at - 11 * f, at - 3 * f, at + 2 * f, at + 7 * f);
      const hit = frame >= at ? 1 : Math.max(0, 1 - (at - frame) / (2 * f));
      const wanted = (1 - soft) * usual + soft * (size * (1 - hit) + 0.4);
      const by = reachAt(before, limb, wanted) / reach - 1;
      /** @type {const} */ (["x", "y", "z"]).forEach((axis, k) => {
        addTrack(performance, body.root, `translation.${axis}`, () => by * way[k], frame, frame);
      });
    }
    keepEnds(performance, before, figure, first, last);
  },
  measure(poses, place, twin) {
    const { figure, limb: n, at } = /** @type {SnapPlace} */ (place);
    const limb = bodyOf(poses.performance, figure).limbs[n];
    const f = at24(poses.performance, 1);
    const bends = (/** @type {Poses} */ shot) =>
      over(at - 4 * f - 1, at + 2 * f, (frame) =>
        bendOf(chainOf(limb).map((joint) => shot.position(joint, sampled(shot, frame)))),
      );
    const lost = (/** @type {Poses} */ shot) => {
      const all = bends(shot);
      return Math.max(0, ...all.map((bend, i) => (i < 3 * f ? 0 : between(all, i - 3 * f) - bend)));
    };
    return Math.max(0, lost(poses) - lost(twin));
  },
};

/** @typedef {Place & { delay: number }} BobPlace frames by which the body's lows follow the contacts */

/** @type {FaultKind} */
export const bodyTiedToSteps = {
  name: "body tied to steps",
  checks: ["body-tied-to-steps"],
  unit: "share of the delay between feet and body that is missing",
  sizes: [
    {
      value: 0.6,
      reason:
        "The body comes down 1 to 2 frames after its feet (common practice); less than half of that cannot be told from none.",
    },
    { value: 0.8, reason: "Feet and body hit their poses within half a frame, step after step." },
    { value: 1, reason: "The body is down on the very frame of each contact, as if it hung on the feet." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    /** @type {Place[]} */
    const places = [];
    for (const { figure, from, to } of eventsOf(performance, "gait")) {
      const body = bodyOf(performance, figure);
      const legs = body.limbs.filter(({ kind }) => kind === "leg");
      if (legs.length !== 2) continue;
      const joint = carrierOf(performance, body);
      const contacts = eventsOf(performance, "plant", figure)
        .filter((plant) => plant.from > from && plant.from < to)
        .map((plant) => plant.from)
        .sort((a, b) => a - b);
      if (contacts.length < 3) continue;
      const height = (/** @type {number} */ frame) => channelAt(performance, joint, "translation.y", frame);
      const delays = contacts
        .slice(0, -1)
        .map((contact, n) => minimumIn(height, contact - 1, (contact + contacts[n + 1]) / 2) - contact);
      const delay = median(delays);
      if (delay < at24(performance, 1.5)) continue;
      const feet = legs.map(endOf);
      const [start, end] = [contacts[0] - Math.ceil(delay), contacts[contacts.length - 1]];
      places.push({ figure, joint, also: [body.root, ...body.trunk, ...feet], from: start, to: end, delay });
    }
    return fitting(performance, random.shuffled(places), bodyTiedToSteps, random);
  },
  perform(performance, place, size) {
    const { figure, joint, from, to, delay } = /** @type {BobPlace} */ (place);
    const before = copy(performance);
    const ahead = size * delay;
    const edge = 2.5 * ahead;
    const course = (/** @type {number} */ frame) =>
      frame + ahead * within(frame, from - edge, from, to, to + edge);
    retime(performance, [joint], ["translation.y"], course);
    const [first, last] = [Math.floor(from - edge), Math.ceil(to + edge)];
    const share = (/** @type {number} */ frame) => within(frame, from - edge, from, to, to + edge);
    const legs = planted(performance, figure, first, last);
    sinkIntoReach(performance, before, figure, legs, first, last, share);
    keepEnds(performance, before, figure, from - edge, to + edge);
  },
  measure(poses, place, twin) {
    const { joint, from, to, delay } = /** @type {BobPlace} */ (place);
    const height = (/** @type {Poses} */ shot) => (/** @type {number} */ frame) =>
      shot.position(joint, sampled(shot, frame))[1];
    return Math.max(0, -lagBehind(height(poses), height(twin), from, to, 2 * delay) / delay);
  },
};
