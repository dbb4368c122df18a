// @ts-check
/** From actors to a performance: solving, loose chains, tracks and events. */
import { sides } from "../../bodies/two-legs.mjs";
import { dragChain, emptyPerformance } from "../../motion/index.mjs";
import { anglesOf } from "./actor.mjs";
import { solveAct } from "./solve.mjs";

/** @import { Performance, Prop, Event } from "../../types.d.ts" @import { Actor } from "./actor.mjs"
 * @import { Solved } from "./solve.mjs" */

const axes = /** @type {const} */ (["x", "y", "z"]);

/**
 * A prop and its course over the frames; `actor` is asked for a course that hangs on where a body is.
 * @typedef {object} StagedProp
 * @property {Prop} prop
 * @property {(frame: number) => { position: number[], yaw: number }} at
 */

/**
 * @param {object} shot
 * @param {Actor[]} shot.actors @param {number} shot.rate @param {number} shot.first @param {number} shot.last
 * @param {StagedProp[]} [shot.props] that stand, or move by themselves
 * @param {import("./carry.mjs").Carried[]} [shot.carried] that bodies carry
 * @returns {Performance}
 */
export function performanceOf({ actors, rate, first, last, props = [], carried = [] }) {
  const performance = emptyPerformance({
    rate,
    first,
    frames: last - first + 1,
    figures: actors.map(({ id, rig }) => ({ id, body: rig.body })),
    props: [...props, ...carried].map(({ prop }) => prop),
  });
  for (const actor of actors) {
    const { solved, places } = solveAct(actor, first, last);
    actor.places = places;
    actor.first = first;
    write(performance, actor, solved);
    writeEvents(performance, actor);
  }
  const moved = carried.map(({ prop, pose, by }) => ({
    prop,
    at: (/** @type {number} */ frame) => pose(frame, by(frame).places[frame - first]),
  }));
  for (const { prop, at } of [...props, ...moved]) {
    const poses = solvedRange(first, last, at);
    axes.forEach((axis, n) => {
      performance.tracks.set(
        `${prop.id} translation.${axis}`,
        Float64Array.from(poses, (p) => p.position[n]),
      );
    });
    performance.tracks.set(
      `${prop.id} rotation.y`,
      Float64Array.from(poses, (p) => p.yaw),
    );
  }
  performance.events.sort((a, b) => startOf(a) - startOf(b));
  return performance;
}

/** @template T @param {number} first @param {number} last @param {(frame: number) => T} at @returns {T[]} */
const solvedRange = (first, last, at) => Array.from({ length: last - first + 1 }, (_, i) => at(first + i));

/** @param {Event} event */
const startOf = (event) => (event.kind === "landing" ? event.at : event.from);

/** @param {Performance} performance @param {Actor} actor @param {Solved[]} solved */
function write(performance, actor, solved) {
  const { rig } = actor;
  axes.forEach((axis, n) => {
    performance.tracks.set(
      `${rig.hips} translation.${axis}`,
      Float64Array.from(solved, ({ hips }) => hips[n]),
    );
  });
  for (const { id, order } of rig.body.joints) {
    const series = anglesOf(
      order,
      solved.map(({ turns }) => turns.get(id) ?? [0, 0, 0, 1]),
    );
    axes.forEach((axis, n) => {
      const track = Float64Array.from(series, (angles) => angles[n]);
      // What never leaves its rest has no curve.
      if (track.some((value) => Math.abs(value) > 1e-7))
        performance.tracks.set(`${id} rotation.${axis}`, track);
    });
  }
  for (const { joints, tip, damping, stiffness } of rig.loose) {
    dragChain(performance, joints, { tip, damping, stiffness });
  }
  const gripping = new Set(actor.grips.map(({ side }) => side));
  for (const side of sides) {
    const { thigh, shin, foot, toe, upper, fore, hand } = rig.sides[side];
    for (const id of [thigh, shin, foot, toe, ...(gripping.has(side) ? [upper, fore, hand] : [])]) {
      for (const axis of axes) {
        if (performance.tracks.has(`${id} rotation.${axis}`))
          performance.solved.add(`${id} rotation.${axis}`);
      }
    }
  }
}

/** The frames of an event within the shot, or nothing if it lies outside. @param {Performance} performance
 * @param {Event} event @returns {Event | null} */
function within({ first, last }, event) {
  if (event.kind === "landing") return event.at > first && event.low <= last ? event : null;
  const [from, to] = [Math.max(first, Math.round(event.from)), Math.min(last, Math.round(event.to))];
  if (to <= from) return null;
  const cut = from !== Math.round(event.from) || to !== Math.round(event.to);
  // A flight, a push or a move that is cut is no longer what it is called.
  if (cut && ["flight", "push", "swing"].includes(event.kind)) return null;
  if (cut && event.kind === "move" && to - from < 0.6 * (event.to - event.from)) return null;
  return { ...event, from, to };
}

/** @param {Performance} performance @param {Actor} actor */
function writeEvents(performance, actor) {
  const all = [...actor.events];
  for (const side of sides) {
    const { leg } = actor.rig.sides[side];
    actor.plants[side].forEach((plant, n, list) => {
      const next = list[n + 1];
      all.push({
        kind: "plant",
        figure: actor.id,
        limb: leg,
        from: plant.from,
        to: plant.to,
        rolls: plant.push > 0 || plant.strike !== 0,
      });
      if (next !== undefined) {
        all.push({ kind: "swing", figure: actor.id, limb: leg, from: plant.to, to: next.from });
      }
    });
  }
  for (const event of all) {
    const kept = within(performance, event);
    if (kept === null) continue;
    performance.events.push(kept.kind === "move" ? { ...kept, peak: peakOf(performance, kept) } : kept);
  }
}

/** The frame on which the joints of a move turn quickest. @param {Performance} performance
 * @param {Extract<Event, { kind: "move" }>} event */
function peakOf(performance, { joints, from, to }) {
  let [peak, most] = [from, -1];
  for (let frame = from + 1; frame <= to; frame++) {
    let speed = 0;
    for (const joint of joints) {
      for (const axis of axes) {
        const track = performance.tracks.get(`${joint} rotation.${axis}`);
        if (track === undefined) continue;
        const i = frame - performance.first;
        speed += (track[i] - track[i - 1]) ** 2;
      }
    }
    if (speed > most) [peak, most] = [frame, speed];
  }
  return peak;
}
