// @ts-check
/**
 * A bird stands, looks, crouches while it opens its wings, jumps, and climbs away with wide beats that carry it.
 * @import { Performance, Random } from "../../../types.d.ts"
 * @import { Plant } from "../tools/legs.mjs"
 */
import { pathThrough } from "../../../../../../demo/motion/moves.mjs";
import { Air, gravity } from "../tools/air.mjs";
import { centreMoving } from "../tools/engine.mjs";
import { Lane } from "../tools/lane.mjs";
import { beatWings, birdStage, lookQuickly, posture } from "./stage.mjs";

/** @param {Random} random @param {number} frames @returns {Performance} */
export function takeOffOfBird(random, frames) {
  const stage = birdStage(random, frames, { light: true });
  const { rate, first, last, size, lane, events, id, beats, path, fold, named, body } = stage;
  const seconds = (/** @type {number} */ value) => Math.round(value * rate);
  const start = first + Math.min(seconds(random.between(0.9, 1.6)), Math.round(frames * 0.3));
  const low = start + seconds(random.between(0.36, 0.46));
  const off = low + Math.max(4, seconds(0.19));
  // Taking off, birds beat wider and a little quicker than in cruising flight.
  const usual = rate / (beats * random.between(0.92, 1.05));
  const [rise, leap] = [random.between(1.3, 1.7), random.between(1.1, 1.6)];
  const [high, up] = [0.065 * size, 58];
  const ground = new Lane().add(() => 1).move(off - 3, off + seconds(0.8), -1);
  posture(stage, ground, 28);
  fold.add(() => 1).move(start + 2, off, -1);

  /** @type {Map<number, Plant[]>} */
  const falls = new Map();
  for (const limb of [0, 1]) {
    const { at, yaw } = stage.stands(limb, 0);
    const gone = { from: last + 4000, to: last + 4001, at, yaw };
    falls.set(limb, [{ from: first, to: off, at, yaw, push: 22, roll: off - low }, gone]);
  }
  const limbs = body.limbs.flatMap(({ kind }, n) => (kind === "wing" ? [n] : []));

  // The crouch: the body tips forward and sinks, then opens; neck and head stay ahead of it.
  lane("body", "x")
    .move(start, low, 14)
    .move(low - 1, off + 2, -16)
    .move(off + 2, off + seconds(0.5), 2);
  lane("neck_a", "x")
    .move(start - 2, low, -9)
    .move(low, off + 3, 9);
  lane("head", "x")
    .move(start - 1, low + 1, -5)
    .move(low + 1, off + 4, 5);
  lane("tail", "x")
    .move(low, off, -10)
    .move(off, off + seconds(0.5), 10);
  for (const [s, sign] of /** @type {const} */ ([
    ["l", 1],
    ["r", -1],
  ])) {
    lane(`fan_${s}`, "y")
      .move(start + 3, off, -sign * 16)
      .move(off + seconds(0.6), off + seconds(1.4), sign * 10);
  }
  lookQuickly(stage, first + 3, start - 3);

  const score = stage.score({
    along: () => 0,
    falls,
  });
  stage.balance(score, first);
  const from = centreMoving(score, start);
  const direction = [Math.sin((path(0).yaw * Math.PI) / 180), 0, Math.cos((path(0).yaw * Math.PI) / 180)];
  const ahead = 0.13 * size;
  const knots = [
    { frame: start, far: 0, up: from.at[1], rise: from.speed[1], leap: 0, fall: 0 },
    { frame: low, far: -0.02 * size, up: from.at[1] - 0.1 * size, rise: 0, leap: 0, fall: 3 },
    { frame: off, far: ahead, up: from.at[1] + high, rise, leap, fall: -gravity },
  ];
  const height = pathThrough(
    rate,
    knots.map((k) => ({ frame: k.frame, at: k.up, speed: k.rise, acceleration: k.fall })),
  );
  const forward = pathThrough(
    rate,
    knots.map((k) => ({ frame: k.frame, at: k.far, speed: k.leap })),
  );

  const air = new Air({
    rate,
    sweep: random.between(66, 76),
    period: usual,
    down: 0.53,
    up: 0.14,
    from: off,
    height: from.at[1] + high,
    climb: rise,
  });
  air.stroke(start + 3, off - start - 3, 0, up);
  /** @type {{ from: number, bottom: number, to: number, sweep: number }[]} */
  const list = [];
  let top = up;
  let climb = random.between(1.8, 2.2);
  while (air.end < last + usual) {
    const made = air.beat(usual * random.between(0.97, 1.03), climb, top, (sweep) => 12 + sweep / 2);
    list.push(made);
    top = 12 + made.sweep / 2;
    climb = Math.max(0.8, climb * random.between(0.86, 0.98));
  }
  beatWings(stage, air, list);
  for (const { from: begins, bottom, to } of list) {
    if (to > last) break;
    events.push({
      kind: "beat",
      figure: id,
      limbs,
      from: Math.round(begins),
      top: Math.round(bottom),
      to: Math.round(to),
    });
  }
  // Speed comes from the beats, less and less as it nears that of cruising.
  const cruise = random.between(5.5, 7) * Math.sqrt(size);
  const gain = 1.7 * rate;
  const ramp = (/** @type {number} */ t) => {
    const u = Math.max(0, t / gain);
    return u >= 1 ? (t - gain / 2) / rate : (gain * u * u * u * u * (2.5 + u * (u - 3))) / rate;
  };
  const far = (/** @type {number} */ frame) =>
    frame <= off
      ? forward(frame)
      : ahead + (leap * (frame - off)) / rate + (cruise - leap) * ramp(frame - off);
  const centre = (/** @type {number} */ frame) => {
    const at = from.at.map((value, k) => value + direction[k] * far(frame));
    at[1] = frame <= off ? height(frame) : air.height(frame);
    return at;
  };
  const steep = (/** @type {number} */ frame) => (frame <= off ? 0 : air.climb(frame));
  lane("body", "x").add((f) => -2.4 * steep(f - 1.5));
  lane("head", "x").add((f) => 1.4 * steep(f - 2.5));
  lane("tail", "x").add((f) => 2.5 * steep(f - 3));

  const joints = ["body", "chest"].map(named);
  events.push(
    { kind: "plant", figure: id, limb: 0, from: first, to: off, rolls: true },
    { kind: "plant", figure: id, limb: 1, from: first, to: off, rolls: true },
    {
      kind: "move",
      name: "crouch",
      figure: id,
      joints,
      from: start,
      peak: Math.round((start + low) / 2),
      to: low,
    },
    {
      kind: "move",
      name: "open the wings",
      figure: id,
      joints: ["arm_l", "forearm_l", "hand_l", "arm_r", "forearm_r", "hand_r"].map(named),
      from: start + 3,
      peak: Math.round((start + off) / 2),
      to: off,
    },
    { kind: "push", figure: id, from: low, to: off },
    { kind: "flight", figure: id, from: off + 1, to: last },
  );
  const flown = stage.score({
    along: () => 0,
    falls,
    airborne: (frame) => (frame > off ? centre(frame) : null),
    centre: { from: start, to: last, at: centre },
  });
  return stage.made(flown);
}
