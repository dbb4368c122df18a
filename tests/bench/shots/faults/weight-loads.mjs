// @ts-check
/**
 * Things that are held: loads that weigh nothing, grips that slip.
 * @import { FaultKind, Performance, Place, Poses, Vector } from "../types.d.ts"
 */
import { inverse, rotate, subtract } from "../../../../demo/motion/vector.mjs";
import { addTrack, channelAt, minimumJerk, resolve, trackOf, worldAt } from "../motion/index.mjs";
import { fitting } from "./tools/fitting.mjs";
import { bodyOf, endOf, eventsOf, isBlocked, isPosedIn } from "./tools/limbs.mjs";
import { at24, between, over, within } from "./tools/windows.mjs";

/** @typedef {Place & { prop: string, limbs: number[], leaves: number, up: number }} LiftPlace */

/**
 * When a prop leaves the ground and when it has arrived, after it was taken hold of; null where it is not lifted.
 * @param {Performance} performance @param {{ prop: string, from: number, to: number }} hold
 * @param {number} least metres
 */
function liftIn(performance, { prop, from, to }, least) {
  const heights = over(from, to, (frame) => channelAt(performance, prop, "translation.y", frame));
  const highest = heights.indexOf(Math.max(...heights));
  const rise = heights[highest] - heights[0];
  if (rise < least) return null;
  const leaves = heights.findIndex((height) => height - heights[0] > 0.004 * rise) - 1;
  const up = heights.findIndex((height) => height - heights[0] > 0.985 * rise);
  return { leaves: from + Math.max(0, leaves), up: from + up };
}

/** @type {FaultKind} */
export const weightlessLoad = {
  name: "weightless load",
  checks: ["no-load"],
  unit: "share of the time to half of its height by which a load rises too soon",
  sizes: [
    {
      value: 0.3,
      reason:
        "Observers do not tell natural lifts of other masses apart (Hoyet and others 2010): a third less time is the least that reads as light.",
    },
    {
      value: 0.42,
      reason:
        "The load is half way up in little more than half its time, before knees and back have answered.",
    },
    {
      value: 0.55,
      reason:
        "It leaps up at once, with no loading phase (200 to 400 ms, Johansson and Westling), as an empty box does.",
    },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    /** @type {Place[]} */
    const places = [];
    for (const hold of eventsOf(performance, "hold-prop")) {
      const body = bodyOf(performance, hold.figure);
      const mass = performance.props.find(({ id }) => id === hold.prop)?.mass ?? 0;
      const lift = liftIn(performance, hold, 0.12 * body.stature);
      if (mass < 0.06 * body.mass || lift === null || lift.up - lift.leaves < at24(performance, 8)) continue;
      const hands = hold.limbs.map((n) => endOf(body.limbs[n]));
      places.push({
        figure: hold.figure,
        joint: hold.prop,
        also: [...hands, ...hold.limbs.flatMap((n) => body.limbs[n].joints), ...body.trunk],
        from: lift.leaves,
        to: lift.up,
        prop: hold.prop,
        limbs: [...hold.limbs],
        ...lift,
      });
    }
    return fitting(performance, random.shuffled(places), weightlessLoad, random);
  },
  perform(performance, place, size) {
    const { figure, prop, limbs, leaves, up } = /** @type {LiftPlace} */ (place);
    const track = trackOf(performance, prop, "translation.y");
    const before = track.slice();
    const at = (/** @type {number} */ frame) => between(before, frame - performance.first);
    const half = (at(leaves) + at(up)) / 2;
    let middle = leaves;
    while (middle < up && at(middle) < half) middle += 0.05;
    const span = up - leaves;
    // Read ahead along 1 − (1 − u)^p, with p such that half of the height is reached a share of the time sooner.
    const [was, is] = [(middle - leaves) / span, ((1 - size) * (middle - leaves)) / span];
    const power = Math.log(1 - was) / Math.log(1 - is);
    const course = (/** @type {number} */ frame) =>
      leaves + span * (1 - (1 - (frame - leaves) / span) ** power);
    const rises = over(leaves, up, (frame) => Math.max(0, at(course(frame)) - at(frame)));
    const raised = (/** @type {number} */ frame) => rises[frame - leaves] ?? 0;
    const shift = (/** @type {number} */ frame) => /** @type {Vector} */ ([0, raised(frame), 0]);
    moveEnds(performance, figure, limbs, leaves, up, shift);
    addTrack(performance, prop, "translation.y", raised, leaves, up);
  },
  measure(poses, place, twin) {
    const { prop, leaves, up } = /** @type {LiftPlace} */ (place);
    const time = (/** @type {Poses} */ shot) => {
      const heights = over(leaves, up, (frame) => shot.position(prop, frame)[1]);
      const half = (twin.position(prop, leaves)[1] + twin.position(prop, up)[1]) / 2;
      const next = heights.findIndex((height) => height >= half);
      if (next < 1) return next < 0 ? heights.length : 0;
      return next - 1 + (half - heights[next - 1]) / (heights[next] - heights[next - 1]);
    };
    return Math.max(0, 1 - time(poses) / (time(twin) || 1));
  },
};

/**
 * Moves the ends of limbs by a shift of each frame, their turns kept.
 * @param {Performance} performance changed in place @param {string} figure @param {readonly number[]} limbs
 * @param {number} from @param {number} to @param {(frame: number) => Vector} shift
 * @param {Performance} [usual] where they are without the shift
 */
export function moveEnds(performance, figure, limbs, from, to, shift, usual) {
  const before = usual ?? {
    ...performance,
    tracks: new Map([...performance.tracks].map(([name, values]) => [name, values.slice()])),
  };
  for (const limb of limbs) {
    const end = endOf(bodyOf(performance, figure).limbs[limb]);
    resolve(performance, before, figure, limb, Math.ceil(from), Math.floor(to), (frame) => {
      const { position, quaternion } = worldAt(before, end, frame);
      const by = shift(frame);
      return { position: [position[0] + by[0], position[1] + by[1], position[2] + by[2]], quaternion };
    });
  }
}

/** @typedef {Place & { prop: string, limb: number, toward: Vector, back: number, after: number }} SlipPlace */

/** @type {FaultKind} */
export const slippingProp = {
  name: "slipping prop",
  checks: ["grip-slip"],
  unit: "statures by which a held prop slides along the hand",
  sizes: [
    {
      value: 0.01,
      reason:
        "17 mm on a grown person: under the 21 mm at which most slides of feet are seen (Pražák, Hoyet and O'Sullivan 2011), but at the hand, where one looks.",
    },
    { value: 0.02, reason: "34 mm, more than a finger's breadth; the thing is seen to slip." },
    { value: 0.045, reason: "8 cm, the breadth of the palm: it is no longer held." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    /** @type {Place[]} */
    const places = [];
    for (const hold of eventsOf(performance, "hold-prop")) {
      // Before it is let go of it is back in place, so that it lies where it lay.
      const back = hold.to < performance.last ? Math.round(at24(performance, 9)) : 0;
      const room = hold.to - back - hold.from;
      if (room < at24(performance, 12)) continue;
      const body = bodyOf(performance, hold.figure);
      const limb = hold.limbs[0];
      const turn = random.between(0, 2 * Math.PI);
      const toward = /** @type {Vector} */ ([
        Math.cos(turn) * 0.8,
        random.chance(0.5) ? 0.6 : -0.6,
        Math.sin(turn) * 0.8,
      ]);
      const length = Math.min(room, Math.round(at24(performance, random.between(16, 30))));
      const from = hold.from + Math.round(random.next() * (room - length));
      if (isBlocked(clean) && !isPosedIn(clean, hold.prop, from + length, hold.to - back)) continue;
      places.push({
        figure: hold.figure,
        joint: hold.prop,
        also: hold.limbs.flatMap((n) => body.limbs[n].joints),
        from,
        to: from + length,
        prop: hold.prop,
        limb,
        toward,
        back: hold.to - back,
        after: back === 0 ? performance.last + 1 : hold.to,
      });
    }
    return random.shuffled(places);
  },
  perform(performance, place, size) {
    const { figure, prop, from, to, toward, back, after, limb } = /** @type {SlipPlace} */ (place);
    const { stature, limbs } = bodyOf(performance, figure);
    const hand = endOf(limbs[limb]);
    const start = worldAt(performance, hand, from).quaternion;
    const end = Math.min(performance.last, after);
    const turned = new Map(over(from, end, (frame) => [frame, worldAt(performance, hand, frame).quaternion]));
    const local = rotate(inverse([...start]), toward);
    /** @type {const} */ (["x", "y", "z"]).forEach((axis, n) => {
      const slid = (/** @type {number} */ frame) =>
        size *
        stature *
        minimumJerk((frame - from) / (to - from)) *
        rotate([...(turned.get(frame) ?? start)], local)[n] *
        within(frame, from - 1, from, back, after);
      addTrack(performance, prop, `translation.${axis}`, slid, from, end);
    });
  },
  measure(poses, place, twin) {
    const { figure, prop, from, back, limb } = /** @type {SlipPlace} */ (place);
    const { stature, limbs } = bodyOf(poses.performance, figure);
    const hand = endOf(limbs[limb]);
    const held = (/** @type {Poses} */ shot, /** @type {number} */ frame) =>
      rotate(
        inverse(shot.orientation(hand, frame)),
        subtract(shot.position(prop, frame), shot.position(hand, frame)),
      );
    const slid = (/** @type {number} */ frame) => subtract(held(poses, frame), held(twin, frame));
    const start = slid(from);
    return Math.max(...over(from, back, (frame) => Math.hypot(...subtract(slid(frame), start)))) / stature;
  },
};
