// @ts-check
/**
 * Solved limbs under a keyed body: keys follow the dense table only so closely. So a limb which stands or holds is
 * solved anew under the body as it is keyed, as a rig's solver would, and then baked.
 * @import { Event, KeyedCurve, Performance, Vector } from "../types.d.ts"
 * @import { Quaternion } from "../motion/world.mjs"
 */
import { inverse, multiply, rotate, subtract } from "../../../../demo/motion/vector.mjs";
import { minimumJerk } from "../motion/eases.mjs";
import { chainOfLimb, setTurn } from "../motion/limbs.mjs";
import { framesOf, trackOf } from "../motion/performance.mjs";
import { resolve } from "../motion/resolve.mjs";
import { rigOf } from "../motion/rig.mjs";
import { sourceOf, worldSeries } from "../motion/world.mjs";
import { sampled } from "../poses.mjs";
import { meets } from "./frames.mjs";

/** @typedef {{ position: Vector, quaternion: Quaternion }} Pose */

/** Frames over which what is held goes over to what holds it. */
const handover = 4;

const axes = /** @type {const} */ (["x", "y", "z"]);

/**
 * Tracks of solved limbs that stand or hold, with which they meet, under keyed curves, the places and turns of the table; and
 * tracks of props that are carried by limbs which are not solved. What has the clean performance's tracks keeps its curves, so
 * that it is left out.
 * @param {Performance} performance
 * @param {ReadonlyMap<string, KeyedCurve>} curves those that are keyed already
 * @param {ReadonlyMap<string, Uint8Array>} baked by track of a solved limb
 * @param {Performance} [clean] the clean performance, if this one came from it: its events count
 * @returns {Map<string, Float64Array>} by track name
 */
export function bakedUnder(performance, curves, baked, clean = performance) {
  /** @type {Map<string, Float64Array>} */
  const result = new Map();
  const namesOf = (/** @type {string} */ joint) => axes.map((axis) => `${joint} rotation.${axis}`);
  const isSolved = (/** @type {readonly string[]} */ joints) =>
    joints.some((joint) => namesOf(joint).some((name) => baked.has(name)));
  const isOther = (/** @type {readonly string[]} */ names) =>
    clean === performance ||
    names.some((name) => differs(performance.tracks.get(name), clean.tracks.get(name)));
  const holds = clean.events.filter((event) => event.kind === "hold-prop");
  const carried = holds.filter(({ prop }) =>
    isOther([...namesOf(prop), ...axes.map((axis) => `${prop} translation.${axis}`)]),
  );
  const limbs = performance.figures.flatMap(({ id, body }) =>
    body.limbs.flatMap((limb, index) => {
      const isMet = clean.events.some((event) => meets(event, id, index));
      const isToDo = isMet && isSolved(chainOfLimb(limb).turned) && isOther(limb.joints.flatMap(namesOf));
      return isToDo ? [{ id, limb, index }] : [];
    }),
  );
  if (carried.length === 0 && limbs.length === 0) return result;
  const under = underOf(performance, curves, baked);
  for (const event of carried) carryProp(performance, under, event, isSolved, result);
  for (const { id, limb, index } of limbs) {
    const held = holds.filter((event) => event.figure === id && event.limbs.includes(index));
    const wanted = goalOf(performance, under, chainOfLimb(limb).end, held);
    resolve(under, performance, id, index, performance.first, performance.last, wanted);
    for (const name of limb.joints.flatMap(namesOf)) {
      const track = under.tracks.get(name);
      if (baked.has(name) && track !== undefined) result.set(name, track);
    }
  }
  return result;
}

/** @param {Float64Array | undefined} a @param {Float64Array | undefined} b */
const differs = (a, b) =>
  a !== b && (a === undefined || b === undefined || a.some((value, i) => value !== b[i]));

/** The performance as its keyed curves move it; solved limbs, which have none yet, as in the table.
 * @param {Performance} performance @param {ReadonlyMap<string, KeyedCurve>} curves
 * @param {ReadonlyMap<string, Uint8Array>} baked @returns {Performance} */
function underOf(performance, curves, baked) {
  const tracks = new Map(performance.tracks);
  const count = framesOf(performance);
  for (const [name, curve] of curves) tracks.set(name, sampled(curve, performance.first, count));
  for (const name of baked.keys()) {
    const dense = performance.tracks.get(name);
    if (dense !== undefined) tracks.set(name, dense.slice());
  }
  return { ...performance, tracks, solved: new Set(performance.solved) };
}

/** World pose of a joint or prop per frame. @param {Performance} performance @param {string} joint
 * @returns {(frame: number) => Pose} */
function poseOf(performance, joint) {
  const { position, orientation } = worldSeries(sourceOf(performance))(rigOf(performance).require(joint));
  return (frame) => {
    const i = frame - performance.first;
    return {
      position: /** @type {Vector} */ ([...position.subarray(3 * i, 3 * i + 3)]),
      quaternion: /** @type {Quaternion} */ ([...orientation.subarray(4 * i, 4 * i + 4)]),
    };
  };
}

/**
 * Where a limb's end is to be: where it is in the table, but on frames on which it holds a prop, where it is on the prop.
 * @param {Performance} performance @param {Performance} under @param {string} end
 * @param {readonly Extract<Event, { kind: "hold-prop" }>[]} held
 */
function goalOf(performance, under, end, held) {
  const plain = poseOf(performance, end);
  const props = held.map((event) => ({
    event,
    table: poseOf(performance, event.prop),
    keyed: poseOf(under, event.prop),
  }));
  return (/** @type {number} */ frame) => {
    const found = props.find(({ event }) => frame >= event.from - handover && frame <= event.to + handover);
    const pose = plain(frame);
    if (found === undefined) return pose;
    return moved(pose, found.table(frame), found.keyed(frame), shareOf(found.event, frame));
  };
}

/** 1 while something is held, 0 from some frames away on. @param {{ from: number, to: number }} event @param {number} frame */
const shareOf = ({ from, to }, frame) => minimumJerk(1 - Math.max(0, from - frame, frame - to) / handover);

/** A pose carried along as something goes from one pose to another, by a share of the way. (A little way: turns are mixed
 * evenly.) @param {Pose} pose @param {Pose} from @param {Pose} to @param {number} share @returns {Pose} */
function moved(pose, from, to, share) {
  const turn = multiply(to.quaternion, inverse(from.quaternion));
  const sign = turn[3] < 0 ? -1 : 1;
  const mixed = turn.map((part, k) => share * sign * part + (k === 3 ? 1 - share : 0));
  const size = Math.hypot(...mixed);
  const little = mixed.map((part) => part / size);
  const arm = rotate(little, subtract(pose.position, from.position));
  const position = arm.map(
    (part, k) => part + from.position[k] + share * (to.position[k] - from.position[k]),
  );
  return {
    position: /** @type {Vector} */ (position),
    quaternion: /** @type {Quaternion} */ (multiply(little, pose.quaternion)),
  };
}

/**
 * A prop that is carried by a limb which is not solved goes with that limb's end as it is keyed.
 * @param {Performance} performance @param {Performance} under its prop's tracks are replaced
 * @param {Extract<Event, { kind: "hold-prop" }>} event @param {(joints: readonly string[]) => boolean} isSolved
 * @param {Map<string, Float64Array>} result
 */
function carryProp(performance, under, event, isSolved, result) {
  const figure = performance.figures.find(({ id }) => id === event.figure);
  const ends = event.limbs.map((index) => chainOfLimb(/** @type {any} */ (figure).body.limbs[index]));
  const carrier = ends.find(({ turned }) => !isSolved(turned));
  if (carrier === undefined) return;
  const [table, keyedEnd] = [poseOf(performance, carrier.end), poseOf(under, carrier.end)];
  const prop = poseOf(performance, event.prop);
  const { first, last } = performance;
  const names = axes.flatMap((axis) => [
    `${event.prop} translation.${axis}`,
    `${event.prop} rotation.${axis}`,
  ]);
  for (const name of names) {
    const dense = performance.tracks.get(name);
    if (dense !== undefined && !result.has(name)) {
      const own = dense.slice();
      under.tracks.set(name, own);
      result.set(name, own);
    }
  }
  const from = Math.max(first, Math.round(event.from) - handover);
  const to = Math.min(last, Math.round(event.to) + handover);
  for (let frame = from; frame <= to; frame++) {
    const pose = moved(prop(frame), table(frame), keyedEnd(frame), shareOf(event, frame));
    /** @type {const} */ (["translation.x", "translation.y", "translation.z"]).forEach((channel, axis) => {
      if (performance.tracks.has(`${event.prop} ${channel}`)) {
        trackOf(under, event.prop, channel)[frame - first] = pose.position[axis];
      }
    });
    if ([..."xyz"].some((axis) => performance.tracks.has(`${event.prop} rotation.${axis}`))) {
      setTurn(under, event.prop, frame, pose.quaternion, performance);
    }
  }
}
