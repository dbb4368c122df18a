// @ts-check
/**
 * Footfalls from a stand to a stand: which leg swings when, and where it lands.
 * @import { Event } from "../../../types.d.ts"
 * @import { Plant } from "./legs.mjs"
 */

/**
 * @typedef {object} GaitLeg
 * @property {number} limb index into the body's limbs
 * @property {number} phase when it lands, as a share of the stride
 * @property {(along: number) => { at: number[], yaw: number }} neutral where it stands when the body stands there
 */

/**
 * @param {object} about
 * @param {GaitLeg[]} about.legs
 * @param {(frame: number) => number} about.along the body's way in metres
 * @param {number} about.stride frames of a stride @param {number} about.duty share of it that a foot stands
 * @param {number} about.from frame at which the leg of phase 0 first leaves @param {number} about.to frame at which the body stands
 * @param {number} about.first first frame of the shot @param {number} about.last
 * @param {number} about.least metres; shorter steps are not taken
 * @param {Omit<Plant, "from" | "to" | "at" | "yaw">} about.foot how feet leave and are carried
 * @returns {Map<number, Plant[]>} by limb
 */
export function footfalls({ legs, along, stride, duty, from, to, first, last, least, foot }) {
  /** @type {Map<number, Plant[]>} */
  const out = new Map();
  const air = (1 - duty) * stride;
  for (const { limb, phase, neutral } of legs) {
    const home = neutral(along(first));
    /** @type {Plant[]} */
    const plants = [{ from: first, to: last, at: home.at, yaw: home.yaw }];
    for (let k = 0; ; k++) {
      const off = from + (phase + k) * stride;
      if (off > to + stride) break;
      const [leaves, lands] = [Math.round(off), Math.round(off + air)];
      if (leaves >= last) break;
      const stands = plants[plants.length - 1];
      const { at, yaw } = neutral(along(off + air + (duty * stride) / 2));
      const way = Math.hypot(at[0] - stands.at[0], at[2] - stands.at[2]);
      if (way < least) continue;
      Object.assign(stands, foot, {
        to: leaves,
        lift: (foot.lift ?? 0) * Math.min(1, 0.45 + way / (least * 12)),
      });
      stands.push = (foot.push ?? 0) * Math.min(1, way / (least * 12));
      plants.push({ from: lands, to: last, at, yaw });
    }
    out.set(limb, plants);
  }
  return out;
}

/** Plants and swings as events, cut at the shot's last frame. @param {string} figure
 * @param {Map<number, Plant[]>} falls @param {boolean} rolls @param {number} [last] @returns {Event[]} */
export function stepEvents(figure, falls, rolls, last = Number.POSITIVE_INFINITY) {
  /** @type {Event[]} */
  const events = [];
  for (const [limb, plants] of falls) {
    plants.forEach(({ from, to, push = 0 }, n) => {
      if (from >= last) return;
      events.push({ kind: "plant", figure, limb, from, to: Math.min(last, to), rolls: rolls && push > 0 });
      if (n + 1 < plants.length && to < last) {
        events.push({ kind: "swing", figure, limb, from: to, to: Math.min(last, plants[n + 1].from) });
      }
    });
  }
  return events;
}

/**
 * A way that begins and ends at rest: speed rises and falls by minimum jerk.
 * @param {number} from @param {number} to frames @param {number} rise frames of the rise @param {number} fall
 * @param {number} perFrame metres per frame in between
 */
export function wayOf(from, to, rise, fall, perFrame) {
  const ramp = (/** @type {number} */ t, /** @type {number} */ T) => {
    const u = t / T;
    return u <= 0 ? 0 : u >= 1 ? t - T / 2 : T * u * u * u * u * (2.5 + u * (u - 3));
  };
  const speedOf = (/** @type {number} */ u) =>
    u <= 0 ? 0 : u >= 1 ? 1 : u * u * u * (10 + u * (6 * u - 15));
  return {
    along: (/** @type {number} */ frame) =>
      perFrame * (ramp(frame - from, rise) - ramp(frame - (to - fall), fall)),
    /** 0 to 1. @param {number} frame */
    share: (frame) => speedOf((frame - from) / rise) - speedOf((frame - (to - fall)) / fall),
    length: perFrame * (to - from - rise / 2 - fall / 2),
  };
}
