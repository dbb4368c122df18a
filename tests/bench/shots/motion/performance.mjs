// @ts-check
/**
 * The dense table: making one, copying one, reading and writing its tracks.
 * @import { ChannelName, Figure, Performance, Prop } from "../types.d.ts"
 */
import { rigOf } from "./rig.mjs";

/**
 * A performance in which everything rests: no track yet, no event.
 * @param {object} about
 * @param {number} about.rate frames per second
 * @param {number} about.frames how many frames it has
 * @param {number} [about.first] number of the first frame (1)
 * @param {readonly Figure[]} about.figures
 * @param {readonly Prop[]} [about.props] a prop's id is used like a joint's; it is a root, in world space
 * @param {"air" | "water"} [about.medium]
 * @param {number} [about.groundHeight] metres (0)
 * @returns {Performance}
 */
export function emptyPerformance(about) {
  const { rate, frames, first = 1, figures, props = [], medium = "air", groundHeight = 0 } = about;
  return {
    rate,
    first,
    last: first + frames - 1,
    figures,
    props,
    ground: { height: groundHeight },
    tracks: new Map(),
    events: [],
    solved: new Set(),
    medium,
  };
}

/**
 * A copy whose tracks, events and set of solved tracks are its own; figures and props are shared.
 * @param {Performance} performance
 * @returns {Performance}
 */
export function copy(performance) {
  return {
    ...performance,
    tracks: new Map([...performance.tracks].map(([name, values]) => [name, values.slice()])),
    events: performance.events.map((event) => ({ ...event })),
    solved: new Set(performance.solved),
  };
}

/** Number of frames. @param {Performance} performance */
export const framesOf = (performance) => performance.last - performance.first + 1;

/** The value that a channel has where no track drives it: metres, degrees, factor.
 * @param {Performance} performance @param {string} joint @param {ChannelName} channel */
export function restOf(performance, joint, channel) {
  if (channel.startsWith("scale")) return 1;
  if (channel.startsWith("rotation")) return 0;
  const rig = rigOf(performance);
  return rig.at[3 * rig.require(joint) + "xyz".indexOf(channel.slice(-1))];
}

/**
 * The values of a channel, one per frame from `first` on, to read and to write; made at rest where there is none.
 * @param {Performance} performance @param {string} joint @param {ChannelName} channel
 * @returns {Float64Array}
 * @throws {Error} for a joint that is in no figure and is no prop
 */
export function trackOf(performance, joint, channel) {
  const name = `${joint} ${channel}`;
  let track = performance.tracks.get(name);
  if (track === undefined) {
    track = new Float64Array(framesOf(performance)).fill(restOf(performance, joint, channel));
    performance.tracks.set(name, track);
  }
  return track;
}

/** Value of a channel on a frame of the table. Frames outside of it are those of its ends.
 * @param {Performance} performance @param {string} joint @param {ChannelName} channel @param {number} frame */
export function channelAt(performance, joint, channel, frame) {
  const track = performance.tracks.get(`${joint} ${channel}`);
  if (track === undefined) return restOf(performance, joint, channel);
  return track[Math.max(0, Math.min(track.length - 1, Math.round(frame) - performance.first))];
}

/**
 * Sets a channel from a function of the frame, over the whole table or from one frame to another (both included).
 * @param {Performance} performance @param {string} joint @param {ChannelName} channel
 * @param {(frame: number, before: number) => number} course new value; `before` is the one that stands there
 * @param {number} [from] @param {number} [to]
 */
export function setTrack(
  performance,
  joint,
  channel,
  course,
  from = performance.first,
  to = performance.last,
) {
  const track = trackOf(performance, joint, channel);
  const { first, last } = performance;
  for (let frame = Math.max(first, from); frame <= Math.min(last, to); frame++) {
    track[frame - first] = course(frame, track[frame - first]);
  }
}

/**
 * Adds a function of the frame to a channel: as `setTrack`, but the course is added to what stands there.
 * @param {Performance} performance @param {string} joint @param {ChannelName} channel
 * @param {(frame: number) => number} course @param {number} [from] @param {number} [to]
 */
export function addTrack(performance, joint, channel, course, from, to) {
  setTrack(performance, joint, channel, (frame, before) => before + course(frame), from, to);
}

/** The figure of an id. @param {Performance} performance @param {string} id @returns {Figure} */
export function figureOf(performance, id) {
  const figure = performance.figures.find((one) => one.id === id);
  if (figure === undefined) throw new Error(`There is no figure "${id}" in this performance.`);
  return figure;
}
