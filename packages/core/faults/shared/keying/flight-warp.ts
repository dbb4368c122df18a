import { referenceRate } from "../../../base/constants.ts";
import type { Warp } from "./courses.ts";
import type { FrameSpan } from "./keying.ts";

/** Frames of a flight and of what is around it; take-off and landing may stand between frames. */
export interface FlightFrames {
  readonly first: number;
  readonly takeOff: number;
  readonly landing: number;
  /** The last frame that any key stands on. */
  readonly last: number;
}

/** Frames (at 24 per second) over which the pace changes before a take-off and after a landing. */
const change = 3;
/** Frames (at 24 per second) before and after those from which time is taken, or to which it is given. */
const around = 16;
/** Finest step in which a warp is worked out, frames. */
const fine = 0.05;

/** How time runs anew: a density of new frames per old frame, 1 where nothing changes. */
type Density = (frame: number) => number;

/**
 * Warps that make a flight longer by so many frames (shorter, if negative): first those that take the time from before
 * and after it, so that everything else stays where it is; then one that moves all that follows.
 * @param rate frames per second of the numbering
 */
export function flightWarps(
  flight: FlightFrames,
  longer: number,
  rate: number,
): (FrameSpan & { warp: Warp })[] {
  const { takeOff, landing, first, last } = flight;
  const scale = rate / referenceRate;
  const ramps = change * scale;
  const length = landing - takeOff;
  const inFlight = trapezoid(takeOff - ramps, takeOff, landing, landing + ramps);
  // The pace changes over the ramps as well, so that more than the flight's own frames come or go.
  const total = (longer * (length + ramps)) / length;
  const rise = longer / length;
  const reach = around * scale;
  const before = Math.min(reach, takeOff - ramps - first);
  const after = Math.min(reach, last - landing - ramps);
  const shares = [
    [0.5, 0.5],
    [0.35, 0.65],
    [0, 1],
    [1, 0],
  ].filter(([a, b]) => (a === 0 || before >= 0.6 * reach) && (b === 0 || after >= 0.6 * reach));
  const warps = shares.map(([a, b]) => {
    const early = hump(takeOff - ramps - before, takeOff - ramps);
    const late = hump(landing + ramps, landing + ramps + after);
    const density: Density = (frame) =>
      1 + rise * inFlight(frame) - total * (a * early(frame) + b * late(frame));
    const from = a > 0 ? takeOff - ramps - before : takeOff - ramps;
    const to = b > 0 ? landing + ramps + after : landing + ramps;
    return warpOf(density, Math.floor(from), Math.ceil(to), 0);
  });
  const whole = Math.round(total);
  const shifted = (whole / total) * rise;
  const density: Density = (frame) => 1 + shifted * inFlight(frame);
  const moving = warpOf(density, Math.floor(takeOff - ramps), Math.ceil(landing + ramps), whole);
  return [...warps, { ...moving, to: last + Math.abs(whole) }].filter(({ rises }) => rises);
}

/** The warp of a density between two frames; behind the second everything is `shift` frames later. */
function warpOf(
  density: Density,
  from: number,
  to: number,
  shift: number,
): FrameSpan & { warp: Warp; rises: boolean } {
  const count = Math.round((to - from) / fine);
  // New frame at each fine step of the old ones.
  const news = new Float64Array(count + 1);
  news[0] = from;
  let rises = true;
  for (let i = 0; i < count; i++) {
    const pace = density(from + (i + 0.5) * fine);
    rises &&= pace > 0.2;
    news[i + 1] = news[i] + pace * fine;
  }
  // What is left over from working in steps is spread evenly.
  const miss = to + shift - news[count];
  for (let i = 0; i <= count; i++) news[i] += (miss * i) / count;
  const warp = (frame: number) => {
    if (frame <= from) return frame;
    if (frame >= to + shift) return frame - shift;
    let [low, high] = [0, count];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (news[middle] <= frame) low = middle;
      else high = middle;
    }
    return from + (low + (frame - news[low]) / (news[high] - news[low])) * fine;
  };
  return { from, to: to + Math.max(0, shift), warp, rises };
}

/** 1 between the two inner frames, falling to 0 at the outer ones. */
function trapezoid(a: number, b: number, c: number, d: number): Density {
  return (frame) => {
    if (frame <= a || frame >= d) return 0;
    if (frame < b) return (frame - a) / (b - a);
    return frame > c ? (d - frame) / (d - c) : 1;
  };
}

/** A hump between two frames with an area of 1. */
function hump(from: number, to: number): Density {
  const length = to - from;
  return (frame) => {
    if (!(length > 0) || frame <= from || frame >= to) return 0;
    return (1 - Math.cos((2 * Math.PI * (frame - from)) / length)) / length;
  };
}
