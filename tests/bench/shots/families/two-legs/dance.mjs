// @ts-check
/** Families: puppets that dance. */
import { add, rotate, turn } from "../../../../../demo/motion/vector.mjs";
import { puppet } from "../../bodies/puppet.mjs";
import { sides } from "../../bodies/two-legs.mjs";
import { lookTo } from "./gestures.mjs";
import { jump } from "./jump.mjs";
import { solo } from "./solo.mjs";
import { takeSteps, turnOnSpot } from "./steps.mjs";

/** @import { Family } from "../../types.d.ts" @import { Actor } from "./actor.mjs" */

/**
 * Steps from side to side in time; knees give on every beat, arms and trunk swing over it, each part later than the one that
 * carries it.
 * @param {Actor} actor @param {number} from @param {number} beats @returns {number}
 */
function swayAndStep(actor, from, beats) {
  const { score, random, H } = actor;
  const T = actor.frames(random.between(0.62, 0.78));
  const start = from + actor.frames(0.4);
  const swing = Math.round(0.5 * T);
  const center = actor.middle;
  let side = random.pick(sides);
  /** @type {import("./steps.mjs").Step[]} */
  const list = [];
  for (let n = 0; n < beats; n++) {
    const out = side === "l" ? 1 : -1;
    const last = n >= beats - 2;
    const wide = actor.half * (last ? 1 : random.between(1.25, 1.7));
    const heading = actor.heading + (last ? 0 : out * random.between(0, 9));
    const ahead = last ? 0 : H * random.between(-0.035, 0.05);
    list.push({
      side,
      lift: Math.round(start + n * T),
      land: Math.round(start + n * T) + swing,
      at: add(center, rotate(turn(1, actor.heading), [out * wide, 0, ahead])),
      heading,
      strike: 7,
      push: 24,
      raise: H * random.between(0.05, 0.09),
      give: Math.max(2, Math.round(0.2 * T)),
      heel: Math.round(0.35 * T),
      carry: 0.1,
    });
    side = side === "l" ? "r" : "l";
  }
  const heading = actor.heading;
  const to = takeSteps(actor, from, list, {
    share: 0.85,
    firstShare: 0.8,
    low: 0.03 * H,
    high: 0.012 * H,
    looks: false,
  });
  actor.heading = heading;
  score.to("pelvis.yaw", to - actor.frames(0.5), to, heading);
  const end = list[beats - 1].land;
  const size = (/** @type {number} */ frame) => {
    const u = Math.max(0, Math.min(1, (frame - from) / (1.3 * T)));
    const v = Math.max(0, Math.min(1, (to - frame) / (1.3 * T)));
    return u * u * (3 - 2 * u) * (v * v * (3 - 2 * v));
  };
  const first = list[0].side === "l" ? 1 : -1;
  const beat = (/** @type {number} */ frame) => (Math.PI * (frame - list[0].land)) / T;
  /** @type {(channel: string, amount: number, shape: (beat: number) => number, later?: number) => void} */
  const wave = (channel, amount, shape, later = 0) =>
    score.add(channel, (frame) => {
      const a = size(frame - later);
      return a === 0 ? 0 : a * amount * shape(beat(frame - later));
    });
  const { cos, sin } = Math;
  wave("trunk.side", -7 * first, (b) => cos(b), 0.12 * T);
  wave("trunk.twist", 9 * first, (b) => sin(b + 0.6), 0.1 * T);
  wave("trunk.bend", 3, (b) => cos(2 * b), 0.1 * T);
  wave("look.roll", 8 * first, (b) => cos(b), 0.3 * T);
  wave("look.yaw", 10 * first, (b) => sin(b), 0.25 * T);
  const shape = random.pick(["swing", "both up", "one up"]);
  for (const arm of sides) {
    const sign = arm === "l" ? 1 : -1;
    const uneven = random.between(0.8, 1.2);
    const up = shape === "both up" || (shape === "one up" && sign === first);
    if (up) {
      wave(`arm.flex.${arm}`, 40 * uneven, () => 1);
      wave(`arm.out.${arm}`, 22 * uneven, (b) => 1 + 0.5 * cos(b + (sign > 0 ? 0 : 0.5)), 0.15 * T);
      wave(`elbow.${arm}`, 60 * uneven, (b) => 0.9 + 0.35 * sin(b + 0.3 * sign), 0.25 * T);
    } else {
      wave(`arm.flex.${arm}`, 26 * uneven, (b) => sign * first * cos(b) + 0.2, 0.15 * T);
      wave(`arm.out.${arm}`, 12 * uneven, (b) => 0.7 + 0.6 * sin(b) * sign * first, 0.2 * T);
      wave(`elbow.${arm}`, 24 * uneven, (b) => 0.8 + 0.6 * cos(b + 0.4) * sign * first, 0.3 * T);
    }
    wave(`wrist.bend.${arm}`, 16 * uneven, (b) => sin(b + sign), 0.4 * T);
    wave(`clavicle.lift.${arm}`, 5 * uneven, (b) => 0.5 + 0.5 * cos(b * 2), 0.05 * T);
  }
  actor.events.push({ kind: "gait", figure: actor.id, name: "dance", from: list[0].lift, to: end });
  return to;
}

/** @type {Family[]} */
export const dancing = [
  {
    name: "puppet",
    action: "dance",
    weight: 2.5,
    make: function puppetDances(random, frames) {
      return solo(random, frames, puppet(random.fork("body")), (actor, at, n) => {
        const own = actor.random;
        const kind = n === 0 ? "sway" : own.pick(["sway", "sway", "turn", "hop", "look"]);
        if (kind === "turn")
          return turnOnSpot(actor, at, own.pick([-1, 1]) * own.between(60, 180), { pace: 0.5 });
        if (kind === "hop") {
          return jump(actor, at, {
            height: actor.H * own.between(0.06, 0.13),
            left: actor.H * own.between(-0.1, 0.1),
            depth: 0.1,
          });
        }
        if (kind === "look")
          return lookTo(actor, at, own.between(-40, 40), own.between(-10, 10)) + actor.frames(0.5);
        return swayAndStep(actor, at, 2 * own.integer(2, 3));
      });
    },
  },
];
