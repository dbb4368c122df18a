// @ts-check
/** A shot of one figure that does one thing after another. */
import { Actor } from "./actor.mjs";
import { clockOf } from "./cast.mjs";
import { performanceOf } from "./shot.mjs";

/** @import { Performance, Random } from "../../types.d.ts" @import { Rig } from "../../bodies/two-legs.mjs"
 * @import { StagedProp } from "./shot.mjs" */

/**
 * Lets one figure act until the frames are filled.
 * @param {Random} random @param {number} frames @param {Rig} rig
 * @param {(actor: Actor, at: number, n: number, props: StagedProp[], carried: import("./carry.mjs").Carried[]) => number} action one after another; gives the frame at which it rests
 * @param {{ before?: number, ground?: number, ledge?: number }} [how] `before`: seconds that the figure has been at it when the
 *   shot begins; `ledge`: height of a block under the first stand
 * @returns {Performance}
 */
export function solo(random, frames, rig, action, { before = 0, ground = 0, ledge = 0 } = {}) {
  const { rate, first } = clockOf(random);
  const actor = new Actor({
    id: "figure",
    rig,
    rate,
    random: random.fork("actor"),
    x: random.between(-1, 1),
    z: random.between(-1, 1),
    heading: random.between(-70, 70),
    ground,
  });
  const last = first + frames - 1;
  /** @type {StagedProp[]} */
  const props = [];
  /** @type {import("./carry.mjs").Carried[]} */
  const carried = [];
  if (ledge > 0) {
    const half = /** @type {[number, number, number]} */ ([0.3 * actor.H, ledge / 2, 0.2 * actor.H]);
    // Its front edge is just before the toes.
    const back = actor.way(-0.085 * actor.H);
    const position = [actor.middle[0] + back[0], ledge / 2, actor.middle[2] + back[2]];
    const yaw = actor.heading;
    props.push({ prop: { id: "ledge", mass: 500, half }, at: () => ({ position, yaw }) });
  }
  let at = first + Math.round(random.between(6, 14)) - (before > 0 ? actor.frames(before) : 0);
  for (let n = 0; at < last - 12; n++) {
    const from = at;
    at = action(actor, at, n, props, carried);
    if (!(at > from)) throw new Error("An action has to take time.");
    const pause = actor.frames(random.between(0.15, 0.5));
    actor.rest(at, at + pause, [...actor.trunk, ...actor.arm("l"), ...actor.arm("r")]);
    at += pause;
  }
  return performanceOf({ actors: [actor], rate, first, last, props, carried });
}
