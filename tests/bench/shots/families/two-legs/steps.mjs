// @ts-check
/** Steps: of any kind, one after another. The mass goes where the feet will carry it before a foot leaves. */
import { add, length, mix, rotate, scale, subtract, turn } from "../../../../../demo/motion/vector.mjs";
import { roundedPath } from "./score.mjs";
import { fullestLeg } from "./solve.mjs";

/** @import { Actor } from "./actor.mjs" */

/**
 * @typedef {object} Step
 * @property {"l" | "r"} side
 * @property {number} lift last frame of the foot on its old place @property {number} land first frame on the new one
 * @property {number[]} at place below the ankle @property {number} heading of the body when it stands on both feet after it
 * @property {number} [strike] pitch of the foot at landing, below 0 on the heel
 * @property {number} [push] pitch at leaving @property {number} [raise] how high the ankle is carried, metres
 * @property {number} [give] frames from landing to the whole foot
 * @property {number} [heel] frames of the heel's rise before leaving
 * @property {number} [carry] see Plant
 */

/**
 * @typedef {object} StepStyle
 * @property {number} [share] how far the mass goes over the standing foot in a step: 1 is all the way
 * @property {number} [firstShare] the same before the first step
 * @property {number} [end] share over the left foot afterwards @property {number} [settle] frames until it rests
 * @property {number} [low] how much the root sinks between steps, metres @property {number} [high] and in the middle of one
 * @property {number} [lookAhead] frames by which the head leads the heading
 * @property {number} [forward] how far the mass is before the middle of two feet as the front one lands, metres
 * @property {boolean} [looks] whether the head goes along at all
 */

/**
 * Takes steps in order of time. Times have to leave the body time to shift: the first lift some frames after `from`.
 * @param {Actor} actor @param {number} from @param {Step[]} list @param {StepStyle} [style]
 * @returns {number} the frame at which all is at rest
 */
export function takeSteps(actor, from, list, style = {}) {
  const { score } = actor;
  const { share = 0.85, firstShare = 0.8, end = actor.random.between(0.4, 0.6) } = style;
  const settle = style.settle ?? actor.frames(0.45);
  const forward = style.forward ?? 0;
  const high = style.high ?? 0.004 * actor.H;
  const ahead = (/** @type {number} */ yaw, more = 0) =>
    rotate(turn(1, yaw), [0, 0, 0.19 * actor.foot + more]);
  /** @type {{ frame: number, at: number[], width: number }[]} */
  const knots = [{ frame: from, at: [score.end("com.x"), 0, score.end("com.z")], width: 2 }];
  const ground = actor.middle[1];
  const rest = actor.standHeight + ground;
  const heights = [{ frame: from, value: score.end("pelvis.h"), width: 3 }];
  const headings = [{ frame: from, value: actor.heading, width: 3 }];
  for (let n = 0; n < list.length; n++) {
    const step = list[n];
    const other = step.side === "l" ? "r" : "l";
    const stance = actor.plant(other).at;
    const old = actor.plant(step.side).at;
    const [before, after] = [mix(stance, old, 0.5), mix(stance, step.at, 0.5)];
    const span = step.land - step.lift;
    const [h0, h1] = [actor.heading, step.heading];
    if (n === 0) {
      const at = add(mix(before, stance, firstShare), ahead(h0));
      const lean = subtract(after, before);
      const frame = step.lift + 0.1 * span;
      knots.push({ frame, at: add(at, scale(lean, 0.12)), width: Math.max(2, 0.45 * (frame - from)) });
      heights.push({ frame: (from + step.lift) / 2, value: rest - 0.35 * high - 0.003 * actor.H, width: 3 });
    }
    const plain = mix(before, after, 0.5);
    const middle = step.lift + span * (n === 0 ? 0.62 : 0.5);
    const over = add(plain, scale(subtract(stance, plain), n === 0 ? (share + firstShare) / 2 : share));
    knots.push({
      frame: middle,
      at: add(over, ahead((h0 + h1) / 2, n === 0 ? 0 : 0.4 * forward)),
      width: 0.8 * span,
    });
    const next = list[n + 1];
    const both = next === undefined ? step.land + settle * 0.75 : (step.land + next.lift) / 2;
    actor.plantFoot(step);
    actor.heading = step.heading;
    const stepLength = length(subtract(after, before)) * 2;
    const full = fullestLeg * (actor.rig.thigh + actor.rig.shank);
    const low =
      style.low ?? full - Math.sqrt(Math.max(0.5 * full * full, full * full - (0.23 * stepLength) ** 2));
    const lifted = actor.middle[1];
    heights.push({
      frame: middle,
      value: rest - ground + Math.min(lifted, stance[1]) - high,
      width: 0.7 * span,
    });
    if (next === undefined) {
      const at = actor.over(end);
      knots.push({ frame: both, at, width: Math.max(3, 0.7 * (both - middle)) });
      heights.push({
        frame: step.land + 1,
        value: rest - ground + lifted - low * 0.6 - 0.004 * actor.H,
        width: 0.5 * span,
      });
      heights.push({ frame: step.land + settle * 1.2, value: rest - ground + lifted, width: 0.6 * settle });
      headings.push({ frame: step.land + 0.2 * span, value: h1, width: 0.9 * span });
    } else {
      knots.push({ frame: both, at: add(after, ahead(h1, forward)), width: 0.8 * span });
      heights.push({ frame: both, value: rest - ground + lifted - low, width: 0.7 * span });
      headings.push({ frame: both, value: h1, width: 0.9 * span });
    }
  }
  actor.share = end;
  const x = roundedPath(knots.map(({ frame, at, width }) => ({ frame, value: at[0], width })));
  const z = roundedPath(knots.map(({ frame, at, width }) => ({ frame, value: at[2], width })));
  const h = roundedPath(heights);
  const yaw = roundedPath(headings);
  /** @type {(channel: string, course: (frame: number) => number, later?: number) => void} */
  const follow = (channel, course, later = 0) => {
    const start = course(-1e6);
    score.add(channel, (frame) => course(frame - later) - start);
  };
  follow("com.x", x);
  follow("com.z", z);
  follow("pelvis.h", h);
  follow("pelvis.yaw", yaw);
  const lead = style.lookAhead ?? 6 * actor.lag;
  if (style.looks ?? true) follow("look.yaw", yaw, -lead);
  // The chest goes before the pelvis when the body turns.
  score.add("trunk.twist", (frame) => 0.55 * (yaw(frame + 0.5 * lead) - yaw(frame)));
  score.to("pelvis.roll", from, list[list.length - 1].land + settle, 9 * (end - 0.5));
  score.to("trunk.side", from, list[list.length - 1].land + settle, -8 * (end - 0.5));
  return Math.ceil(list[list.length - 1].land + 1.8 * settle);
}

/**
 * Turns on the spot by small steps, the outer foot first; the eyes go first, then chest, pelvis and feet.
 * @param {Actor} actor @param {number} from @param {number} angle degrees, above 0 to the left
 * @param {{ pace?: number }} [how] pace: seconds from step to step for a grown person
 * @returns {number} frame at which it rests
 */
export function turnOnSpot(actor, from, angle, { pace = 0.62 } = {}) {
  const count = Math.max(2, 2 * Math.round(Math.abs(angle) / 100));
  const T = actor.frames(pace);
  const swing = Math.round(0.66 * T);
  const start = from + actor.frames(0.42);
  const center = actor.middle;
  /** @type {Step[]} */
  const list = [];
  // The foot on the side of the turn opens, the other one follows.
  let side = /** @type {"l" | "r"} */ (angle > 0 ? "l" : "r");
  for (let n = 0; n < count; n++) {
    const heading = actor.heading + (angle * (n + 1)) / count;
    const done = n === count - 1 ? heading : heading + (angle / count) * 0.25;
    const out = side === "l" ? 1 : -1;
    const at = add(
      center,
      rotate(turn(1, done), [out * actor.half, 0, actor.H * actor.random.between(-0.012, 0.02)]),
    );
    list.push({
      side,
      lift: Math.round(start + n * T),
      land: Math.round(start + n * T) + swing,
      at,
      heading,
      strike: 3,
      push: 14,
      raise: 0.03 * actor.H,
      give: Math.max(2, Math.round(0.2 * T)),
      heel: Math.round(0.35 * T),
      carry: 0.1,
    });
    side = side === "l" ? "r" : "l";
  }
  const to = takeSteps(actor, from, list, { share: 0.8, firstShare: 0.72, low: 0.008 * actor.H });
  actor.tell("turn", from, to, [actor.rig.hips, ...actor.trunk, ...actor.headJoints]);
  return to;
}

/** A side step or a small step of a foot to a place. @param {Actor} actor @param {number} from
 * @param {{ side: "l" | "r", ahead: number, left: number }[]} shifts of each foot, in metres, one after another
 * @returns {number} */
export function smallSteps(actor, from, shifts) {
  const T = actor.frames(0.75);
  const swing = Math.round(0.55 * T);
  const start = from + actor.frames(0.42);
  const list = shifts.map(({ side, ahead, left }, n) => ({
    side,
    lift: Math.round(start + n * T),
    land: Math.round(start + n * T) + swing,
    at: add(actor.plant(side).at, actor.way(ahead, left)),
    heading: actor.heading,
    strike: ahead > 0.1 * actor.H ? -8 : 2,
    push: 16,
    raise: 0.025 * actor.H,
    give: Math.max(2, Math.round(0.16 * T)),
    heel: Math.round(0.3 * T),
    carry: 0.1,
  }));
  return takeSteps(actor, from, list, { share: 0.85, firstShare: 0.78 });
}
