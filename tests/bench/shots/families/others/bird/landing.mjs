// @ts-check
/**
 * A bird glides in, rears up, brakes with beats that carry it, touches down, gives in its legs, folds its wings and looks.
 * @import { Performance, Random } from "../../../types.d.ts"
 * @import { Plant } from "../tools/legs.mjs"
 */
import { pathThrough } from "../../../../../../demo/motion/moves.mjs";
import { Air, gravity } from "../tools/air.mjs";
import { centreMoving } from "../tools/engine.mjs";
import { Lane } from "../tools/lane.mjs";
import { beatWings, birdStage, lookQuickly, posture } from "./stage.mjs";

/** @param {Random} random @param {number} frames @returns {Performance} */
export function landingOfBird(random, frames) {
  const stage = birdStage(random, frames);
  const { rate, first, last, size, lane, events, id, beats, path, fold, named, body } = stage;
  const seconds = (/** @type {number} */ value) => Math.round(value * rate);
  const usual = rate / (beats * random.between(0.9, 1.03));
  const count = random.integer(3, 4);
  const braking = count * usual + 0.6 * usual;
  const touch =
    first +
    Math.round(Math.max(braking + 6, Math.min(frames * random.between(0.48, 0.56), braking + 1.6 * rate)));
  const low = touch + seconds(0.16);
  const rests = low + seconds(0.55);

  // Height is found backwards: the flight is made from where it begins, and then moved so that it ends on the legs.
  const fall = random.between(-0.8, -0.6);
  const air = new Air({
    rate,
    sweep: random.between(64, 74),
    period: usual,
    down: 0.54,
    up: 0.14,
    from: first - 4,
    height: 0,
    climb: -1.1,
  });
  const lift = touch - count * usual;
  const level = random.between(5, 9);
  const top = (/** @type {number} */ sweep) => 17 + sweep / 2;
  const raise = 0.6 * usual;
  const approach = new Lane().add(() => -1.1).move(lift - raise - 0.7 * rate, lift + 0.2 * usual, 1.1 + fall);
  air.stroke(first - 400, lift - raise - first + 400, level, level + 2);
  air.stroke(lift - raise, raise, level + 2, top(74));
  air.glide(first - 400, 1, lift + 0.3 * usual, 0.6 * usual, (frame) => approach.at(frame));
  air.advance(lift);
  /** @type {{ from: number, bottom: number, to: number, sweep: number }[]} */
  const list = [];
  let angle = top(74);
  for (let n = 0; n < count; n++) {
    const made = air.beat(
      n === count - 1 ? touch - air.end : usual,
      // The last one takes up the fall: its upstroke ends as slowly as the bird is to touch down.
      n === count - 1 ? fall + 0.7 * air.dip : 1.2 * fall,
      angle,
      top,
    );
    list.push(made);
    angle = top(made.sweep);
  }
  const open = touch + seconds(0.3);
  air.stroke(touch, open - touch, angle, 22);
  air.stroke(open, seconds(0.5), 22, 0);
  beatWings(stage, air, list);
  const limbs = body.limbs.flatMap(({ kind }, n) => (kind === "wing" ? [n] : []));
  for (const { from, bottom, to } of list) {
    events.push({
      kind: "beat",
      figure: id,
      limbs,
      from: Math.round(from),
      top: Math.round(bottom),
      to: Math.round(to),
    });
  }
  fold.move(open - 2, open + seconds(0.5), 1);

  // Rearing up: the body stands against the air, the neck keeps the head level, the tail fans.
  const ground = new Lane().move(touch - seconds(0.5), rests, 1);
  posture(stage, ground, 26);
  const rear = lift - raise - seconds(0.3);
  lane("body", "x")
    .move(rear, lift + usual, -27)
    .move(touch - 0.6 * usual, touch + seconds(0.45), 27);
  lane("neck_a", "x")
    .move(rear + 1, lift + usual + 1, 15)
    .move(touch - 0.5 * usual, touch + seconds(0.5), -15);
  lane("head", "x")
    .move(rear + 2, lift + usual + 2, 11)
    .move(touch - 0.4 * usual, touch + seconds(0.5), -11);
  lane("tail", "x")
    .move(rear, lift + usual, 24)
    .move(touch, touch + seconds(0.6), -24);
  for (const [s, sign] of /** @type {const} */ ([
    ["l", 1],
    ["r", -1],
  ])) {
    lane(`fan_${s}`, "y")
      .move(rear + 1, lift + usual, -sign * 22)
      .move(touch + 4, touch + seconds(0.8), sign * 22);
    lane(`hand_${s}`, "x")
      .move(rear + 1, lift, -9)
      .move(touch, open + 4, 9);
  }
  // A nod as the legs give, and a shake of the wings into their place.
  lane("body", "x").bump(touch, low + 1, rests, 9);
  lane("neck_a", "x").bump(touch + 1, low + 2, rests + 2, -5);
  lane("head", "x").bump(touch + 2, low + 4, rests + 4, 6);
  const joints = ["body", "chest"].map(named);
  const folded = open + seconds(0.5) + 2;
  if (folded < last) {
    events.push({
      kind: "move",
      name: "fold the wings",
      figure: id,
      joints: ["arm_l", "forearm_l", "hand_l", "arm_r", "forearm_r", "hand_r"].map(named),
      from: open - 2,
      peak: Math.round((open + folded) / 2 - 2),
      to: folded,
    });
  }
  lookQuickly(stage, Math.max(rests, folded) + 2, last);

  // The way: as quick as it glides, slower from the flare on, the last of it over the feet.
  const speed = random.between(5.2, 6.6) * Math.sqrt(size);
  const end = random.between(0.7, 1);
  const brake = rear + 2;
  const span = touch - brake;
  const dropped = (/** @type {number} */ frame) => {
    const u = Math.max(0, Math.min(1, (frame - brake) / span));
    return u * u * u * (10 + u * (6 * u - 15));
  };
  // Distances to the touch-down, frame by frame (substeps of a quarter).
  const far = (/** @type {number} */ frame) => {
    let sum = 0;
    for (let f = touch; f > frame; f -= 0.25) sum += (speed + (end - speed) * dropped(f - 0.125)) * 0.25;
    return -sum / rate;
  };
  const behind = 0.1 * size;
  const feet = 3 * size;
  /** @type {Map<number, Plant[]>} */
  const falls = new Map();
  for (const limb of [0, 1]) {
    const { at, yaw } = stage.stands(limb, feet);
    const from = touch + (limb === 0 ? 0 : 1);
    falls.set(limb, [
      { from: first - 9, to: first - 8, at, yaw },
      { from, to: last, at, yaw },
    ]);
    events.push({ kind: "plant", figure: id, limb, from, to: last, rolls: false });
  }
  const standing = stage.score({
    along: () => feet,
    falls: new Map([...falls].map(([limb, plants]) => [limb, [{ ...plants[1], from: first }]])),
  });
  stage.balance(standing, Math.max(rests, folded) + 60, feet);
  const there = centreMoving(standing, rests);
  const direction = [
    Math.sin((path(feet).yaw * Math.PI) / 180),
    0,
    Math.cos((path(feet).yaw * Math.PI) / 180),
  ];
  const down = there.at[1] + 0.02 * size;
  const shift = down - air.height(touch);
  const sinking = air.climb(touch);
  const height = pathThrough(rate, [
    { frame: touch, at: down, speed: sinking, acceleration: -gravity },
    { frame: low, at: there.at[1] - 0.1 * size, speed: 0, acceleration: 3 },
    { frame: rests, at: there.at[1], speed: there.speed[1] },
  ]);
  const forward = pathThrough(rate, [
    { frame: touch, at: -behind, speed: end },
    { frame: low, at: -0.015 * size, speed: 0.1 * size },
    { frame: rests, at: 0 },
  ]);
  const centre = (/** @type {number} */ frame) => {
    const ahead = frame <= touch ? far(frame) - behind : forward(frame);
    const at = there.at.map((value, k) => value + direction[k] * ahead);
    at[1] = frame <= touch ? air.height(frame) + shift : height(frame);
    return at;
  };
  const reaching = new Lane().move(touch - seconds(0.75), touch - seconds(0.15), 1);
  const score = stage.score({
    along: () => feet,
    falls,
    airborne: (frame) => (frame < touch + 1 ? centre(frame) : null),
    reaching: (frame) => reaching.at(frame),
    centre: { from: first, to: Math.min(last, rests), at: centre },
  });
  events.push(
    { kind: "flight", figure: id, from: first, to: touch - 1 },
    { kind: "landing", figure: id, at: touch, low },
    {
      kind: "move",
      name: "rear up",
      figure: id,
      joints,
      from: Math.max(first, Math.round(rear)),
      peak: Math.round(lift),
      to: Math.round(lift + usual),
    },
  );
  return stage.made(score);
}
