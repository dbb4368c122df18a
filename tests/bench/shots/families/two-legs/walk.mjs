// @ts-check
/** Walking: steps along a path, and what hips, trunk and arms do over the legs. */
import { add, rotate, turn } from "../../../../../demo/motion/vector.mjs";
import { sides } from "../../bodies/two-legs.mjs";
import { roundedPath } from "./score.mjs";
import { takeSteps } from "./steps.mjs";

/** @import { Actor } from "./actor.mjs" @import { Random } from "../../types.d.ts" */

/**
 * How somebody walks.
 * @typedef {object} Gait
 * @property {number} length of a step as a share of the stature (a brisk walk: 0.41 to 0.43; common practice)
 * @property {number} time of a step in seconds for a grown person (0.56 preferred, 0.69 slow; table of step times)
 * @property {number} stance share of a stride that a foot stands (60 % nominal; less when quicker)
 * @property {number} yaw turn of the pelvis to each side, degrees @property {number} counter of the chest
 * @property {number} list drop of the pelvis on the free side, degrees
 * @property {number} arms swing of the arms to each side, degrees @property {number} elbows bend in the forward swing
 * @property {number} lean of the trunk @property {number} uneven of left against right, a share
 */

/** @param {Random} random @returns {Gait} */
export function gaitOf(random) {
  const pace = random.between(0, 1);
  return {
    length: 0.33 + 0.08 * pace,
    time: 0.64 - 0.1 * pace,
    stance: 0.64 - 0.04 * pace,
    yaw: random.between(3, 5),
    counter: random.between(3, 6),
    list: random.between(2.5, 4.5),
    arms: random.between(9, 14) + 7 * pace,
    elbows: random.between(6, 14),
    lean: random.between(1, 4),
    uneven: random.between(0.03, 0.1),
  };
}

/**
 * @typedef {object} Walk
 * @property {number} from @property {number} steps the last one brings the feet together
 * @property {Gait} gait @property {number} [turns] degrees by which the path turns, to the left above 0
 * @property {"l" | "r"} [first] foot @property {number} [arms] share of the arms' swing
 */

/**
 * Walks from a stand to a stand.
 * @param {Actor} actor @param {Walk} walk
 * @returns {{ to: number, away: number, stop: number }} frame at which it rests, of the first and of the last lift
 */
export function walkOn(
  actor,
  { from, steps, gait, turns = 0, first = actor.share > 0.5 ? "r" : "l", arms = 1 },
) {
  const { H, rig } = actor;
  const T = actor.frames(gait.time);
  const swing = Math.round(2 * T * (1 - gait.stance));
  // Short legs take short steps, however big the head is: no longer than those of a grown person over the leg.
  const step = gait.length * Math.min(H, (actor.rig.thigh + actor.rig.shank) / 0.45);
  const half = Math.min(actor.half, 0.07 * (rig.thigh + rig.shank));
  const start = from + actor.frames(0.5);
  const total = (steps - 1.4) * step;
  const begin = actor.middle;
  const startHeading = actor.heading;
  const headingAt = (/** @type {number} */ s) =>
    startHeading + (turns * Math.max(0, Math.min(total, s))) / total;
  // The path's middle line, walked along in small pieces.
  const pieces = 16 * steps;
  const line = [begin];
  for (let n = 1; n <= pieces; n++) {
    const s = (total * (n - 0.5)) / pieces;
    line.push(add(line[n - 1], rotate(turn(1, headingAt(s)), [0, 0, total / pieces])));
  }
  /** @type {import("./steps.mjs").Step[]} */
  const list = [];
  let side = first;
  let land = start + swing;
  for (let n = 0; n < steps; n++) {
    const last = n === steps - 1;
    const s = last ? total : Math.min(total, step * (0.6 + n));
    const out = side === "l" ? 1 : -1;
    const wide = last || n === steps - 2 ? actor.half * 0.95 : half;
    const center = line[Math.round((s / total) * pieces)];
    const heading = headingAt(s);
    const uneven = last ? -0.015 * H : gait.uneven * 0.1 * out * step;
    list.push({
      side,
      lift: land - swing,
      land,
      at: add(center, rotate(turn(1, heading), [out * wide, 0, uneven])),
      heading,
      strike: last ? -4 : -17 - 4 * gait.uneven * out,
      push: n === 0 ? 28 : 48 + 30 * gait.uneven * out,
      raise: (last ? 0.015 : 0.02) * H,
      give: Math.max(3, Math.round(0.26 * T)),
      heel: Math.round(n === 0 ? 0.55 * T : 0.75 * T),
      carry: last ? 0.1 : 0.28,
    });
    side = side === "l" ? "r" : "l";
    land += Math.round(n === steps - 2 ? 1.12 * T : T);
  }
  const lift = list[0].lift;
  const to = takeSteps(actor, from, list, {
    share: 0.62,
    firstShare: 0.62,
    forward: 0.1 * step,
    lookAhead: actor.frames(0.55),
    high: 0.008 * H,
    settle: actor.frames(0.5),
  });
  swingAlong(actor, { list, T, gait, first, arms });
  const { score } = actor;
  score.to("trunk.bend", from, lift + T, score.end("trunk.bend") + gait.lean);
  score.to("trunk.bend", list[steps - 1].lift, to, score.end("trunk.bend") - gait.lean);
  actor.events.push({
    kind: "gait",
    figure: actor.id,
    name: "walk",
    from: lift,
    to: list[steps - 1].land,
  });
  return { to, away: lift, stop: list[steps - 1].lift };
}

/**
 * Hips, trunk and arms over the legs: the pelvis goes with the leg that is in front and sinks on the free side, the chest
 * turns against it, each arm swings against its leg, its elbow and hand later (their channels are followed later).
 * @param {Actor} actor
 * @param {{ list: import("./steps.mjs").Step[], T: number, gait: Gait, first: "l" | "r", arms: number }} walk
 */
function swingAlong(actor, { list, T, gait, first, arms }) {
  const { score } = actor;
  const phases = list.map((step, n) => ({ frame: step.land, value: Math.PI * n, width: 0.4 * T }));
  const count = list.length;
  const phase = roundedPath([
    { frame: phases[0].frame - 2 * T, value: -2 * Math.PI, width: 1 },
    ...phases,
    { frame: phases[count - 1].frame + 2 * T, value: (count + 1) * Math.PI, width: 1 },
  ]);
  const start = first === "l" ? 0 : Math.PI;
  const size = roundedPath([
    { frame: list[0].lift - 0.1 * T, value: 0, width: 0.4 * T },
    { frame: list[0].land + 0.5 * T, value: 1, width: 0.6 * T },
    { frame: list[count - 1].lift - 0.3 * T, value: 1, width: 0.6 * T },
    { frame: list[count - 1].land + 0.5 * T, value: 0, width: 0.6 * T },
  ]);
  /** @type {(channel: string, amount: number, shape: (phase: number) => number, later?: number) => void} */
  const wave = (channel, amount, shape, later = 0) =>
    score.add(channel, (frame) => {
      const a = size(frame - later);
      return a === 0 ? 0 : a * amount * shape(phase(frame - later) + start);
    });
  const { cos, sin } = Math;
  wave("pelvis.yaw", -gait.yaw, cos);
  wave("trunk.twist", gait.yaw + gait.counter, cos, 0.06 * T);
  wave("pelvis.roll", gait.list, (p) => sin(p + 0.35));
  wave("trunk.side", -0.95 * gait.list, (p) => sin(p + 0.35), 0.05 * T);
  wave("pelvis.pitch", 0.9, (p) => cos(2 * p - 0.4));
  wave("trunk.bend", -0.8, (p) => cos(2 * p - 0.4), 0.1 * T);
  for (const side of sides) {
    const sign = side === "l" ? 1 : -1;
    const reach = arms * gait.arms * (1 + gait.uneven * sign * 1.5);
    wave(`arm.flex.${side}`, reach, (p) => -sign * cos(p) + 0.12);
    wave(`elbow.${side}`, arms * gait.elbows, (p) => 0.7 - 0.6 * sign * cos(p));
    wave(`arm.turn.${side}`, arms * 5, (p) => -sign * cos(p));
    wave(`wrist.bend.${side}`, arms * 3, (p) => -sign * cos(p));
    wave(`clavicle.fore.${side}`, arms * 3, (p) => -sign * cos(p));
  }
}
