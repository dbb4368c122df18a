// @ts-check
/**
 * On which frames a shot is keyed: its poses, at extremes, breakdowns and accents, shared by all curves; and which frames of
 * solved limbs are baked.
 * @import { Event, KeyingStyle, Performance, Random } from "../types.d.ts"
 */
import { framesOf } from "../motion/performance.mjs";

/**
 * The frames of an event at which an animator sets a pose, and how much each asks for one.
 * @param {Event} event
 * @returns {[frame: number, weight: number][]}
 */
function accentsOf(event) {
  switch (event.kind) {
    case "move":
      return [
        [event.from, 2],
        [event.peak, 1],
        [event.to, 2],
      ];
    case "hold":
      return [
        [event.from, 1.5],
        [event.to, 1.5],
      ];
    case "landing":
      return [
        [event.at, 4],
        [event.low, 3],
      ];
    case "flight":
      return [
        [event.from - 1, 4],
        [(event.from + event.to) / 2, 2],
        [event.to + 1, 4],
      ];
    case "beat":
      return [
        [event.from, 2],
        [event.top, 2],
        [event.to, 2],
      ];
    default:
      return [
        [event.from, 2],
        [event.to, 2],
      ];
  }
}

/**
 * The shared pose frames, ascending: first and last frame, accents and extremes in order of their weight as far as they stand
 * at least half a spacing apart, then breakdowns in what gaps are left.
 * @param {Performance} performance @param {number} spacing frames between keys, on average @param {Random} random
 * @returns {number[]}
 */
export function poseFrames(performance, spacing, random) {
  const { first, last } = performance;
  const weights = turningPoints(performance);
  for (const event of performance.events) {
    for (const [frame, weight] of accentsOf(event)) {
      const i = Math.round(frame) - first;
      if (i >= 0 && i < weights.length) weights[i] += 0.3 * weight;
    }
  }
  // Ties are broken by chance, not by the order of frames.
  for (let i = 0; i < weights.length; i++) weights[i] += random.between(0, 0.05);
  const least = Math.max(1, Math.round(0.55 * spacing));
  const chosen = new Set([first, last]);
  const isFree = (/** @type {number} */ frame, /** @type {number} */ room) => {
    for (let near = frame - room + 1; near < frame + room; near++) if (chosen.has(near)) return false;
    return true;
  };
  const ranked = [...weights.keys()].sort((a, b) => weights[b] - weights[a]);
  const wanted = Math.max(2, Math.round((last - first) / spacing) + 1);
  for (const i of ranked) {
    if (chosen.size >= 0.75 * wanted || weights[i] < 0.15) break;
    if (isFree(first + i, least)) chosen.add(first + i);
  }
  breakDown(chosen, weights, first, spacing);
  return [...chosen].sort((a, b) => a - b);
}

/** Fills gaps that are longer than a spacing and a half, at the weightiest frame of their middle third.
 * @param {Set<number>} chosen @param {Float64Array} weights @param {number} first @param {number} spacing */
function breakDown(chosen, weights, first, spacing) {
  const frames = [...chosen].sort((a, b) => a - b);
  const gaps = frames.slice(1).map((to, i) => /** @type {const} */ ([frames[i], to]));
  for (let gap = gaps.pop(); gap !== undefined; gap = gaps.pop()) {
    const [from, to] = gap;
    if (to - from <= 1.5 * spacing || to - from < 2) continue;
    const third = Math.max(1, Math.floor((to - from) / 3));
    let best = Math.round((from + to) / 2);
    for (let frame = from + third; frame <= to - third; frame++) {
      if (weights[frame - first] > weights[best - first]) best = frame;
    }
    chosen.add(best);
    gaps.push([from, best], [best, to]);
  }
}

/**
 * How much of the body turns back on each frame: for every track its turning points, by how far it goes to them as a share
 * of its range, over the number of tracks that move.
 * @param {Performance} performance @returns {Float64Array}
 */
function turningPoints(performance) {
  const count = framesOf(performance);
  const weights = new Float64Array(count);
  let moving = 0;
  for (const track of performance.tracks.values()) {
    let [low, high] = [track[0], track[0]];
    for (const value of track) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
    if (high - low < 1e-4) continue;
    moving++;
    let kept = track[0];
    for (let i = 1; i + 1 < count; i++) {
      if ((track[i] - track[i - 1]) * (track[i + 1] - track[i]) > 0 || track[i] === track[i - 1]) continue;
      const share = Math.abs(track[i] - kept) / (high - low);
      if (share < 0.05) continue;
      weights[i] += share;
      kept = track[i];
    }
  }
  if (moving > 0) for (let i = 0; i < count; i++) weights[i] *= 8 / moving;
  return weights;
}

/** Whether a limb stands on something or holds something in an event. @param {Event} event @param {string} figure
 * @param {number} limb @returns {event is Extract<Event, { kind: "plant" | "hold-prop" }>} */
export const meets = (event, figure, limb) =>
  (event.kind === "plant" && event.figure === figure && event.limb === limb) ||
  (event.kind === "hold-prop" && event.figure === figure && event.limbs.includes(limb));

/**
 * Per solved track: 1 on the frames on which its limb stands on something or holds something, or on all frames where no
 * event says when it does.
 * @param {Performance} performance
 * @returns {Map<string, Uint8Array>}
 */
export function bakedFrames(performance) {
  const { first, events, solved, figures } = performance;
  const count = framesOf(performance);
  const always = new Uint8Array(count).fill(1);
  /** @type {Map<string, Uint8Array>} */
  const baked = new Map([...solved].map((name) => [name, always]));
  for (const figure of figures) {
    figure.body.limbs.forEach((limb, index) => {
      const told = events.filter((event) => meets(event, figure.id, index));
      if (told.length === 0) return;
      const flags = new Uint8Array(count);
      for (const { from, to } of told) {
        const start = Math.max(0, Math.round(from) - first);
        const end = Math.min(count - 1, Math.round(to) - first);
        if (end >= start) flags.fill(1, start, end + 1);
      }
      for (const joint of limb.joints) {
        for (const axis of "xyz") {
          const name = `${joint} rotation.${axis}`;
          if (solved.has(name)) baked.set(name, flags);
        }
      }
    });
  }
  for (const name of baked.keys()) if (!performance.tracks.has(name)) baked.delete(name);
  return baked;
}

/**
 * By how many frames each joint's keys stand behind the pose frames: the trunk and legs on them, a head one offset behind,
 * along arms, wings, tails and loose parts one more offset for every joint.
 * @param {Performance} performance @param {KeyingStyle} style
 * @returns {Map<string, number>} joints that are not in it are keyed on the pose frames
 */
export function partOffsets(performance, { offset, spacing }) {
  const most = Math.max(0, Math.floor(spacing / 2));
  /** @type {Map<string, number>} */
  const offsets = new Map();
  for (const { body } of performance.figures) {
    if (body.head !== null) offsets.set(body.head, Math.min(most, offset));
    for (const { kind, joints, fingers } of body.limbs) {
      if (kind === "leg") continue;
      joints.forEach((joint, n) => {
        offsets.set(joint, Math.min(most, Math.round(offset * (0.5 + 0.5 * n))));
      });
      for (const joint of fingers?.flat() ?? []) offsets.set(joint, Math.min(most, 2 * offset));
    }
  }
  return offsets;
}
