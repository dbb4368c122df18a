// @ts-check
/**
 * Level flight: spells of beats and glides, along a wide bend into which the bird banks.
 * @import { Performance, Random } from "../../../types.d.ts"
 */
import { minimumJerk } from "../../../../../../demo/motion/moves.mjs";
import { Air } from "../tools/air.mjs";
import { Lane, wandering } from "../tools/lane.mjs";
import { beatWings, birdStage, posture } from "./stage.mjs";

/** @param {Random} random @param {number} frames @returns {Performance} */
export function flightOfBird(random, frames) {
  const stage = birdStage(random, frames, { turned: 30 });
  const { rate, first, last, size, lane, events, id, beats, path, own, named, body } = stage;
  const usual = rate / (beats * random.between(0.84, 1));
  const air = new Air({
    rate,
    sweep: random.between(62, 78),
    period: usual,
    down: random.between(0.5, 0.56),
    up: 0.39,
    from: first - Math.round(1.6 * usual),
    height: random.between(4, 7),
    climb: 0.4,
  });
  const [high, flat] = [random.between(8, 12), random.between(4, 8)];
  const top = (/** @type {number} */ sweep) => high + sweep / 2;
  /** @type {{ from: number, bottom: number, to: number, sweep: number }[]} */
  const list = [];
  let angle = top(70);
  const glides = random.integer(5, 8);
  while (air.end < last + 3 * usual) {
    const count = random.integer(3, glides);
    const settle = 0.45 * usual;
    for (let n = 0; n < count && air.end < last + 3 * usual; n++) {
      const strong =
        n === 0 ? 0.25 : n === count - 1 ? 0.1 + air.dip + (4.9 * settle) / rate : random.between(-0.05, 0.2);
      const made = air.beat(usual * random.between(0.97, 1.03), strong, angle, top);
      angle = top(made.sweep);
      list.push(made);
    }
    if (air.end > last) break;
    // The last downstroke's wings come up to the glide's angle, stay there with a slow give, and go up for the next beat.
    const span = rate * random.between(0.7, 1.3);
    const start = air.end;
    const [level, lift] = [flat, 0.55 * usual];
    air.stroke(start, settle, angle, level);
    air.stroke(start + settle, span, level, level + random.between(1, 2.5));
    const next = top(72);
    const end = start + settle + span;
    air.stroke(end, lift, air.angle(end), next);
    angle = next;
    // How much the climb has to change for the glide to sink as it is meant to: tried once, then put right.
    const sink = random.between(-0.6, -0.3);
    const steady = start + settle + 0.35 * span;
    let change = sink - air.climbing;
    air.glide(start, settle, end + lift, 0.5 * lift, (frame) => {
      const tau = (frame - start + 0.3 * usual) / (steady - start + 0.3 * usual);
      return change * minimumJerk(tau) + 0.25 * minimumJerk((frame - steady) / (end + lift - steady));
    });
    for (let n = 0; n < 3; n++) {
      air.advance(steady);
      change += sink - air.climbing;
      air.rewind(start);
    }
    air.advance(end + lift);
    events.push({
      kind: "hold",
      figure: id,
      joints: ["arm_l", "arm_r"].map(named),
      from: Math.round(start + settle),
      to: Math.round(end),
      moving: true,
    });
  }
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
  /** @type {typeof events} */
  const within = [];
  for (const event of events) {
    if (!("from" in event)) continue;
    if (event.kind === "hold") {
      const [from, to] = [Math.max(first, event.from), Math.min(last, event.to)];
      if (to - from > 6) within.push({ ...event, from, to });
    } else if (event.from >= first && event.to <= last) within.push(event);
  }
  events.splice(0, events.length, ...within, { kind: "flight", figure: id, from: first, to: last });

  // The bird flies at about 5.5 square roots of a metre's wing load: herons at 9, pelicans at 11 m/s (from memory).
  const speed = random.between(7.5, 9.5) * Math.sqrt(size);
  const along = (/** @type {number} */ frame) => (speed * (frame - first)) / rate;
  const bank = (/** @type {number} */ frame) => {
    const s = along(frame);
    const bend = ((path(s + 0.3).yaw - path(s - 0.3).yaw) / 0.6) * (Math.PI / 180);
    return (Math.atan((speed * speed * bend) / 9.80665) * 180) / Math.PI;
  };
  const ground = new Lane();
  posture(stage, ground, 30);
  beatWings(stage, air, list);
  const steep = (/** @type {number} */ frame) => (Math.atan2(air.climb(frame), speed) * 180) / Math.PI;
  lane("body", "z").add((f) => -bank(f));
  lane("head", "z").add((f) => 0.8 * bank(f - 1));
  lane("body", "x")
    .add((f) => -0.5 * steep(f - 1.5))
    .add(wandering(own, rate, 0.6));
  // The head is held steady: the neck takes back what the body does.
  lane("neck_a", "x").add((f) => 0.3 * steep(f - 2));
  lane("head", "x").add((f) => 0.2 * steep(f - 2));
  lane("tail", "x").add((f) => 0.9 * steep(f - 3));
  lane("tail", "z").add((f) => 0.35 * bank(f + 2));
  const centre = (/** @type {number} */ frame) => {
    const at = path(along(frame));
    return [at.x, air.height(frame), at.z];
  };
  const score = stage.score({
    along,
    falls: new Map(),
    airborne: centre,
    centre: { from: first, to: last, at: centre },
  });
  return stage.made(score);
}
