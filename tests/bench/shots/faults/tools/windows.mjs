// @ts-check
/**
 * When a fault works: windows that open and close softly, courses that are read earlier or later, and frames at 24 per
 * second, in which the trade counts.
 * @import { ChannelName, Performance, Poses } from "../../types.d.ts"
 */
import { minimumJerk, trackOf } from "../../motion/index.mjs";

/** Frames of this shot that last as long as `frames` do at 24 per second. @param {{ rate: number }} about
 * @param {number} frames */
export const at24 = ({ rate }, frames) => (frames * rate) / 24;

/**
 * 0 to 1 to 0, eased: opens from `from` to `open`, closes from `shut` to `to`.
 * @param {number} frame @param {number} from @param {number} open @param {number} shut @param {number} to
 */
export function within(frame, from, open, shut, to) {
  if (frame < open) return frame <= from ? 0 : minimumJerk((frame - from) / (open - from));
  if (frame > shut) return frame >= to ? 0 : minimumJerk((to - frame) / (to - shut));
  return 1;
}

/**
 * A series of one value per frame, read between frames: the cubic through the four nearest (Catmull and Rom), held at its ends.
 * @param {ArrayLike<number>} values @param {number} at index
 */
export function between(values, at) {
  const last = values.length - 1;
  if (at <= 0) return values[0];
  if (at >= last) return values[last];
  const i = Math.floor(at);
  const t = at - i;
  const [p, q, r, s] = [values[Math.max(0, i - 1)], values[i], values[i + 1], values[Math.min(last, i + 2)]];
  return q + (t / 2) * (r - p + t * (2 * p - 5 * q + 4 * r - s + t * (3 * (q - r) + s - p)));
}

/**
 * Reads tracks at other frames than their own.
 * @param {Performance} performance changed in place
 * @param {readonly string[]} joints @param {readonly ChannelName[]} channels only those that have a track are touched
 * @param {(frame: number) => number} course the frame that is to be read
 */
export function retime(performance, joints, channels, course) {
  for (const joint of joints) {
    for (const channel of channels) {
      const track = performance.tracks.get(`${joint} ${channel}`);
      if (track === undefined) continue;
      const before = track.slice();
      for (let i = 0; i < track.length; i++) {
        const read = course(performance.first + i) - performance.first;
        if (read !== i) track[i] = between(before, read);
      }
    }
  }
}

/** @type {readonly ChannelName[]} */
export const turns = ["rotation.x", "rotation.y", "rotation.z"];

/**
 * Takes a share of their own turning from joints: they keep to one value per channel, the one that they have on a frame.
 * @param {Performance} performance changed in place
 * @param {readonly string[]} joints @param {number} keep frame whose values they keep to
 * @param {(frame: number) => number} share 0 leaves the turn alone, 1 takes it all
 */
export function calm(performance, joints, keep, share) {
  for (const joint of joints) {
    for (const channel of turns) {
      if (!performance.tracks.has(`${joint} ${channel}`)) continue;
      const track = trackOf(performance, joint, channel);
      const kept = track[keep - performance.first];
      for (let i = 0; i < track.length; i++) {
        const by = share(performance.first + i);
        if (by !== 0) track[i] += by * (kept - track[i]);
      }
    }
  }
}

/**
 * By how many frames one series runs behind another: the shift at which they fit best, their means apart.
 * @param {(frame: number) => number} late @param {(frame: number) => number} reference whole frames
 * @param {number} from @param {number} to frames of `late` that are compared
 * @param {number} most greatest shift to either side, frames
 */
export function lagBehind(late, reference, from, to, most) {
  const pad = Math.ceil(most) + 2;
  const known = Array.from({ length: to - from + 1 + 2 * pad }, (_, i) => reference(from - pad + i));
  const values = Array.from({ length: to - from + 1 }, (_, i) => late(from + i));
  const misfit = (/** @type {number} */ lag) => {
    const differences = values.map((value, i) => value - between(known, i + pad - lag));
    const mean = differences.reduce((sum, one) => sum + one, 0) / differences.length;
    return differences.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  };
  let best = 0;
  for (const step of [1, 0.25, 0.05]) {
    const centre = best;
    const reach = step === 1 ? Math.ceil(most) : step * 4;
    for (let lag = centre - reach; lag <= centre + reach + 1e-9; lag += step) {
      if (Math.abs(lag) <= most && misfit(lag) < misfit(best)) best = lag;
    }
  }
  return best;
}

/** Clamps a frame into what was sampled. @param {Poses} poses @param {number} frame */
export const sampled = ({ first, count }, frame) => Math.max(first, Math.min(first + count - 1, frame));

/** The middle value. @param {readonly number[]} values */
export function median(values) {
  if (values.length === 0) return 0;
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}

/** Values of a function on whole frames, both ends included. @template T @param {number} from @param {number} to
 * @param {(frame: number) => T} value @returns {T[]} */
export const over = (from, to, value) =>
  Array.from({ length: Math.max(0, Math.floor(to) - Math.ceil(from) + 1) }, (_, i) =>
    value(Math.ceil(from) + i),
  );

/** Frame of the least value. @param {(frame: number) => number} value @param {number} from @param {number} to */
export function minimumIn(value, from, to) {
  const values = over(from, to, value);
  return Math.ceil(from) + values.indexOf(Math.min(...values));
}
