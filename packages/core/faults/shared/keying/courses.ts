import { logBetween, turnedBy } from "../../../base/quaternion.ts";
import type { Course, Track } from "./track.ts";

/** Old frame that is shown at a new one; ascending. */
export type Warp = (frame: number) => number;

/** A track's own course at other times. */
export function warpedCourse(track: Track, warp: Warp): Course {
  return (frame, out) => track.read(warp(frame), out);
}

/**
 * A course that goes from one frame of a track to another as if nothing stood between: a cubic with the value and the
 * slope that the track has at each of them. Slopes are those of the frame outside, no steeper than three times the way
 * between the two, which keeps the course within them (Fritsch & Carlson 1980).
 * @param even share by which its slopes come near to that of the straight way: a cubic that comes in fast and has little
 *   way left slows down in its middle
 */
export function bridgedCourse(track: Track, from: number, to: number, even = 0): Course {
  return track.width === 4 ? bridgedTurn(track, from, to, even) : bridgedValue(track, from, to, even);
}

function bridgedValue(track: Track, from: number, to: number, even: number): Course {
  const read = reader(track);
  const span = to - from;
  const [a, b] = [read(from), read(to)];
  const slope = (own: number) => limited(own * span, b - a) * (1 - even) + (b - a) * even;
  const m0 = slope(read(from) - read(from - 1));
  const m1 = slope(read(to + 1) - read(to));
  return (frame, out) => {
    const t = Math.min(1, Math.max(0, (frame - from) / span));
    out[0] = hermite(a, b, m0, m1, t);
  };
}

function bridgedTurn(track: Track, from: number, to: number, even: number): Course {
  const span = to - from;
  const at = (frame: number) => {
    const q = new Float64Array(4);
    track.read(frame, q);
    return q;
  };
  const [a, b] = [at(from), at(to)];
  const way = logBetween(a, b);
  const before = logBetween(at(from - 1), a);
  const after = logBetween(b, at(to + 1));
  const slope = (own: number, k: number) => own * span * (1 - even) + way[k] * even;
  const turn = new Float64Array(3);
  return (frame, out) => {
    const t = Math.min(1, Math.max(0, (frame - from) / span));
    for (let k = 0; k < 3; k++) turn[k] = hermite(0, way[k], slope(before[k], k), slope(after[k], k), t);
    turnedBy(a, turn, out);
  };
}

/**
 * A track's course with its tremble taken out: at every frame the mean of those around it, weighed like a bell, fading
 * into the course itself at both ends of the span.
 * @param reach frames on each side that are looked at
 */
export function smoothedCourse(track: Track, from: number, to: number, reach: number, step: number): Course {
  const weights: number[] = [];
  const count = Math.max(1, Math.round(reach / step));
  for (let i = -count; i <= count; i++) weights.push(Math.cos((Math.PI * i) / (2 * (count + 1))) ** 2);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const around = new Float64Array(track.width);
  return (frame, out) => {
    const fade = Math.min(1, Math.max(0, Math.min(frame - from, to - frame) / step));
    track.read(frame, out);
    if (fade === 0) return;
    const here = out.slice(0, track.width);
    const mean = new Float64Array(track.width);
    weights.forEach((weight, i) => {
      track.read(frame + (i - count) * step, around);
      let sign = 1;
      if (track.width === 4) {
        let dot = 0;
        for (let k = 0; k < 4; k++) dot += around[k] * here[k];
        if (dot < 0) sign = -1;
      }
      for (let k = 0; k < track.width; k++) mean[k] += (sign * weight * around[k]) / total;
    });
    let length = 0;
    for (let k = 0; k < track.width; k++) {
      out[k] = here[k] + fade * (mean[k] - here[k]);
      length += out[k] * out[k];
    }
    if (track.width === 4) for (let k = 0; k < 4; k++) out[k] /= Math.sqrt(length);
  };
}

/** A track of one number as a function of the frame. */
export function reader(track: Track): (frame: number) => number {
  const out = new Float64Array(4);
  return (frame) => {
    track.read(frame, out);
    return out[0];
  };
}

/** Rises from 0 at `from` to 1 at `to` without a corner at either end. */
export function ramp(frame: number, from: number, to: number): number {
  if (frame <= from) return 0;
  if (frame >= to) return 1;
  const t = (frame - from) / (to - from);
  return t * t * (3 - 2 * t);
}

/** Rises from 0 at `from` to 1 at `top` and falls to 0 at `to`, without a corner. */
export function bump(frame: number, from: number, top: number, to: number): number {
  return frame <= top ? ramp(frame, from, top) : 1 - ramp(frame, top, to);
}

function hermite(a: number, b: number, m0: number, m1: number, t: number): number {
  return a + t * (m0 + t * (3 * (b - a) - 2 * m0 - m1 + t * (m0 + m1 - 2 * (b - a))));
}

/** A slope no steeper than three times the way; one that leads away from it stays, as a swing out of it is meant. */
function limited(slope: number, way: number): number {
  return slope * way > 0 ? Math.sign(slope) * Math.min(Math.abs(slope), 3 * Math.abs(way)) : slope;
}
