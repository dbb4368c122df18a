// @ts-check
/**
 * Four legs that look where they will land, crouch, leap and come down fore paws first. In the air the centre of mass
 * falls freely.
 * @import { Performance, Random } from "../../../types.d.ts"
 * @import { Plant } from "../tools/legs.mjs"
 */
import { pathThrough } from "../../../../../../demo/motion/moves.mjs";
import { mix } from "../../../../../../demo/motion/vector.mjs";
import { centreOn } from "../tools/engine.mjs";
import { stepEvents } from "../tools/gait.mjs";
import { beside } from "../tools/ground-path.mjs";
import { footCourse } from "../tools/legs.mjs";
import { fourLegStage, holdHead, turnHead } from "./stage.mjs";
import { lookRound } from "./walk.mjs";

const gravity = 9.80665;

/** @param {Random} random @param {number} frames @returns {Performance} */
export function leapOfFourLegs(random, frames) {
  const stage = fourLegStage(random, frames, {
    builds: ["dog", "cat", "cat", "horse"],
    turned: 0,
    seconds: (build) => (build === "horse" ? 3.6 : build === "dog" ? 2.5 : 1.8),
  });
  const { first, last, rate, size, neutral, lane, id, named, events, path } = stage;
  const seconds = (/** @type {number} */ value) => Math.round(value * rate);
  // Times go with the root of the size, as falling does.
  const pace = Math.sqrt(size / 0.6);
  const air = Math.max(5, seconds(random.between(0.3, 0.36) * pace));
  const push = Math.max(4, seconds(0.2 * pace));
  const crouch = Math.max(7, seconds(0.5 * pace));
  const lead = Math.min(seconds(random.between(0.5, 1.1)), Math.round(frames * 0.2));
  const start = first + lead;
  const low = start + crouch;
  const off = low + push;
  const lands = off + air;
  const forePaws = off - Math.max(2, Math.round(0.45 * push));
  const hindLand = lands + Math.max(2, Math.round(0.3 * air));
  const lowest = lands + Math.max(5, seconds(0.2 * pace));
  // No two paws of a pair do the same: two frames (at 24 per second) lie between them.
  const apart = Math.max(1, Math.round((2.1 * rate) / 24));
  const rests = lowest + seconds(0.6 * pace);

  const far = random.between(0.75, 1) * size * (air / seconds(0.33 * pace));
  const [sunk, risen] = [0.16 * size, 0.04 * size];
  const ahead = 0.24 * size;
  const total = ahead + far + 0.24 * size;
  const along = (/** @type {number} */ frame) => (frame < (off + lands) / 2 ? 0 : total);

  /** @type {Map<number, Plant[]>} */
  const falls = new Map();
  const firstOf = [random.chance(0.5) ? 1 : 0, random.chance(0.5) ? 1 : 0];
  for (const limb of [0, 1, 2, 3]) {
    const hind = limb < 2;
    const second = limb % 2 === firstOf[hind ? 0 : 1] ? apart : 0;
    const [home, next] = [neutral(limb)(0), neutral(limb)(total + (hind ? -0.03 : 0.02) * size)];
    const leaves = Math.max(low + 1, (hind ? off : forePaws) - second);
    const comes = (hind ? hindLand : lands) + (limb % 2 === 0 ? 0 : apart);
    falls.set(limb, [
      {
        from: first,
        to: leaves,
        at: home.at,
        yaw: home.yaw,
        push: hind ? 30 : 14,
        roll: Math.max(3, Math.round(0.6 * push)),
        lift: (hind ? 0.24 : 0.3) * size,
        curl: 24,
      },
      { from: comes, to: last, at: next.at, yaw: next.yaw },
    ]);
  }

  // The trunk: folds and sinks, opens into the leap, tips over to the fore paws, and comes level.
  lane("pelvis", "x")
    .move(start, low, -9)
    .move(low - 1, off + 1, -13)
    .move(off, lands + 1, 30)
    .move(lands + 1, rests - 4, -8);
  lane("spine_a", "x")
    .move(start, low, 5)
    .move(low, off + 1, -9)
    .move(off + 1, lands, 7)
    .move(lands, rests, -3);
  lane("spine_b", "x")
    .move(start + 1, low + 1, 5)
    .move(low + 1, off + 2, -9)
    .move(off + 2, lands + 1, 8)
    .move(lands + 1, rests, -4);
  lane("spine_c", "x")
    .move(start + 1, low + 1, -4)
    .move(low + 1, off + 2, 0)
    .move(off + 2, lands + 2, 6)
    .move(lands + 2, rests, -2);
  // Looks down at the place, then up and ahead; the neck takes up what the trunk does at the landing.
  lane("neck_a", "x")
    .move(start - 2, low, 9)
    .move(low + 1, off + 3, 2)
    .move(off + 3, lands + 3, -20)
    .move(lands + 3, rests + 3, 9);
  lane("head", "x")
    .move(start - 4, low - 2, 8)
    .move(low + 2, off + 5, 4)
    .move(off + 4, lands + 4, -14)
    .move(lands + 5, rests + 5, 2);
  lane("pelvis", "y").bump(start, low, off, random.between(-2, 2));
  for (let n = 1; n <= 5; n++) {
    lane(`tail_${n}`, "x")
      .move(low + n, off + 2 + n, 7)
      .move(off + 3 + n, lands + 4 + n, -11)
      .move(lands + 4 + n, rests + n, 4);
  }
  turnHead(stage, first + 1, Math.max(6, lead - 4), random.between(-9, 9), 5, "look at the place");
  const joints = ["pelvis", ...stage.spine].map(named);
  events.push(
    {
      kind: "move",
      name: "crouch",
      figure: id,
      joints,
      from: start,
      peak: Math.round((start + low) / 2),
      to: low,
    },
    { kind: "push", figure: id, from: low, to: off },
    { kind: "flight", figure: id, from: off + 1, to: lands - 1 },
    { kind: "landing", figure: id, at: lands, low: lowest },
    ...stepEvents(id, falls, true),
  );
  holdHead(stage, rests + 6, Math.min(last, rests + 6 + seconds(0.3)));
  lookRound(stage, rests + 6 + seconds(0.3), random);

  /** In the air the paws are drawn up under the body: fore paws ahead, hind paws under the hips.
   * @type {((frame: number) => { place: number[], yaw: number })[]} */
  const carried = [0, 1, 2, 3].map((limb) => {
    const plants = falls.get(limb) ?? [];
    const course = footCourse(plants);
    const [from, to] = [plants[0].to, plants[1].from];
    const [left, front, below] =
      limb < 2 ? [stage.legs[limb].left, -0.36, -0.52] : [stage.legs[limb].left, 0.44, -0.5];
    return (frame) => {
      const foot = course(frame);
      const tau = (frame - from) / (to - from);
      const middle = courses.map((one) => one(frame));
      const drawn = beside(
        { x: middle[0], z: middle[2], yaw: foot.yaw },
        left,
        front * size,
        middle[1] + below * size,
      );
      return { ...foot, place: mix(foot.place, drawn, 14 * (tau * (1 - tau)) ** 2) };
    };
  });
  /** @type {((frame: number) => number)[]} */
  let courses = [];
  const score = stage.score({ along, falls, carried });
  const to = Math.min(last, rests);
  const still = (/** @type {number} */ frame) => {
    const [a, b, c] = [frame - 1, frame, frame + 1].map((one) => centreOn(score, one));
    return { at: b, speed: b.map((_, k) => ((c[k] - a[k]) / 2) * rate) };
  };
  const [from, end] = [still(start), still(rests)];
  const direction = beside({ x: 0, z: 0, yaw: path(0).yaw }, 0, 1);
  const flying = air / rate;
  const offAt = from.at.map((value, k) => value + direction[k] * ahead + (k === 1 ? risen : 0));
  const landAt = from.at.map(
    (value, k) => value + direction[k] * (ahead + far) + (k === 1 ? -0.015 * size : 0),
  );
  // The legs take the fall up as evenly as they can, by no more than they can fold.
  const sinking = (gravity * flying) / 2 - (landAt[1] - offAt[1]) / flying;
  const give = Math.min(0.24 * size, (0.42 * sinking * (lowest - lands)) / rate);
  const speeds = landAt.map(
    (value, k) => (value - offAt[k]) / flying + (k === 1 ? (gravity * flying) / 2 : 0),
  );
  courses = [0, 1, 2].map((k) => {
    const fall = k === 1 ? -gravity : 0;
    return pathThrough(rate, [
      { frame: start, at: from.at[k], speed: from.speed[k] },
      {
        frame: low,
        at: from.at[k] - direction[k] * 0.09 * size - (k === 1 ? sunk : 0),
        acceleration: k === 1 ? 3 : 0,
      },
      { frame: off, at: offAt[k], speed: speeds[k], acceleration: fall },
      { frame: lands, at: landAt[k], speed: speeds[k] + fall * flying, acceleration: fall },
      {
        frame: lowest,
        at: k === 1 ? landAt[1] - give : end.at[k] - direction[k] * 0.02 * size,
        speed: direction[k] * 0.1 * size,
        ...(k === 1 ? { acceleration: 3 } : {}),
      },
      { frame: rests, at: end.at[k], speed: end.speed[k] },
    ]);
  });
  return stage.made({
    ...score,
    centre: { from: start, to, at: (frame) => courses.map((course) => course(frame)) },
  });
}
