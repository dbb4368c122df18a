// @ts-check
/** Families: standing and gesturing, looking round, walking in and out. */
import { sides } from "../../bodies/two-legs.mjs";
import { anyone, child, giant, grownPerson, stylised } from "./cast.mjs";
import { armGesture, armGestures, lookRound, lookTo, nod, shiftWeight, shrug } from "./gestures.mjs";
import { solo } from "./solo.mjs";
import { smallSteps, turnOnSpot } from "./steps.mjs";
import { gaitOf, walkOn } from "./walk.mjs";

/** @import { Family, Random } from "../../types.d.ts" @import { Actor } from "./actor.mjs"
 * @import { Rig } from "../../bodies/two-legs.mjs" */

/** @type {(actor: Actor, at: number) => number} */
function someGesture(actor, at) {
  const { random } = actor;
  const kind = random.pick(["arm", "arm", "arm", "shrug", "nod", "look", "shift", "step"]);
  if (kind === "arm") return armGesture(actor, at, random.pick(sides), random.pick(armGestures));
  if (kind === "shrug") return shrug(actor, at);
  if (kind === "nod") return nod(actor, at, random.integer(1, 2));
  if (kind === "look") return lookRound(actor, at, 1);
  if (kind === "shift") return shiftWeight(actor, at);
  const side = random.pick(sides);
  const out = side === "l" ? 1 : -1;
  const [ahead, left] = [actor.H * random.between(-0.05, 0.08), out * actor.H * random.between(0.0, 0.05)];
  const other = side === "l" ? /** @type {const} */ ("r") : /** @type {const} */ ("l");
  const back = { side: other, ahead: ahead + actor.H * random.between(-0.015, 0.015), left };
  return smallSteps(actor, at, [{ side, ahead, left }, back]);
}

/** @type {Family[]} */
export const standing = [
  {
    name: "two legs",
    action: "stand and gesture",
    weight: 3,
    make: function gesturing(random, frames) {
      return solo(random, frames, anyone(random.fork("body")), someGesture);
    },
  },
  {
    name: "two legs",
    action: "look round",
    weight: 1.5,
    make: function lookingRound(random, frames) {
      const rig = anyone(random.fork("body"));
      return solo(random, frames, rig, (actor, at, n) => {
        if (n % 3 === 2) return shiftWeight(actor, at);
        if (n % 3 === 1 && actor.random.chance(0.5)) {
          const angle = actor.random.pick([-1, 1]) * actor.random.between(50, 120);
          return turnOnSpot(actor, at, angle);
        }
        return lookRound(actor, at, actor.random.integer(1, 3));
      });
    },
  },
];

/** Walks in, stops, does something, turns, walks out. @param {Random} random @param {number} frames @param {Rig} rig */
function inAndOut(random, frames, rig) {
  const gait = gaitOf(random.fork("gait"));
  const budget = frames / (24 * Math.sqrt(rig.body.stature / 1.75));
  const turns = random.pick([-1, 1]) * random.between(0, 50);
  const inside = Math.max(4, Math.min(9, Math.round(budget * 0.55)));
  return solo(
    random,
    frames,
    rig,
    (actor, at, n) => {
      if (n === 0) return walkOn(actor, { from: at, steps: inside, gait, turns }).to;
      if (n === 1) return someGestureWhileStanding(actor, at);
      if (n === 2) {
        return turnOnSpot(actor, at, actor.random.pick([-1, 1]) * actor.random.between(70, 170));
      }
      const away = { from: at, steps: actor.random.integer(6, 9), gait, turns: -0.6 * turns };
      return walkOn(actor, away).to;
    },
    { before: random.between(0, 2.2) },
  );
}

/** @type {(actor: Actor, at: number) => number} */
function someGestureWhileStanding(actor, at) {
  const { random } = actor;
  const kind = random.pick(["look", "arm", "nod"]);
  if (kind === "arm") return armGesture(actor, at, random.pick(sides), random.pick(armGestures));
  if (kind === "nod") return nod(actor, at, 2);
  return (
    lookTo(actor, at, random.pick([-1, 1]) * random.between(30, 60), random.between(-8, 8)) +
    actor.frames(0.4)
  );
}

/** @type {Family[]} */
export const walking = [
  {
    name: "two legs",
    action: "walk in, turn, walk out",
    weight: 3,
    make: function walkInAndOut(random, frames) {
      return inAndOut(random, frames, grownPerson(random.fork("body")));
    },
  },
  {
    name: "child",
    action: "walk in, turn, walk out",
    weight: 1.2,
    make: function childWalks(random, frames) {
      return inAndOut(random, frames, child(random.fork("body")));
    },
  },
  {
    name: "giant",
    action: "walk in, turn, walk out",
    weight: 1,
    make: function giantWalks(random, frames) {
      return inAndOut(random, Math.max(frames, 260), giant(random.fork("body")));
    },
  },
  {
    name: "stylised",
    action: "walk in, turn, walk out",
    weight: 0.8,
    make: function stylisedWalks(random, frames) {
      return inAndOut(random, frames, stylised(random.fork("body")));
    },
  },
];
