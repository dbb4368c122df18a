// @ts-check
/** Families: taking up, carrying, setting down; pushing and pulling. */
import { crateFor, spotBefore, takeUp } from "./carry.mjs";
import { anyone, grownPerson } from "./cast.mjs";
import { lookRound } from "./gestures.mjs";
import { pullRope, pushCart } from "./pull.mjs";
import { solo } from "./solo.mjs";
import { turnOnSpot } from "./steps.mjs";
import { gaitOf, walkOn } from "./walk.mjs";

/** @import { Family } from "../../types.d.ts" */

/** @type {Family[]} */
export const handling = [
  {
    name: "two legs",
    action: "carry a crate",
    weight: 2.5,
    make: function carrying(random, frames) {
      const body = random.fork("body");
      const rig = body.chance(0.75) ? grownPerson(body) : anyone(body);
      const gait = gaitOf(random.fork("gait"));
      // What is carried shortens the steps.
      gait.length *= 0.82;
      /** @type {ReturnType<typeof takeUp> | null} */
      let lifted = null;
      return solo(random, Math.max(frames, 150), rig, (actor, at, n, _props, carried) => {
        if (n === 0) {
          const prop = crateFor(actor);
          const spot = spotBefore(actor, prop, actor.H * random.pick([0, 0, 0.12, 0.3]));
          lifted = takeUp(actor, at, prop, spot);
          carried.push(lifted.carried);
          return lifted.to;
        }
        if (n === 1 && frames > 170) {
          if (random.chance(0.5))
            return turnOnSpot(actor, at, random.pick([-1, 1]) * random.between(50, 110));
          return walkOn(actor, { from: at, steps: frames > 240 ? 5 : 4, gait, arms: 0.1 }).to;
        }
        if (lifted !== null) {
          const place = spotBefore(actor, lifted.carried.prop, actor.H * random.pick([0, 0.1, 0.28]));
          const to = lifted.putDown(at, place);
          lifted = null;
          return to;
        }
        return lookRound(actor, at, 1);
      });
    },
  },
  {
    name: "two legs",
    action: "push a cart",
    weight: 1.5,
    make: function pushing(random, frames) {
      const gait = gaitOf(random.fork("gait"));
      gait.length *= 0.78;
      gait.time *= 1.1;
      const steps = Math.max(4, Math.min(9, Math.round((frames / 24 - 3.2) / gait.time)));
      return solo(random, Math.max(frames, 130), grownPerson(random.fork("body")), (actor, at, n, props) =>
        n === 0 ? pushCart(actor, at, gait, steps, props) : lookRound(actor, at, 1),
      );
    },
  },
  {
    name: "two legs",
    action: "pull a rope",
    weight: 1.5,
    make: function pulling(random, frames) {
      const heaves = Math.max(1, Math.min(4, Math.round((frames / 24 - 3.5) / 2)));
      return solo(random, Math.max(frames, 130), grownPerson(random.fork("body")), (actor, at, n, props) =>
        n === 0 ? pullRope(actor, at, heaves, props) : lookRound(actor, at, 1),
      );
    },
  },
];
