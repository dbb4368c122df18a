// @ts-check
/**
 * By how much a curve may stray from its track.
 * @import { KeyedShot } from "../types.d.ts"
 * @import { Rig } from "../motion/rig.mjs"
 */
import { rigOf } from "../motion/rig.mjs";

/**
 * How far a curve may be off, and how far its step from frame to frame. In place, some millimetres at the farthest joint that
 * the channel moves, more in sparser keying, half as much for the root, which carries everything. A camera has a
 * centimetre, or a hundredth of a degree: a thousandth of its picture. In speed, an eighth of the
 * quickest step thereabouts. On baked frames ten times less, and little near them: a foot must come down where it stands.
 * @param {KeyedShot} shot @param {string} name of the track @param {Float64Array} track
 * @param {Uint8Array | undefined} baked 1 on baked frames
 * @returns {{ tolerance: Float64Array, speed: Float64Array }} per frame
 */
export function allowancesOf({ performance, style }, name, track, baked) {
  const [joint, channel] = name.split(" ");
  const rig = rigOf(performance);
  const figure = performance.figures.find(({ body }) => body.joints.some(({ id }) => id === joint));
  const size = figure === undefined ? 1 : figure.body.stature / 1.75;
  const isRoot = figure === undefined || figure.body.root === joint;
  const stray = size * (0.0015 + 0.00015 * style.spacing) * (isRoot ? 0.5 : 1);
  const usual =
    joint === performance.view?.camera
      ? 0.01
      : channel.startsWith("rotation")
        ? Math.max(0.03, Math.min(0.4, (stray / leverOf(rig, rig.require(joint))) * (180 / Math.PI)))
        : channel.startsWith("scale")
          ? 0.002
          : 0.5 * stray;
  const n = track.length;
  const tolerance = new Float64Array(n).fill(usual);
  if (baked !== undefined) taper(tolerance, baked);
  const speed = new Float64Array(n);
  const reach = 4;
  for (let i = 0; i < n; i++) {
    let quickest = 0;
    for (let j = Math.max(1, i - reach); j <= Math.min(n - 1, i + reach); j++) {
      quickest = Math.max(quickest, Math.abs(track[j] - track[j - 1]));
    }
    speed[i] = quickest / 8 + tolerance[i] / 4;
  }
  return { tolerance, speed };
}

/** A tenth on baked frames, and a fifth more for every frame away from them. @param {Float64Array} tolerance
 * @param {Uint8Array} baked */
function taper(tolerance, baked) {
  const n = baked.length;
  const away = new Float64Array(n);
  let distance = n;
  for (let i = 0; i < n; i++) {
    distance = baked[i] === 1 ? 0 : distance + 1;
    away[i] = distance;
  }
  distance = n;
  for (let i = n - 1; i >= 0; i--) {
    distance = baked[i] === 1 ? 0 : distance + 1;
    tolerance[i] *= Math.min(1, 0.1 + 0.2 * Math.min(away[i], distance));
  }
}

/** @type {WeakMap<Rig, Float64Array>} */
const levers = new WeakMap();

/** Length of the longest chain that hangs on a joint, with its own bones: metres. @param {Rig} rig @param {number} joint */
function leverOf(rig, joint) {
  let known = levers.get(rig);
  if (known === undefined) {
    known = new Float64Array(rig.ids.length).fill(0.05);
    for (let i = rig.ids.length - 1; i >= 0; i--) {
      const parent = rig.parent[i];
      if (parent < 0) continue;
      const bone = Math.hypot(rig.at[3 * i], rig.at[3 * i + 1], rig.at[3 * i + 2]);
      known[parent] = Math.max(known[parent], bone + known[i]);
    }
    levers.set(rig, known);
  }
  return known[joint];
}
