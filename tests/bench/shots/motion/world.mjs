// @ts-check
/**
 * World positions and turns: of one joint or all of them on a frame of the table, and as series over all frames.
 * @import { Performance, Vector } from "../types.d.ts"
 * @typedef {[number, number, number, number]} Quaternion x, y, z, w
 * @typedef {{ position: Vector, quaternion: Quaternion }} Pose
 * @typedef {object} Series
 * @property {Float64Array} position 3 per frame, metres
 * @property {Float64Array} orientation 4 per frame; scale is not in it
 * @property {Float64Array | null} linear 9 per frame, rows first: turn and scale of all above; null where nothing is scaled
 */
import { multiplyInto, quaternionInto, rigOf, rotateInto } from "./rig.mjs";

/** Where the values of a performance stand: its rig, its tracks, how many frames.
 * @typedef {{ rig: import("./rig.mjs").Rig, tracks: ReadonlyMap<string, Float64Array>, count: number }} Source */

/** @param {Performance} performance @param {ReadonlyMap<string, Float64Array>} [tracks] others than its own @returns {Source} */
export function sourceOf(performance, tracks = performance.tracks) {
  return { rig: rigOf(performance), tracks, count: performance.last - performance.first + 1 };
}

/**
 * World series of joints, each worked out when it is first asked for, from its parent's.
 * @param {Source} source
 * @returns {(joint: number) => Series} by index in the rig
 */
export function worldSeries(source) {
  /** @type {(Series | undefined)[]} */
  const series = new Array(source.rig.ids.length);
  const of = (/** @type {number} */ joint) => {
    const done = series[joint];
    if (done !== undefined) return done;
    const parent = source.rig.parent[joint];
    const found = composed(source, joint, parent < 0 ? null : of(parent));
    series[joint] = found;
    return found;
  };
  return of;
}

/** @param {Source} source @param {number} joint @param {Series | null} parent @returns {Series} */
function composed({ rig, tracks, count }, joint, parent) {
  const position = new Float64Array(3 * count);
  const orientation = new Float64Array(4 * count);
  const read = (/** @type {readonly string[]} */ names) => names.map((name) => tracks.get(name));
  const [shifts, angles, scales] = [rig.translations, rig.rotations, rig.scales].map((all) =>
    read(all[joint]),
  );
  const scaled = parent?.linear != null || scales.some((track) => track !== undefined);
  const linear = scaled ? new Float64Array(9 * count) : null;
  const turn = new Float64Array(4);
  const shift = new Float64Array(3);
  const three = new Float64Array(3);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 3; k++) {
      shift[k] = shifts[k]?.[i] ?? rig.at[3 * joint + k];
      three[k] = angles[k]?.[i] ?? 0;
    }
    quaternionInto(rig.order[joint], three, 0, turn, 0);
    if (parent === null) {
      position.set(shift, 3 * i);
      orientation.set(turn, 4 * i);
    } else {
      multiplyInto(parent.orientation, 4 * i, turn, 0, orientation, 4 * i);
      if (parent.linear === null) {
        rotateInto(parent.orientation, 4 * i, shift[0], shift[1], shift[2], position, 3 * i);
      } else applyLinear(parent.linear, 9 * i, shift, position, 3 * i);
      for (let k = 0; k < 3; k++) position[3 * i + k] += parent.position[3 * i + k];
    }
    if (linear === null) continue;
    for (let column = 0; column < 3; column++) {
      const factor = scales[column]?.[i] ?? 1;
      rotateInto(
        turn,
        0,
        column === 0 ? factor : 0,
        column === 1 ? factor : 0,
        column === 2 ? factor : 0,
        three,
        0,
      );
      if (parent !== null) {
        if (parent.linear === null)
          rotateInto(parent.orientation, 4 * i, three[0], three[1], three[2], three, 0);
        else applyLinear(parent.linear, 9 * i, three, three, 0);
      }
      for (let row = 0; row < 3; row++) linear[9 * i + 3 * row + column] = three[row];
    }
  }
  return { position, orientation, linear };
}

/** out = m · v; `out` may be `v`. @param {Float64Array} m @param {number} i @param {Float64Array} v
 * @param {Float64Array} out @param {number} k */
export function applyLinear(m, i, v, out, k) {
  const [x, y, z] = v;
  for (let row = 0; row < 3; row++)
    out[k + row] = m[i + 3 * row] * x + m[i + 3 * row + 1] * y + m[i + 3 * row + 2] * z;
}

/** A performance of one frame: the values of `performance` on that frame. @param {Performance} performance
 * @param {number} frame @returns {Source} */
function frameSource(performance, frame) {
  const rig = rigOf(performance);
  const i = Math.max(0, Math.min(performance.last, Math.round(frame)) - performance.first);
  const { tracks } = performance;
  const one = { get: (/** @type {string} */ name) => tracks.get(name)?.subarray(i, i + 1) };
  return { rig, tracks: /** @type {any} */ (one), count: 1 };
}

/** @param {Series} series @returns {Pose} */
const poseIn = ({ position, orientation }) => ({
  position: [position[0], position[1], position[2]],
  quaternion: [orientation[0], orientation[1], orientation[2], orientation[3]],
});

/**
 * World poses of all joints and props on a frame of the table.
 * @param {Performance} performance @param {number} frame
 * @returns {Map<string, Pose>} metres, y up
 */
export function poseAt(performance, frame) {
  const source = frameSource(performance, frame);
  const of = worldSeries(source);
  return new Map(source.rig.ids.map((id, joint) => [id, poseIn(of(joint))]));
}

/**
 * World pose of one joint or prop on a frame of the table; only what is above it is worked out.
 * @param {Performance} performance @param {string} joint @param {number} frame
 * @returns {Pose}
 */
export function worldAt(performance, joint, frame) {
  const source = frameSource(performance, frame);
  return poseIn(worldSeries(source)(source.rig.require(joint)));
}

/**
 * Centre of mass of a figure on a frame of the table.
 * @param {Performance} performance @param {string} figure @param {number} frame
 * @returns {Vector} metres
 */
export function massCentreAt(performance, figure, frame) {
  const source = frameSource(performance, frame);
  const out = new Float64Array(3);
  massCentreInto(source.rig, worldSeries(source), figure, 0, out);
  return [out[0], out[1], out[2]];
}

/** @param {import("./rig.mjs").Rig} rig @param {(joint: number) => Series} of @param {string} figure
 * @param {number} i index of the frame @param {Float64Array} out */
export function massCentreInto(rig, of, figure, i, out) {
  const joints = rig.jointsOf.get(figure);
  if (joints === undefined) throw new Error(`There is no figure "${figure}" in this performance.`);
  out.fill(0);
  const at = new Float64Array(3);
  for (const joint of joints) {
    const share = rig.mass[joint];
    if (share === 0) continue;
    pointInto(of(joint), i, rig.massAt.subarray(3 * joint, 3 * joint + 3), at);
    for (let k = 0; k < 3; k++) out[k] += share * at[k];
  }
}

/** World place of a point given in a joint's space. @param {Series} series @param {number} i index of the frame
 * @param {Float64Array} point @param {Float64Array} out */
export function pointInto({ position, orientation, linear }, i, point, out) {
  if (linear === null) rotateInto(orientation, 4 * i, point[0], point[1], point[2], out, 0);
  else applyLinear(linear, 9 * i, point, out, 0);
  for (let k = 0; k < 3; k++) out[k] += position[3 * i + k];
}
