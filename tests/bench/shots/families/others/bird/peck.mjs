// @ts-check
/**
 * A bird stands and looks about, pecks at the ground a few times, takes a step with each foot and looks again.
 * @import { Performance, Random } from "../../../types.d.ts"
 * @import { Plant } from "../tools/legs.mjs"
 */
import { poseOf } from "../tools/engine.mjs";
import { stepEvents } from "../tools/gait.mjs";
import { Lane } from "../tools/lane.mjs";
import { birdStage, lookQuickly, posture } from "./stage.mjs";

/** Degrees by which joints bend for a peck of full depth: the body tips over the hips, the neck reaches down. */
const bends = { body: 46, neck_a: 50, neck_b: -10, head: -34 };

/** @param {Random} random @param {number} frames @returns {Performance} */
export function peckingBird(random, frames) {
  const stage = birdStage(random, frames, { light: true });
  const { rate, first, last, size, lane, events, id, fold, named } = stage;
  const seconds = (/** @type {number} */ value) => Math.max(2, Math.round(value * rate));
  posture(
    stage,
    new Lane().add(() => 1),
    26,
  );
  fold.add(() => 1);

  const start = first + Math.min(seconds(random.between(0.7, 1.3)), Math.round(0.25 * frames));
  const stoop = seconds(random.between(0.5, 0.65));
  /** How far down the bill is: 0 up, 1 at the ground. */
  const down = new Lane();
  let at = start + stoop;
  down.move(start, at, 0.72);
  let low = 0.72;
  const pecks = random.integer(1, 3);
  const dip = seconds(0.17);
  const joints = ["body", "neck_a", "neck_b", "head"];
  events.push({
    kind: "move",
    name: "stoop",
    figure: id,
    joints: joints.map(named),
    from: start,
    peak: Math.round(start + stoop / 2),
    to: at,
  });
  for (let n = 0; n < pecks && at + 4 * dip + stoop < last; n++) {
    const wait = seconds(random.between(0.12, 0.4));
    const deep = random.between(0.96, 1);
    const again = n + 1 < pecks ? random.between(0.6, 0.78) : 0.7;
    down
      .move(at + wait, at + wait + dip, deep - low)
      .move(at + wait + dip + 1, at + wait + 2 * dip + 4, again - deep);
    events.push({
      kind: "move",
      name: "peck",
      figure: id,
      joints: joints.map(named),
      from: at + wait,
      peak: at + wait + Math.round(dip / 2),
      to: at + wait + dip,
    });
    low = again;
    at += wait + 2 * dip + 4;
  }
  const up = at + seconds(0.15);
  const raise = seconds(random.between(0.45, 0.6));
  down.move(up, up + raise, -low);
  if (up + raise < last) {
    events.push({
      kind: "move",
      name: "rise",
      figure: id,
      joints: joints.map(named),
      from: up,
      peak: Math.round(up + raise / 2),
      to: up + raise,
    });
  }
  // How deep "1" is follows from the ground: see below.
  let depth = 1;
  const lags = { body: 0, neck_a: 0.7, neck_b: 1.4, head: 2.1 };
  for (const [joint, by] of Object.entries(bends)) {
    const late = /** @type {Record<string, number>} */ (lags)[joint];
    lane(joint, "x").add((f) => by * depth * down.at(f - late));
  }
  lane("body", "ty").add((f) => -0.06 * size * depth * down.at(f));
  // The hips go back as far as the fore part comes forward: see below.
  let back = 0;
  lane("body", "tz").add((f) => -back * down.at(f));
  lane("tail", "x").add((f) => -12 * down.at(f - 2));

  // A step of each foot, the body over the foot that stands.
  /** @type {Map<number, Plant[]>} */
  const falls = new Map([0, 1].map((limb) => [limb, [{ from: first, to: last, ...stage.stands(limb, 0) }]]));
  const swing = seconds(0.32);
  const lead = random.pick([0, 1]);
  let go = up + raise + seconds(random.between(0.2, 0.5));
  let way = 0;
  const course = new Lane();
  const sway = lane("body", "tx");
  const side = (/** @type {number} */ limb) => (limb === 0 ? -1 : 1) * 0.022 * size;
  const begun = go;
  let count = 0;
  while (go + swing + seconds(0.2) < last - 0.5 * rate && count < 3) {
    const limb = (lead + count) % 2;
    const far = (count === 0 ? 0.1 : 0.2) * size;
    const plants = falls.get(limb) ?? [];
    const closing = count === 2 || go + 2.2 * (swing + seconds(0.2)) >= last - 0.5 * rate;
    const target = closing && count > 0 ? way : way + far;
    Object.assign(plants[plants.length - 1], { to: go, lift: 0.06 * size, push: 16, roll: 4, curl: 22 });
    plants.push({ from: go + swing, to: last, ...stage.stands(limb, target) });
    sway.bump(go - seconds(0.14), go + swing * 0.5, go + swing + seconds(0.14), side(limb));
    course.move(go - 1, go + swing + seconds(0.12), target - way > 0 ? (target - way) * 0.5 : 0);
    lane("neck_a", "x").bump(go, go + swing * 0.5, go + swing + 5, 4);
    way = target;
    go += swing + seconds(0.2);
    count++;
    if (closing && count > 1) break;
  }
  if (count > 0) course.move(begun + 0.5 * swing, go + seconds(0.1), way - course.at(go + 9999));
  lookQuickly(stage, first + 3, start - 2);
  lookQuickly(stage, count > 0 ? go + 3 : up + raise + 3, last);
  events.push(...stepEvents(id, falls, true));

  const score = stage.score({ along: (frame) => course.at(frame), falls });
  stage.balance(score, first);
  // The tip of the bill lies half a bill behind its joint; it is to come near the ground and not into it.
  const deepest = start + stoop + 2;
  const tip = (/** @type {number} */ by) => {
    depth = by / down.at(deepest);
    return poseOf(score, deepest).point(named("bill"), [0, -0.01 * size, 0.05 * size])[1];
  };
  let [near, far] = [0.2, 2];
  for (let n = 0; n < 30; n++) {
    const middle = (near + far) / 2;
    if (tip(middle) > 0.02 * size) near = middle;
    else far = middle;
  }
  depth = near;
  const ahead = () => {
    const [there, here] = [poseOf(score, deepest), poseOf(score, first)].map((pose) => pose.centre());
    const yaw = (stage.stands(0, 0).yaw * Math.PI) / 180;
    return (there[0] - here[0]) * Math.sin(yaw) + (there[2] - here[2]) * Math.cos(yaw);
  };
  back = ahead() / down.at(deepest);
  return stage.made(score);
}
