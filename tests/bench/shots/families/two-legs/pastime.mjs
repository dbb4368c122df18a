// @ts-check
/** What figures do when nothing else is to be done. */
import { sides } from "../../bodies/two-legs.mjs";
import { armGesture, armGestures, lookRound, nod, shiftWeight } from "./gestures.mjs";

/** @import { Actor } from "./actor.mjs" */

/** Keeps a figure living until the shot's end. @param {Actor} actor @param {number} from @param {number} last */
export function idle(actor, from, last) {
  let at = from;
  const { random } = actor;
  while (at < last - 16) {
    const kind = random.pick(["nod", "look", "shift", "arm"]);
    if (kind === "nod") at = nod(actor, at, random.integer(1, 2));
    else if (kind === "look") at = lookRound(actor, at, 1);
    else if (kind === "shift") at = shiftWeight(actor, at);
    else at = armGesture(actor, at, random.pick(sides), random.pick(armGestures));
    const pause = actor.frames(random.between(0.3, 0.8));
    actor.rest(at, at + pause, [...actor.trunk, ...actor.arm("l"), ...actor.arm("r")]);
    at += pause;
  }
}
