// @ts-check
/** Families: jumps in place, forward, off a ledge; sitting down and getting up. */

import { sides } from "../../bodies/two-legs.mjs";
import { anyone, child, grownPerson } from "./cast.mjs";
import { armGesture, armGestures, lookRound, nod, shiftWeight } from "./gestures.mjs";
import { jump } from "./jump.mjs";
import { seatBehind, sitAndRise } from "./sit.mjs";
import { solo } from "./solo.mjs";

/** @import { Family } from "../../types.d.ts" @import { Actor } from "./actor.mjs" */

/** Something small between two jumps. @param {Actor} actor @param {number} at */
function between(actor, at) {
  const { random } = actor;
  const kind = random.pick(["arm", "nod", "look", "shift"]);
  if (kind === "arm") return armGesture(actor, at, random.pick(sides), random.pick(armGestures));
  if (kind === "nod") return nod(actor, at, 1);
  if (kind === "look") return lookRound(actor, at, 1);
  return shiftWeight(actor, at, random.between(0.4, 0.6));
}

/** @type {Family[]} */
export const jumpingAndSitting = [
  {
    name: "two legs",
    action: "jump",
    weight: 2.5,
    make: function jumps(random, frames) {
      return solo(random, frames, anyone(random.fork("body")), (actor, at, n) => {
        if (n % 2 === 1) return between(actor, at);
        const { H } = actor;
        const ahead = actor.random.chance(0.6) ? H * actor.random.between(0.15, 0.55) : 0;
        return jump(actor, at, {
          height: H * actor.random.between(0.07, 0.19),
          ahead,
          left: ahead === 0 && actor.random.chance(0.3) ? H * actor.random.between(-0.15, 0.15) : 0,
          depth: actor.random.between(0.11, 0.16),
        });
      });
    },
  },
  {
    name: "two legs",
    action: "jump off a ledge",
    weight: 1.5,
    make: function ledge(random, frames) {
      const body = random.fork("body");
      const rig = body.chance(0.7) ? grownPerson(body) : child(body);
      const high = rig.body.stature * random.between(0.2, 0.42);
      return solo(
        random,
        frames,
        rig,
        (actor, at, n) => {
          const { H } = actor;
          if (n === 0) return between(actor, at);
          if (n === 1) {
            return jump(actor, at, {
              height: H * actor.random.between(0.04, 0.09),
              ahead: H * actor.random.between(0.5, 0.7),
              down: high,
              depth: 0.1,
            });
          }
          return between(actor, at);
        },
        { ground: high, ledge: high },
      );
    },
  },
  {
    name: "two legs",
    action: "sit down and get up",
    weight: 2,
    make: function sitting(random, frames) {
      /** @type {number[]} */
      let root = [];
      return solo(random, frames, anyone(random.fork("body")), (actor, at, n, props) => {
        if (n % 2 === 1) return between(actor, at);
        if (props.length === 0) {
          const seat = seatBehind(actor);
          props.push(seat.staged);
          root = seat.root;
        }
        return sitAndRise(actor, at, root, actor.random.between(1, 2.6));
      });
    },
  },
];
