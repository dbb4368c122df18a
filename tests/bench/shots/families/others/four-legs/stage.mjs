// @ts-check
/**
 * What all shots of four legs share: the animal on its path, its posture, breath, ears and tail.
 * @import { Event, Performance, Random } from "../../../types.d.ts"
 * @import { Plant } from "../tools/legs.mjs"
 */
import { fourLegs } from "../../../bodies/four-legs.mjs";
import { laneOf, play } from "../tools/engine.mjs";
import { beside, groundPath, softBend } from "../tools/ground-path.mjs";
import { breaths, Lane, wandering } from "../tools/lane.mjs";
import { footCourse, legOf } from "../tools/legs.mjs";

/** Ways of standing: hind knees point forward, elbows back. */
const hindStyle = { pole: [0, 0, 1], follow: 0.85, flex: -40, fold: 16 };
const foreStyle = { pole: [0, 0, -1], follow: 0.9, flex: 0, fold: 42 };

/** Breaths per minute at rest (common veterinary ranges). */
const breathing = { dog: [18, 30], cat: [20, 30], horse: [9, 15] };

/**
 * @param {Random} random
 * @param {number} frames
 * @param {object} about
 * @param {readonly ("dog" | "cat" | "horse")[]} about.builds one is picked
 * @param {(build: "dog" | "cat" | "horse") => number} [about.seconds] how long the act takes at least
 * @param {number} [about.turned] degrees by which the path bends in all, at most
 */
export function fourLegStage(random, frames, { builds, turned = 35, seconds = () => 0 }) {
  const able = builds.filter((one) => frames / 24 >= seconds(one));
  const build = random.pick(able.length > 0 ? able : builds);
  const body = fourLegs(build, random.fork("body"), random.chance(0.5) ? "" : `${build}_`);
  const prefix = body.root.slice(0, -"pelvis".length);
  const named = (/** @type {string} */ id) => `${prefix}${id}`;
  const rates = build === "cat" ? [30, 48, 60] : build === "dog" ? [24, 25, 30, 30] : [24, 24, 25, 30];
  const slow = rates.filter((one) => frames / one >= seconds(build));
  const rate = random.pick(slow.length > 0 ? slow : [24]);
  const first = random.pick([1, 1, 1001]);
  const last = first + frames - 1;
  /** @type {Map<string, Lane>} */
  const lanes = new Map();
  const lane = (/** @type {string} */ joint, /** @type {string} */ axis) => laneOf(lanes, named(joint), axis);
  const joint = (/** @type {string} */ id) => {
    const found = body.joints.find((one) => one.id === named(id));
    if (found === undefined) throw new Error(`The animal has no joint "${id}".`);
    return found;
  };
  const size = body.stature;
  const spine = ["spine_a", "spine_b", "spine_c", "chest"];
  const reach = spine.reduce((sum, id) => sum + joint(id).at[2], 0);
  /** @type {Event[]} */
  const events = [];
  const id = build;
  const rest = {
    build,
    body,
    id,
    rate,
    first,
    last,
    size,
    reach,
    spine,
    lane,
    named,
    events,
    random,
    /** Leg's number → how it leaves and where it stands. */
    legs: [0, 1, 2, 3].map((limb) => {
      const leg = legOf(body, body.limbs[limb]);
      const hind = limb < 2;
      const top = hind ? joint(leg.joints[0].slice(prefix.length)).at : null;
      const side = limb % 2 === 0 ? "l" : "r";
      const [blade, arm] = [joint(`shoulder_${side}`).at, joint(`upper_arm_${side}`).at];
      const from = top ?? blade.map((value, k) => value + arm[k]);
      const apart = random.between(-0.008, 0.008) * size;
      return { leg, hind, side, left: from[0] + leg.whole[0] + apart, ahead: from[2] + leg.whole[2] + apart };
    }),
  };
  const path = groundPath({
    start: [random.between(-0.5, 0.5), random.between(-1, 1)],
    yaw: random.between(-60, 60),
    bend: softBend(random.between(-turned, turned), 6 * size),
    length: 8 * size,
  });
  const neutral = (/** @type {number} */ limb) => (/** @type {number} */ along) => {
    const { hind, left, ahead } = rest.legs[limb];
    const at = path(along + (hind ? 0 : reach));
    return { at: beside(at, left, ahead), yaw: at.yaw };
  };
  live(rest);
  return {
    ...rest,
    path,
    neutral,
    /**
     * Makes the table.
     * @param {object} acted
     * @param {(frame: number) => number} acted.along the pelvis' way
     * @param {Map<number, Plant[]>} acted.falls
     * @param {Parameters<typeof footCourse>[1][]} [acted.carried] by leg, feet in a flight
     * @param {{ from: number, to: number, at: (frame: number) => number[] }} [acted.centre]
     * @param {(limb: number, frame: number) => number} [acted.lean] how far hocks and hands lie flat, 0 to 1
     * @param {(limb: number, frame: number) => number} [acted.splay] how far knees point out and up
     * @param {(frame: number) => number} [acted.blade] degrees by which shoulder blades lean besides
     * @returns {import("../tools/engine.mjs").Score}
     */
    score({ along, falls, carried = [], centre, lean, splay, blade }) {
      let before = 0;
      for (const one of spine) {
        const [from, to] = [before, before + joint(one).at[2]];
        before = to;
        laneOf(lanes, named(one), "y").add(
          (frame) => path(along(frame) + to).yaw - path(along(frame) + from).yaw,
        );
      }
      const gaze = (/** @type {number} */ frame) =>
        path(along(frame) + reach + 1.2 * size).yaw - path(along(frame) + reach).yaw;
      for (const [one, share] of /** @type {const} */ ([
        ["neck_a", 0.35],
        ["neck_b", 0.35],
        ["head", 0.3],
      ])) {
        lane(one, "y").add((frame) => share * gaze(frame));
      }
      const floppy = random.chance(0.5) && build === "dog";
      const tails = body.limbs.find(({ kind }) => kind === "tail")?.joints ?? [];
      return {
        body,
        id,
        rate,
        first,
        frames,
        lanes,
        root: (frame) => {
          const at = path(along(frame));
          return { position: [at.x, joint("pelvis").at[1], at.z], yaw: at.yaw };
        },
        legs: rest.legs.map(({ leg, hind, side }, n) => ({
          leg,
          style: hind ? hindStyle : foreStyle,
          foot: leaning(footCourse(falls.get(n) ?? [], carried[n]), n, lean, splay),
          heading: (/** @type {number} */ frame) => path(along(frame) + (hind ? 0 : reach)).yaw,
          ...(hind
            ? {}
            : { blade: { joint: named(`shoulder_${side}`), share: 0.5, ...(blade ? { lean: blade } : {}) } }),
        })),
        loose: [
          { joints: tails, frequency: 2.8 * Math.sqrt(0.6 / size), damping: 0.75, softer: 0.22, limit: 0.3 },
          ...["l", "r"].map((side) => ({
            joints: [named(`ear_${side}`), named(`ear_${side}_tip`)],
            frequency: (floppy ? 2.6 : 5) * Math.sqrt(0.6 / size) * random.between(0.92, 1.08),
            damping: floppy ? 0.35 : 0.6,
          })),
        ],
        centre,
        events,
      };
    },
    /** @param {import("../tools/engine.mjs").Score} score @returns {Performance} */
    made: (score) => play(score).performance,
  };
}

/** @typedef {ReturnType<typeof fourLegStage>} FourLegStage */

/** @param {ReturnType<typeof footCourse>} foot @param {number} limb
 * @param {((limb: number, frame: number) => number) | undefined} lean
 * @param {((limb: number, frame: number) => number) | undefined} splay @returns {ReturnType<typeof footCourse>} */
const leaning = (foot, limb, lean, splay) =>
  lean === undefined
    ? foot
    : (frame) => ({
        ...foot(frame),
        lean: { share: lean(limb, frame), pitch: limb < 2 ? -77 : -76 },
        ...(splay && limb < 2 ? { splay: splay(limb, frame) } : {}),
      });

/** Posture, breath and the small motions of an animal that stands. @param {any} stage */
function live({ build, rate, first, last, size, lane, random }) {
  const own = random.fork("living");
  const still = (/** @type {number} */ by) => own.between(-by, by);
  const posture = { neck_a: -4, neck_b: 2, head: 6 };
  for (const [id, pitch] of Object.entries(posture)) {
    const [x, y, z] = [pitch + still(5), still(0.8), still(0.8)];
    lane(id, "x")
      .add(() => x)
      .add(wandering(own, rate, 0.7));
    lane(id, "y")
      .add(() => y)
      .add(wandering(own, rate, 0.9));
    lane(id, "z").add(() => z);
  }
  const air = breaths(
    own,
    rate,
    own.between(.../** @type {[number, number]} */ (/** @type {any} */ (breathing)[build])),
    first,
    last,
  );
  for (const [id, by, lag] of /** @type {const} */ ([
    ["spine_b", 0.5, 0],
    ["spine_c", 0.35, 1],
    ["chest", -0.75, 1],
    ["neck_a", -0.5, 3],
  ])) {
    lane(id, "x").add((/** @type {number} */ frame) => by * air(frame - lag));
  }
  lane("pelvis", "tx").add(wandering(own, rate, 0.004 * size));
  lane("pelvis", "ty").add(wandering(own, rate, 0.0022 * size));
  lane("pelvis", "tz").add(wandering(own, rate, 0.003 * size));
  lane("pelvis", "z").add(wandering(own, rate, 0.3));
  const [jaw, pant] = [3 + still(1.5), build === "dog" && own.chance(0.4) ? 2.5 : 0];
  const pace = own.between(2.2, 2.8);
  lane("jaw", "x").add(
    (/** @type {number} */ frame) => jaw + pant * (1 + Math.sin((2 * Math.PI * pace * frame) / rate)),
  );
  const curl =
    build === "horse" ? [8, 4, 1, 0, 0] : build === "cat" ? [-5, -8, -10, -12, -14] : [-8, -7, -7, -6, -6];
  curl.forEach((by, n) => {
    const set = by + still(3);
    const sideways = still(3);
    lane(`tail_${n + 1}`, "x")
      .add(() => set)
      .add(wandering(own, rate, 0.8 + 0.4 * n));
    lane(`tail_${n + 1}`, "y")
      .add(() => sideways)
      .add(wandering(own, rate, 1 + 0.9 * n));
  });
  for (const side of ["l", "r"]) {
    const [x, z] = [still(6), still(5)];
    lane(`ear_${side}`, "x")
      .add(() => x)
      .add(wandering(own, rate, 1.6));
    lane(`ear_${side}`, "z")
      .add(() => z)
      .add(wandering(own, rate, 1.4));
    // An ear flicks now and then, one at a time.
    for (let at = first + own.integer(8, 50); at < last - 10; at += own.integer(35, 90)) {
      const span = Math.round(rate * own.between(0.13, 0.18));
      lane(`ear_${side}`, "y").bump(
        at,
        at + span,
        at + span + Math.round(rate * 0.3),
        own.between(10, 22) * (side === "l" ? 1 : -1),
      );
    }
  }
}

/**
 * Turns the head: the head first, the neck behind it, with a dip in the middle (an arc).
 * @param {any} stage @param {number} from @param {number} frames of each part
 * @param {number} yaw degrees to the left @param {number} pitch degrees down
 * @param {string} name
 */
export function turnHead({ lane, named, events, id, first, last }, from, frames, yaw, pitch, name) {
  const parts = /** @type {const} */ ([
    ["head", 0.42, 0],
    ["neck_b", 0.34, 1.5],
    ["neck_a", 0.24, 3],
  ]);
  for (const [joint, share, lag] of parts) {
    lane(joint, "y").move(from + lag, from + lag + frames, yaw * share);
    lane(joint, "x").move(from + lag, from + lag + frames, pitch * share);
    lane(joint, "x").bump(
      from + lag,
      from + lag + frames * 0.5,
      from + lag + frames,
      Math.abs(yaw) * 0.07 * share * 2,
    );
    lane(joint, "z").bump(from + lag, from + lag + frames * 0.5, from + lag + frames, -yaw * 0.06 * share);
  }
  if (from < first || from + frames > last) return;
  events.push({
    kind: "move",
    name,
    figure: id,
    joints: parts.map(([joint]) => named(joint)),
    from: Math.round(from),
    peak: Math.round(from + frames / 2 + 1),
    to: Math.min(last, Math.round(from + frames + 3)),
  });
}

/** Frames in which head and neck rest. @param {any} stage @param {number} from @param {number} to */
export function holdHead({ named, events, id }, from, to) {
  if (to - from < 6) return;
  events.push({
    kind: "hold",
    figure: id,
    joints: ["neck_a", "neck_b", "head"].map(named),
    from: Math.round(from),
    to: Math.round(to),
    moving: true,
  });
}
