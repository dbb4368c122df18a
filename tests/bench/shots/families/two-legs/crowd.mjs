// @ts-check
/** Family: a crowd of simple figures. */
import { Actor } from "./actor.mjs";
import { child, clockOf, grownPerson } from "./cast.mjs";
import { idle } from "./pastime.mjs";
import { performanceOf } from "./shot.mjs";
import { gaitOf, walkOn } from "./walk.mjs";

/** @import { Family, Random } from "../../types.d.ts" */

/** Some simple figures walk past each other, each with its own pace and phase. @param {Random} random @param {number} frames */
function crowd(random, frames) {
  const { rate, first } = clockOf(random);
  const last = first + frames - 1;
  const count = random.integer(5, 8);
  const actors = Array.from({ length: count }, (_, n) => {
    const own = random.fork(`walker ${n}`);
    const away = own.chance(0.5);
    const actor = new Actor({
      id: `walker_${n + 1}`,
      rig: own.chance(0.2) ? child(own, `w${n + 1}_`) : grownPerson(own, `w${n + 1}_`, true),
      rate,
      random: own.fork("actor"),
      x: (n - count / 2) * 0.95 + own.between(-0.15, 0.15),
      z: (away ? -1 : 1) * own.between(0.5, 2.5),
      heading: (away ? 0 : 180) + own.between(-9, 9),
    });
    const stands = own.chance(0.25);
    if (stands) {
      idle(actor, first + own.integer(4, 20), last);
      return actor;
    }
    const gait = gaitOf(own.fork("gait"));
    const steps = Math.max(5, Math.ceil((frames / rate + 3) / (gait.time * actor.tempo)));
    const from = own.chance(0.75)
      ? first - Math.round(own.between(1.2, 3) * rate)
      : first + own.integer(6, 24);
    const stop = own.chance(0.35);
    const walked = walkOn(actor, {
      from,
      steps: stop ? Math.ceil(steps * 0.6) : steps,
      gait,
      turns: own.between(-14, 14),
    });
    if (walked.to < last) idle(actor, walked.to + 5, last);
    return actor;
  });
  return performanceOf({ actors, rate, first, last });
}

/** @type {Family[]} */
export const crowds = [
  {
    name: "crowd",
    action: "walk",
    weight: 1,
    make: function crowding(random, frames) {
      return crowd(random, Math.min(frames, 240));
    },
  },
];
