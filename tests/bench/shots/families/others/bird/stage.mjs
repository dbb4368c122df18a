// @ts-check
/**
 * What shots of birds share: posture on the ground and in the air, wings that beat and fold, the quick head.
 * @import { Event, Random } from "../../../types.d.ts"
 * @import { Plant } from "../tools/legs.mjs"
 */
import { mix } from "../../../../../../demo/motion/vector.mjs";
import { bird } from "../../../bodies/bird.mjs";
import { centreOn, laneOf, play } from "../tools/engine.mjs";
import { beside, groundPath, softBend } from "../tools/ground-path.mjs";
import { breaths, Lane, wandering } from "../tools/lane.mjs";
import { footCourse, legOf } from "../tools/legs.mjs";

// Standing, the knee points forward; trailing, down.
const style = { pole: [0, -0.6, 0.8], follow: 0.85, flex: -30, fold: 20 };

/** Degrees of thigh, shin, shank and foot that trail behind the tail, and that reach for the ground from a body reared up. */
const trailing = [4, 58, 60, -6];
const reachingDown = [-34, 40, -4, 8];
const nowhere = { place: [0, 0, 0], yaw: 0, pitch: 0, fold: 0, planted: false };

/**
 * @param {Random} random @param {number} frames
 * @param {{ light?: boolean, turned?: number, rates?: number[] }} [about]
 */
export function birdStage(random, frames, { light = false, turned = 0, rates = [24, 25, 30] } = {}) {
  const prefix = random.chance(0.5) ? "" : "bird_";
  const { body, beats } = bird(random.fork("body"), prefix, light);
  const named = (/** @type {string} */ id) => `${prefix}${id}`;
  const rate = random.pick(rates);
  const first = random.pick([1, 1, 1001]);
  const last = first + frames - 1;
  const size = body.stature;
  const id = body.build;
  /** @type {Map<string, Lane>} */
  const lanes = new Map();
  const lane = (/** @type {string} */ joint, /** @type {string} */ axis) => laneOf(lanes, named(joint), axis);
  /** @type {Event[]} */
  const events = [];
  const own = random.fork("living");
  const fold = new Lane();
  const [yaw, away] = [random.between(-60, 60), turned * random.between(0.4, 1) * random.pick([-1, 1])];
  const path = groundPath({ start: [0, 0], yaw, bend: softBend(away, 46 * size), length: 50 * size });
  const legs = [0, 1].map((limb) => {
    const leg = legOf(body, body.limbs[limb]);
    const top = body.joints.find((one) => one.id === leg.joints[0])?.at ?? [0, 0, 0];
    const apart = own.between(-0.012, 0.012) * size;
    return { leg, left: top[0] + leg.whole[0], ahead: top[2] + leg.whole[2] + apart };
  });
  const stage = {
    body,
    id,
    beats,
    rate,
    first,
    last,
    frames,
    size,
    lanes,
    lane,
    named,
    events,
    own,
    random,
    fold,
    path,
    legs,
  };
  wings(stage);
  living(stage);
  return {
    ...stage,
    /** Where a foot stands if the bird stands at a length along the path. @param {number} limb @param {number} along */
    stands: (limb, along) => ({
      at: beside(path(along), legs[limb].left, legs[limb].ahead),
      yaw: path(along).yaw,
    }),
    /**
     * @param {object} acted
     * @param {(frame: number) => number} acted.along
     * @param {Map<number, Plant[]>} acted.falls
     * @param {(frame: number) => number[] | null} [acted.airborne] the centre of mass while no foot stands
     * @param {(frame: number) => number} [acted.reaching] 0: legs drawn up; 1: held down for the landing
     * @param {{ from: number, to: number, at: (frame: number) => number[] }} [acted.centre]
     * @returns {import("../tools/engine.mjs").Score}
     */
    score({ along, falls, airborne = () => null, reaching = () => 0, centre }) {
      /** In the air the legs are not solved: they trail, or reach for the ground. @param {number} limb */
      const flown = (limb) => {
        const plants = falls.get(limb) ?? [];
        const foot = plants.length > 0 ? footCourse(plants) : () => nowhere;
        const still = own.between(-4, 4);
        return (/** @type {number} */ frame) => {
          const foot0 = foot(frame);
          if (airborne(frame) === null) return foot0;
          const low = reaching(frame - limb);
          const angles = trailing.map((by, n) => [by + (reachingDown[n] - by) * low + still, 0, 0]);
          const [from, to] = around(plants, frame);
          const share = soft((frame - from) / (0.3 * rate)) * soft((to - frame) / (0.38 * rate));
          // What is still or already solved stays to the body as it was at leaving, or as it will be at touching down.
          const leaving = frame - from < to - frame;
          const stood = leaving ? from : to;
          const plant = plants.find((one) => (leaving ? one.to : one.from) === stood);
          const [now, then] = [centre?.at(frame), centre?.at(stood)];
          const place =
            plant === undefined || now === undefined || then === undefined
              ? foot0.place
              : plant.at.map(
                  (value, k) => value + (k === 1 ? Math.max(0, now[k] - then[k]) : now[k] - then[k]),
                );
          return { ...foot0, place, free: { share, angles } };
        };
      };
      return {
        body,
        id,
        rate,
        first,
        frames,
        lanes,
        root: (frame) => {
          const at = path(along(frame));
          const height = airborne(frame)?.[1] ?? body.joints[0].at[1];
          return { position: [at.x, height, at.z], yaw: at.yaw };
        },
        legs: legs.map(({ leg }, limb) => ({
          leg,
          style,
          foot: flown(limb),
          heading: (/** @type {number} */ frame) => path(along(frame)).yaw,
        })),
        loose: [],
        centre,
        events,
      };
    },
    /** Shifts the standing bird so that it stands over its feet. @param {import("../tools/engine.mjs").Score} score
     * @param {number} frame @param {number} [along] where it stands */
    balance(score, frame, along = 0) {
      const middle = centreOn(score, frame);
      const at = path(along);
      const feet = mix(beside(at, legs[0].left, legs[0].ahead), beside(at, legs[1].left, legs[1].ahead), 0.5);
      const [sine, cosine] = [Math.sin((at.yaw * Math.PI) / 180), Math.cos((at.yaw * Math.PI) / 180)];
      // The middle of the sole lies a little ahead of the foot's joint.
      const off = (middle[0] - feet[0]) * sine + (middle[2] - feet[2]) * cosine - 0.012 * size;
      lane("body", "tz").add(() => -off);
    },
    /** @param {import("../tools/engine.mjs").Score} score */
    made: (score) => play(score).performance,
  };
}

/** @param {Plant[]} plants @param {number} frame @returns {[number, number]} last and next frame of standing */
function around(plants, frame) {
  const before = plants.filter(({ to }) => to <= frame).map(({ to }) => to);
  const behind = plants.filter(({ from }) => from >= frame).map(({ from }) => from);
  return [Math.max(-1e6, ...before), Math.min(1e6, ...behind)];
}

const soft = (/** @type {number} */ tau) => {
  const t = Math.max(0, Math.min(1, tau));
  return t * t * t * (10 + t * (6 * t - 15));
};

/** Folded wings lie along the body: the upper arm back, the forearm forward, the hand back. @param {any} stage */
function wings({ lane, fold }) {
  for (const [s, sign] of /** @type {const} */ ([
    ["l", 1],
    ["r", -1],
  ])) {
    // One wing is folded a little before the other, and the hand behind the forearm.
    const late = s === "l" ? 0 : 1;
    lane(`arm_${s}`, "y").add((/** @type {number} */ f) => sign * 74 * fold.at(f - late));
    lane(`forearm_${s}`, "y").add((/** @type {number} */ f) => -sign * 152 * fold.at(f - late - 1));
    lane(`hand_${s}`, "y").add((/** @type {number} */ f) => sign * 156 * fold.at(f - late - 2));
    lane(`arm_${s}`, "z").add((/** @type {number} */ f) => -sign * 16 * fold.at(f - late));
    lane(`forearm_${s}`, "z").add((/** @type {number} */ f) => sign * 7 * fold.at(f - late));
  }
}

/**
 * Lets wings beat by a flight: the shoulder by its strokes; forearm and hand later, bent in the upstroke.
 * @param {any} stage @param {import("../tools/air.mjs").Air} air
 * @param {{ from: number, bottom: number, to: number, sweep: number }[]} beats
 */
export function beatWings({ lane }, air, beats) {
  /** How far up the upstroke is, 0 to 1 to 0, and how wide the beat. @param {number} frame */
  const bent = (frame) => {
    let sum = 0;
    for (const { bottom, to, sweep } of beats) {
      const tau = (frame - bottom + 0.1 * (to - bottom)) / (1.1 * (to - bottom));
      if (tau > 0 && tau < 1) sum += (sweep / 80) * 16 * (tau * (1 - tau)) ** 2;
    }
    return sum;
  };
  // How quickly the shoulder turns bends the wing against the air, and twists it.
  const quick = (/** @type {number} */ frame) => air.angle(frame + 0.5) - air.angle(frame - 0.5);
  for (const [s, sign] of /** @type {const} */ ([
    ["l", 1],
    ["r", -1],
  ])) {
    lane(`arm_${s}`, "z").add((/** @type {number} */ f) => sign * air.angle(f));
    lane(`arm_${s}`, "y").add((/** @type {number} */ f) => sign * 14 * bent(f));
    lane(`forearm_${s}`, "y").add((/** @type {number} */ f) => -sign * 34 * bent(f));
    lane(`hand_${s}`, "y").add((/** @type {number} */ f) => sign * 46 * bent(f - 0.5));
    lane(`forearm_${s}`, "z").add((/** @type {number} */ f) => -sign * 0.55 * quick(f - 0.4));
    lane(`hand_${s}`, "z").add((/** @type {number} */ f) => -sign * 0.8 * quick(f - 0.9));
    lane(`arm_${s}`, "x").add((/** @type {number} */ f) => -0.5 * quick(f));
    lane(`hand_${s}`, "x").add((/** @type {number} */ f) => -0.4 * quick(f - 0.6));
  }
}

/** Breath and small motions. @param {any} stage */
function living({ lane, own, rate, size, first, last }) {
  const air = breaths(own, rate, own.between(18, 28), first, last);
  lane("chest", "x")
    .add((/** @type {number} */ f) => -1.2 * air(f))
    .add(wandering(own, rate, 0.4));
  lane("neck_a", "x")
    .add((/** @type {number} */ f) => 0.8 * air(f - 1))
    .add(wandering(own, rate, 0.5));
  for (const axis of ["y", "z"]) lane("body", axis).add(wandering(own, rate, 0.4));
  lane("body", "tx").add(wandering(own, rate, 0.002 * size));
  lane("body", "ty").add(wandering(own, rate, 0.0015 * size));
  lane("head", "z").add(wandering(own, rate, 0.4));
  lane("tail", "x").add(wandering(own, rate, 1));
  lane("tail", "y").add(wandering(own, rate, 1));
  for (const [s, sign] of /** @type {const} */ ([
    ["l", 1],
    ["r", -1],
  ])) {
    const wide = own.between(3, 8);
    lane(`fan_${s}`, "y")
      .add(() => -sign * wide)
      .add(wandering(own, rate, 1.2));
    lane(`arm_${s}`, "x").add(wandering(own, rate, 0.5));
    lane(`hand_${s}`, "y").add(wandering(own, rate, 0.6));
  }
}

/**
 * Birds look by quick turns of the head with rests between them.
 * @param {any} stage @param {number} from @param {number} to
 */
export function lookQuickly({ lane, named, events, id, rate, random, last }, from, to) {
  let at = Math.round(from);
  let [yaw, pitch] = [0, 0];
  const joints = ["neck_b", "head"];
  while (at < to) {
    const home = to - at < 1.2 * rate;
    const [nextYaw, nextPitch] = home ? [0, 0] : [random.between(-48, 48), random.between(-12, 10)];
    const span = Math.max(4, Math.round(rate * (0.1 + Math.abs(nextYaw - yaw) / 420)));
    if (at + span + 1 > Math.min(to, last)) break;
    lane("head", "y").move(at, at + span, 0.72 * (nextYaw - yaw));
    lane("neck_b", "y").move(at + 1, at + span + 1, 0.28 * (nextYaw - yaw));
    lane("head", "x")
      .move(at, at + span, nextPitch - pitch)
      .bump(at, at + span * 0.5, at + span, 2.5);
    lane("head", "z").move(at, at + span, -0.12 * (nextYaw - yaw));
    events.push({
      kind: "move",
      name: "glance",
      figure: id,
      joints: joints.map(named),
      from: at,
      peak: Math.round(at + span / 2),
      to: at + span + 1,
    });
    const rest = Math.round(rate * random.between(0.35, 0.9));
    const until = Math.min(last, Math.round(to), at + span + 1 + rest);
    if (until - at - span > 7) {
      events.push({
        kind: "hold",
        figure: id,
        joints: joints.map(named),
        from: at + span + 1,
        to: until,
        moving: true,
      });
    }
    [yaw, pitch] = [nextYaw, nextPitch];
    if (home) break;
    at = until;
  }
}

/** Posture on the ground: body up by so many degrees, neck and head level. @param {any} stage @param {Lane} share 1 on the
 * ground, 0 in the air @param {number} upright degrees */
export function posture({ lane, id }, share, upright) {
  const neck = id === "heron" ? [-16, 30] : [-8, 16];
  lane("body", "x").add((/** @type {number} */ f) => -4 - (upright - 4) * share.at(f));
  lane("chest", "x").add((/** @type {number} */ f) => 2 - 5 * share.at(f));
  lane("neck_a", "x").add((/** @type {number} */ f) => 48 + (neck[0] - 32) * share.at(f - 1));
  lane("neck_b", "x").add((/** @type {number} */ f) => 6 + (neck[1] - 12) * share.at(f - 2));
  lane("head", "x").add(
    (/** @type {number} */ f) => -52 + (52 + upright - neck[0] - neck[1] + 14) * share.at(f - 3),
  );
  lane("tail", "x").add((/** @type {number} */ f) => 4 + 8 * share.at(f - 2));
}
