// @ts-check
/**
 * A hopper on one broad foot: it looks, squats, hops a few times along a bend, and comes to rest with a wobble. In the air
 * its centre of mass falls freely.
 * @import { Performance, Random } from "../../../types.d.ts"
 * @import { Plant } from "../tools/legs.mjs"
 */
import { pathThrough } from "../../../../../../demo/motion/moves.mjs";
import { mix } from "../../../../../../demo/motion/vector.mjs";
import { hopper } from "../../../bodies/no-legs.mjs";
import { centreOn, play } from "../tools/engine.mjs";
import { stepEvents } from "../tools/gait.mjs";
import { Lane, wandering } from "../tools/lane.mjs";
import { footCourse, legOf } from "../tools/legs.mjs";
import { plainStage } from "./stage.mjs";

const gravity = 9.80665;

/** @param {Random} random @param {number} frames @returns {Performance} */
export function hopsOfHopper(random, frames) {
  const stage = plainStage(random, frames, hopper, "hopper");
  const { body, rate, first, last, size, lane, lanes, events, own, named, moved, held, id } = stage;
  const pace = Math.sqrt(size / 0.6);
  const time = (/** @type {number} */ seconds, /** @type {number} */ least) =>
    Math.max(least, Math.round(seconds * pace * rate));
  const limb = body.limbs.findIndex(({ kind }) => kind === "leg");

  // Times of the hops: squat, push, flight, and a short stand between two.
  const start = first + Math.round(Math.min(rate * random.between(0.5, 0.9), frames * 0.12));
  const squat = time(0.42, 6);
  const push = time(0.19, 5);
  const settle = time(0.75, 10);
  /** @type {{ low: number, off: number, lands: number, yaw: number, far: number }[]} */
  const hops = [];
  let at = start + squat;
  let yaw = random.between(-50, 50);
  const bend = random.between(-16, 16);
  const most = random.integer(3, 6);
  while (hops.length < most) {
    const air = time(random.between(0.3, 0.4), 6);
    const off = at + push;
    const lands = off + air;
    if (lands + time(0.14, 4) + settle > last) break;
    yaw += bend * random.between(0.6, 1.4);
    hops.push({
      low: at,
      off,
      lands,
      yaw,
      far: random.between(0.45, 0.75) * size * (air / time(0.35, 6)),
    });
    at = lands + time(random.between(0.15, 0.19), 4);
  }
  const rests = at + settle;

  // Places of the foot.
  const home = hops[0]?.yaw ?? yaw;
  /** @type {Plant[]} */
  const plants = [{ from: first, to: last, at: [0, 0, 0], yaw: home - bend }];
  const facing = new Lane().add(() => home - bend);
  hops.forEach(({ off, lands, far, yaw: way }, n) => {
    const stands = plants[plants.length - 1];
    Object.assign(stands, { to: off, push: 24, roll: push, lift: 0.12 * size, curl: 8 });
    const [x, y, z] = stands.at;
    const angle = (way * Math.PI) / 180;
    plants.push({
      from: lands,
      to: last,
      at: [x + far * Math.sin(angle), y, z + far * Math.cos(angle)],
      yaw: way,
    });
    facing.move(off - 2, lands + 1, way - (hops[n - 1]?.yaw ?? home - bend));
  });
  const falls = new Map([[limb, plants]]);
  events.push(...stepEvents(id, falls, true));
  for (const { low, off, lands } of hops) {
    const next = hops.find((hop) => hop.low > lands)?.low ?? at;
    events.push(
      { kind: "push", figure: id, from: low, to: off },
      { kind: "flight", figure: id, from: off + 1, to: lands - 1 },
      { kind: "landing", figure: id, at: lands, low: next },
    );
  }
  if (hops.length > 1) events.push({ kind: "gait", figure: id, name: "hop", from: start, to: at });
  moved("squat", ["seat", "belly", "head"], start, start + squat);

  // Body: folds in a squat, opens in the push, the head a little later, a nod at every landing, a wobble at the end.
  const lean = (/** @type {string} */ joint, /** @type {number} */ late, /** @type {number} */ by) => {
    lane(joint, "x").move(start + late, start + squat + late, by);
    hops.forEach(({ low, off, lands }, n) => {
      const next = hops[n + 1]?.low ?? at;
      lane(joint, "x")
        .move(low + late, off + 2 + late, -1.7 * by)
        .move(off + 2 + late, lands + late, 0.5 * by);
      lane(joint, "x").move(lands + late - 1, next + 1 + late, (n + 1 < hops.length ? 1.2 : 1) * by);
    });
    if (hops.length > 0) {
      const span = settle / 3;
      lane(joint, "x")
        .move(at + 1 + late, at + span + late, -1.1 * by)
        .move(at + span + late, at + 2 * span + late, 0.45 * by);
      lane(joint, "x").move(at + 2 * span + late, at + 3 * span + late, -0.15 * by);
    } else lane(joint, "x").move(start + squat + late, start + 2 * squat + late, -by);
  };
  lean("seat", 0, 9);
  lean("belly", 1, 13);
  lean("head", 2, -14);
  lane("seat", "x").add(() => 2);
  for (const [joint, by] of /** @type {const} */ ([
    ["seat", 0.5],
    ["belly", 0.9],
    ["head", 1.4],
  ])) {
    for (const axis of ["x", "y", "z"]) lane(joint, axis).add(wandering(own, rate, by));
  }
  lane("seat", "ty").add(wandering(own, rate, 0.004 * size));
  lane("seat", "tx").add(wandering(own, rate, 0.006 * size));
  // Looks where it will go, and round when it has come to rest.
  const glance = random.between(12, 24) * random.pick([-1, 1]);
  lane("head", "y")
    .move(first + 2, Math.max(first + 8, start - 1), glance)
    .move(start + 2, start + squat, -glance);
  moved("glance", ["head"], first + 2, Math.max(first + 8, start - 1));
  const look = Math.round(rests + 0.1 * rate);
  const span = Math.round(rate * 0.5);
  if (look + span + 6 < last) {
    const by = random.between(25, 45) * random.pick([-1, 1]);
    lane("head", "y").move(look, look + span, by);
    lane("head", "x").bump(look, look + span * 0.5, look + span, 4);
    lane("belly", "y").move(look + 2, look + span + 4, 0.3 * by);
    moved("look round", ["head", "belly"], look, look + span + 4);
    held(["head", "belly"], look + span + 5, last);
  }

  const standing = plants.map((plant) => plant.at);
  const along = (/** @type {number} */ frame) => {
    let n = 0;
    while (n < hops.length && frame > (hops[n].off + hops[n].lands) / 2) n++;
    return standing[n];
  };
  /** @type {((frame: number) => number)[]} */
  let courses = [];
  const course = footCourse(plants);
  const carried = (/** @type {number} */ frame) => {
    const hop = hops.find(({ off, lands }) => frame > off && frame < lands);
    if (hop === undefined) return undefined;
    const foot = course(frame);
    const tau = (frame - hop.off) / (hop.lands - hop.off);
    const middle = courses.map((one) => one(frame));
    const drawn = [middle[0], middle[1] - 0.52 * size, middle[2]];
    return { ...foot, place: mix(foot.place, drawn, 14 * (tau * (1 - tau)) ** 2) };
  };
  const score = {
    ...stage,
    lanes,
    root: (/** @type {number} */ frame) => {
      const [x, , z] = along(frame);
      return { position: [x, body.joints[0].at[1] - 0.02 * size, z], yaw: facing.at(frame) };
    },
    legs: [
      {
        leg: legOf(body, body.limbs[limb]),
        style: { pole: [0, 0, 1] },
        foot: footCourse(plants, carried),
        heading: (/** @type {number} */ frame) => facing.at(frame),
      },
    ],
    loose: [
      { joints: ["crest_a", "crest_b", "crest_c"].map(named), frequency: 3 / pace, damping: 0.3, limit: 0.5 },
      {
        joints: ["tail_a", "tail_b", "tail_c"].map(named),
        frequency: 2.4 / pace,
        damping: 0.35,
        limit: 0.45,
      },
    ],
  };
  if (hops.length === 0) return play(score).performance;
  const still = (/** @type {number} */ frame) => {
    const [a, b, c] = [frame - 1, frame, frame + 1].map((one) => centreOn(score, one));
    return { at: b, speed: b.map((_, k) => ((c[k] - a[k]) / 2) * rate) };
  };
  const [from, end] = [still(start), still(rests)];
  const up = from.at[1];
  /** @type {{ frame: number, at: number[], speed: number[], acceleration: number[] }[]} */
  const knots = [{ frame: start, at: from.at, speed: from.speed, acceleration: [0, 0, 0] }];
  hops.forEach(({ low, off, lands }, n) => {
    const [here, there] = [standing[n], standing[n + 1]];
    const flying = (lands - off) / rate;
    const over = (/** @type {number} */ share) => here.map((value, k) => value + (there[k] - value) * share);
    const [a, b] = [over(0.17), over(0.86)];
    const [high, down] = [up + 0.08 * size, up + 0.02 * size];
    const level = [0, 1, 2].map((k) => (b[k] - a[k]) / flying);
    const rise = (down - high) / flying + (gravity * flying) / 2;
    const lowAt =
      n === 0 ? here.map((value, k) => value + (from.at[k] - value) * 0.5 - (there[k] - value) * 0.06) : here;
    const before = n === 0 ? [0, 0, 0] : knots[knots.length - 1].speed;
    knots.push(
      {
        frame: low,
        at: [lowAt[0], up - (n === 0 ? 0.15 : 0.13) * size, lowAt[2]],
        speed: level.map((value, k) => (k === 1 ? 0 : n === 0 ? 0 : 0.25 * (value + before[k]))),
        acceleration: [0, (n === 0 ? 0.6 : 1.6) * gravity, 0],
      },
      {
        frame: off,
        at: [a[0], high, a[2]],
        speed: [level[0], rise, level[2]],
        acceleration: [0, -gravity, 0],
      },
      {
        frame: lands,
        at: [b[0], down, b[2]],
        speed: [level[0], rise - gravity * flying, level[2]],
        acceleration: [0, -gravity, 0],
      },
    );
  });
  const third = (rests - at) / 3;
  const rest = { speed: [0, 0, 0], acceleration: [0, 0, 0] };
  const toward = standing[standing.length - 1];
  knots.push(
    {
      frame: at,
      at: [mix(toward, end.at, 0.8)[0], up - 0.14 * size, mix(toward, end.at, 0.8)[2]],
      speed: [0, 0, 0],
      acceleration: [0, 0.8 * gravity, 0],
    },
    { ...rest, frame: at + third, at: [end.at[0], end.at[1] + 0.018 * size, end.at[2]] },
    { ...rest, frame: at + 2 * third, at: [end.at[0], end.at[1] - 0.006 * size, end.at[2]] },
    { ...rest, frame: rests, at: end.at, speed: end.speed },
  );
  courses = [0, 1, 2].map((k) =>
    pathThrough(
      rate,
      knots.map((knot) => ({
        frame: knot.frame,
        at: knot.at[k],
        speed: knot.speed[k],
        acceleration: knot.acceleration[k],
      })),
    ),
  );
  return play({
    ...score,
    centre: { from: start, to: rests, at: (frame) => courses.map((one) => one(frame)) },
  }).performance;
}
