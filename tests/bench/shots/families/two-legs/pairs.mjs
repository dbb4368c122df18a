// @ts-check
/** Families of two figures: handing over, reacting. */
import { minimumJerk } from "../../../../../demo/motion/moves.mjs";
import { add, mix, multiply, rotate, turn } from "../../../../../demo/motion/vector.mjs";
import { sides } from "../../bodies/two-legs.mjs";
import { Actor } from "./actor.mjs";
import { child, clockOf, grownPerson } from "./cast.mjs";
import { lookRound, lookTo, nod, shiftWeight, stroke } from "./gestures.mjs";
import { jump } from "./jump.mjs";
import { idle } from "./pastime.mjs";
import { performanceOf } from "./shot.mjs";
import { lasting } from "./sit.mjs";
import { smallSteps, turnOnSpot } from "./steps.mjs";
import { gaitOf, walkOn } from "./walk.mjs";

/** @import { Family, Random, Vector } from "../../types.d.ts" @import { Place } from "./pose.mjs" */

/** A hand's turn that holds something upright before the body. @param {number} heading @param {number} out */
const holding = (heading, out) => multiply(turn(1, heading + out * 8), turn(0, -76));

/** @param {Random} random @param {number} frames */
function handOver(random, frames) {
  const { rate, first } = clockOf(random);
  const last = first + frames - 1;
  const bodies = random.fork("bodies");
  const giver = new Actor({
    id: "giver",
    rig: grownPerson(bodies.fork("giver"), "a_"),
    rate,
    random: random.fork("giver"),
    heading: random.between(-60, 60),
  });
  const side = random.pick(sides);
  const out = side === "l" ? 1 : -1;
  const half = /** @type {Vector} */ ([0.045, 0.055, 0.045]);
  const prop = { id: "cup", mass: 0.4, half };
  let at = first + 6;
  if (frames > 150) {
    const gait = gaitOf(random.fork("gait"));
    at = walkOn(giver, { from: at - giver.frames(1), steps: 4, gait, arms: 0.5 }).to;
  }
  const taker = new Actor({
    id: "taker",
    rig: grownPerson(bodies.fork("taker"), "b_"),
    rate,
    random: random.fork("taker"),
    x: add(giver.middle, giver.way(0.5 * giver.H + 0.06))[0],
    z: add(giver.middle, giver.way(0.5 * giver.H + 0.06))[2],
    heading: giver.heading + 180 + random.between(-6, 6),
  });
  if (at - first > 60) lookTo(taker, first + 12, random.between(-25, 25), 0);
  lookTo(taker, Math.max(first + 40, at - taker.frames(1)), random.between(-4, 4), 8);
  const start = at + 4;
  const offered = start + giver.frames(random.between(0.7, 0.9));
  const seen = start + taker.frames(random.between(0.24, 0.34));
  const met = Math.max(offered + 2, seen + taker.frames(random.between(0.75, 0.95)));
  const passed = met + Math.round(random.between(5, 8) * taker.lag);
  const meet = add(mix(giver.middle, taker.middle, random.between(0.46, 0.52)), [
    0,
    0.62 * Math.min(giver.H, taker.H),
    0,
  ]);
  const own =
    (/** @type {Actor} */ actor) =>
    (/** @type {Place} */ { hips, yaw }) =>
      add(hips, rotate(turn(1, yaw), [out * 0.085 * actor.H, 0.13 * actor.H, 0.2 * actor.H]));
  const given = (/** @type {number} */ frame, /** @type {Place} */ body) =>
    mix(own(giver)(body), meet, minimumJerk((frame - start) / (offered - start)));
  const taken = (/** @type {number} */ frame, /** @type {Place} */ body) =>
    mix(meet, own(taker)(body), minimumJerk((frame - passed) / taker.frames(0.95)));
  const facing = new Map([giver, taker].map((actor) => [actor, actor.heading]));
  const level = giver.heading;
  // Each holds it from the side of the hand.
  /** @type {(actor: Actor, path: (frame: number, body: Place) => number[]) => import("./pose.mjs").Grip["at"]} */
  const grip = (actor, path) => {
    const heading = facing.get(actor) ?? 0;
    return (frame, body) => ({
      position: add(path(frame, body), rotate(turn(1, heading), [out * (half[0] + 0.012), 0, -0.012])),
      orientation: holding(heading, out),
    });
  };
  giver.grips.push({
    side,
    weight: lasting(-1e6, -1e6 + 1, passed, passed + giver.frames(0.8)),
    at: grip(giver, given),
  });
  taker.grips.push({ side, weight: lasting(seen, met, 1e6, 1e6 + 1), at: grip(taker, taken) });
  for (const [actor, from, to, back] of /** @type {const} */ ([
    [giver, start, offered, passed + 2],
    [taker, seen, met, passed + 1],
  ])) {
    stroke(
      actor,
      from,
      to,
      { "trunk.bend": 5, "trunk.twist": -out * 7, "pelvis.pitch": 2, "look.pitch": 9 },
      { prepare: 0.05 },
    );
    const lean = actor.way(0.02 * actor.H);
    const { score } = actor;
    score.by("com.x", from - 2, to, lean[0]);
    score.by("com.z", from - 2, to, lean[2]);
    for (const channel of ["trunk.bend", "trunk.twist", "pelvis.pitch", "look.pitch"]) {
      score.to(channel, back, back + actor.frames(0.8), actor.home(channel));
    }
    score.by("com.x", back, back + actor.frames(0.9), -lean[0]);
    score.by("com.z", back, back + actor.frames(0.9), -lean[2]);
    const { arm } = actor.rig.sides[side];
    actor.tell(actor === giver ? "offer" : "take", from, to, actor.arm(side), arm);
  }
  giver.events.push({
    kind: "hold-prop",
    prop: prop.id,
    figure: giver.id,
    limbs: [giver.rig.sides[side].arm],
    from: first,
    to: passed - 1,
  });
  taker.events.push({
    kind: "hold-prop",
    prop: prop.id,
    figure: taker.id,
    limbs: [taker.rig.sides[side].arm],
    from: met + 1,
    to: last,
  });
  const free = side === "l" ? "r" : "l";
  let rest = passed + giver.frames(1.3);
  giver.rest(rest, rest + 8, [...giver.trunk, ...giver.arm(free)]);
  rest = nod(giver, rest, 1);
  if (last - rest > giver.frames(1.5))
    turnOnSpot(giver, rest + 4, random.pick([-1, 1]) * random.between(60, 120));
  const later = passed + taker.frames(1.4);
  if (last - later > taker.frames(1)) nod(taker, later, 2);
  const carried = [
    {
      prop,
      pose: (/** @type {number} */ frame, /** @type {Place} */ body) => ({
        position: frame < passed ? given(frame, body) : taken(frame, body),
        yaw: level,
      }),
      by: (/** @type {number} */ frame) => (frame < passed ? giver : taker),
    },
  ];
  return performanceOf({ actors: [giver, taker], rate, first, last, carried });
}

/** One does something sudden, the other is startled, steps back and looks. @param {Random} random @param {number} frames */
function reaction(random, frames) {
  const { rate, first } = clockOf(random);
  const last = first + frames - 1;
  const bodies = random.fork("bodies");
  const one = new Actor({
    id: "one",
    rig: bodies.chance(0.4) ? child(bodies.fork("one"), "a_") : grownPerson(bodies.fork("one"), "a_"),
    rate,
    random: random.fork("one"),
    heading: random.between(-20, 20),
  });
  const turned = random.between(15, 60) * random.pick([-1, 1]);
  const other = new Actor({
    id: "other",
    rig: grownPerson(bodies.fork("other"), "b_"),
    rate,
    random: random.fork("other"),
    x: random.between(-0.5, 0.5),
    z: random.between(1.5, 2.1),
    heading: 180 + turned,
  });
  let at = first + Math.round(random.between(8, 16));
  lookTo(other, at + 2, random.between(-15, 15), 4);
  if (frames > 140) {
    shiftWeight(other, at + other.frames(0.9));
    at = lookRound(one, at, 1) + 4;
  }
  const quick = jump(one, at, {
    height: one.H * random.between(0.08, 0.14),
    ahead: one.H * random.between(0, 0.2),
  });
  // A simple reaction takes about 0.2 s (review of reaction times); the body follows the head.
  const seen = at + 8 + one.frames(0.75) + Math.round(random.between(0.2, 0.28) * rate);
  lookTo(other, seen, -turned * 0.8, -2);
  stroke(other, seen + 2, seen + 2 + other.frames(0.3), {
    "clavicle.lift.l": 9,
    "clavicle.lift.r": 8,
    "trunk.bend": -7,
    "arm.flex.l": 26,
    "arm.flex.r": 20,
    "elbow.l": 42,
    "elbow.r": 36,
    "arm.out.l": 9,
    "arm.out.r": 12,
  });
  const side = random.pick(sides);
  const back = other.H * random.between(0.09, 0.13);
  const next = side === "l" ? "r" : "l";
  const stood = smallSteps(other, seen + 3, [
    { side, ahead: -back, left: 0 },
    { side: next, ahead: -back * 0.85, left: 0 },
  ]);
  other.tell("startle", seen + 1, seen + 3 + other.frames(0.4), [
    ...other.trunk,
    ...other.arm("l"),
    ...other.arm("r"),
  ]);
  const { score } = other;
  const calm = seen + other.frames(0.9);
  for (const channel of [
    "trunk.bend",
    "clavicle.lift.l",
    "clavicle.lift.r",
    "arm.flex.l",
    "arm.flex.r",
    "elbow.l",
    "elbow.r",
    "arm.out.l",
    "arm.out.r",
  ]) {
    const late = channel.endsWith("l") ? 0 : 3;
    score.to(channel, calm + late, calm + late + other.frames(1), other.home(channel));
  }
  idle(one, quick + 6, last);
  idle(other, Math.max(stood, calm + other.frames(1.1)) + 6, last);
  return performanceOf({ actors: [one, other], rate, first, last });
}

/** @type {Family[]} */
export const together = [
  {
    name: "two figures",
    action: "hand over",
    weight: 1.5,
    make: function handingOver(random, frames) {
      return handOver(random, Math.max(frames, 110));
    },
  },
  {
    name: "two figures",
    action: "react",
    weight: 1.5,
    make: function reacting(random, frames) {
      return reaction(random, Math.max(frames, 100));
    },
  },
];
