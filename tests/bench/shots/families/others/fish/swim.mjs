// @ts-check
/**
 * What fish do: cruise, turn, burst and glide; hover, turn on the spot and dart.
 * @import { Performance, Random } from "../../../types.d.ts"
 * @import { Pool } from "./pool.mjs"
 */
import { pool, strouhal, swim, width } from "./pool.mjs";

/** Beats per second of steady swimming: slower in longer fish (from memory). @param {Pool} stage */
const pace = ({ random, big }) => random.between(1.7, 2.3) / big;

/** Cruises, turns, bursts and glides. @param {Random} random @param {number} frames @returns {Performance} */
export function swimOfFish(random, frames) {
  const stage = pool(random, frames);
  const { swum, rate, first, last, moved, big, size } = stage;
  const usual = pace(stage);
  const start = random.between(0.75, 0.95);
  swum.beat.add(() => usual);
  swum.wide.add(() => start);
  swum.spread.add(() => 0.05);
  let at = first + Math.round(rate * random.between(0.5, 1));
  let level = start;
  let acts = random.shuffled(["turn", "burst", "glide", "turn"]);
  while (at < last - rate * 0.8) {
    if (acts.length === 0) acts = random.shuffled(["turn", "burst", "glide"]);
    const act = acts.pop();
    const span = rate * big * random.between(0.6, 0.9);
    if (act === "turn") {
      const by = random.between(35, 75) * random.pick([-1, 1]);
      swum.heading.move(at, at + span, by);
      swum.wide.bump(at, at + 0.5 * span, at + span, -0.25);
      moved("turn", ["head", "body", "spine_1", "spine_2", "spine_3"], at, at + span);
      at += Math.round(span + rate * random.between(0.2, 0.5));
    } else if (act === "burst") {
      // A few quick wide beats, then straight and still while the water slows it, then on.
      const beats = random.between(0.9, 1.3) * rate * Math.min(1.3, big);
      const still = rate * big * random.between(0.9, 1.3);
      swum.beat
        .move(at, at + 0.3 * beats, 0.6 * usual)
        .move(at + beats, at + beats + 0.4 * still, -0.6 * usual);
      swum.wide
        .move(at, at + 0.35 * beats, 1.25 - level)
        .move(at + beats, at + beats + 0.3 * still, -1.2)
        .move(at + beats + still, at + beats + still + 0.4 * rate * big, start - 0.05);
      swum.pitch.bump(at, at + beats, at + beats + still, random.between(-9, 9));
      moved("burst", ["spine_3", "spine_4", "spine_5", "spine_6", "tail_fin"], at, at + beats);
      level = start;
      at += Math.round(beats + still + 0.5 * rate * big);
    } else {
      const still = rate * big * random.between(0.9, 1.3);
      swum.wide.move(at, at + 0.35 * still, 0.05 - level).move(at + still, at + 1.35 * still, start - 0.05);
      swum.spread.bump(at + 4, at + 0.5 * still, at + 1.2 * still, 0.3);
      level = start;
      at += Math.round(1.45 * still);
    }
  }
  const steady = (2 * width(1) * size) / strouhal;
  return swim(stage, { speed: steady * usual * start, yaw: random.between(-90, 90), sculling: 1.6 });
}

/** Hovers with its fins, looks, turns on the spot and darts off. @param {Random} random @param {number} frames
 * @returns {Performance} */
export function hoverOfFish(random, frames) {
  const stage = pool(random, frames);
  const { swum, rate, first, last, moved, held, big } = stage;
  const usual = pace(stage);
  swum.beat.add(() => 0.6 * usual);
  swum.wide.add(() => 0.12);
  swum.scull.add(() => 1);
  swum.spread.add(() => 0.9);
  swum.brake.add(() => 6);
  const dart = first + Math.round(frames * random.between(0.5, 0.6));
  let at = first + Math.round(rate * random.between(0.5, 0.9));
  held(["body", "head"], first, at - 1);
  while (at + rate * 0.7 * big < dart - 0.2 * rate) {
    const span = rate * big * random.between(0.55, 0.75);
    const by = random.between(18, 45) * random.pick([-1, 1]);
    swum.heading.move(at, at + span, by);
    swum.pitch.bump(at, at + span * 0.6, at + 1.6 * span, random.between(-7, 7));
    moved("turn on the spot", ["head", "body", "spine_1", "spine_2"], at, at + span);
    const rest = rate * random.between(0.4, 0.9);
    held(["body", "head"], at + span + 4, Math.min(dart - 2, at + span + rest));
    at += Math.round(span + rest);
  }
  // The dart: the body bends to one side, opens, and beats.
  const bend = Math.round(0.3 * rate * big);
  swum.heading.move(dart, dart + bend * 1.5, random.between(45, 80) * random.pick([-1, 1]));
  swum.scull.move(dart - 2, dart + 0.5 * bend, -1);
  swum.spread.move(dart, dart + bend, -0.85);
  swum.brake.move(dart, dart + bend, -6);
  swum.beat
    .move(dart + 0.5 * bend, dart + 1.6 * bend, 1.1 * usual)
    .move(dart + 4 * bend, dart + 8 * bend, -0.7 * usual);
  swum.wide.move(dart + 0.7 * bend, dart + 1.8 * bend, 1.1).move(dart + 4 * bend, dart + 6 * bend, -0.45);
  swum.pitch.move(dart, dart + 2 * bend, random.between(-8, 8));
  moved(
    "dart",
    ["head", "body", "spine_1", "spine_2", "spine_3", "spine_4"],
    dart,
    Math.min(last, dart + 2 * bend),
  );
  return swim(stage, {
    speed: 0,
    yaw: random.between(-90, 90),
    sculling: random.between(1.5, 2.1) / Math.sqrt(big),
  });
}
