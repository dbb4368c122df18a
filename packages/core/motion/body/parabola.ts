/** Bodies in the air without drag. Lengths in metres, times in seconds. */

/** A parabola fitted to heights: height(t) = height + speed·t − ½·gravity·t², t in seconds from `middle`. */
export interface Parabola {
  /** Time that t counts from, as an index with a fraction. */
  readonly middle: number;
  readonly height: number;
  /** Upward, m/s. */
  readonly speed: number;
  /** Downward positive, m/s². */
  readonly gravity: number;
  /** Root mean square of what is left, metres. */
  readonly residual: number;
}

/**
 * Least-squares parabola through a range of a path's heights (both ends included), all samples weighed alike. Null
 * below three samples.
 * @param series numbers of which the heights stand at `stride · i + offset`
 * @param dt seconds from one sample to the next
 */
export function fitParabola(
  series: Float64Array,
  from: number,
  to: number,
  dt: number,
  stride = 3,
  offset = 1,
): Parabola | null {
  const count = to - from + 1;
  if (count < 3) return null;
  const middle = (from + to) / 2;
  // Over samples laid evenly about 0 the odd and the even powers separate, and the fit has a closed form.
  let s2 = 0;
  let s4 = 0;
  let y0 = 0;
  let y1 = 0;
  let y2 = 0;
  for (let i = from; i <= to; i++) {
    const t = i - middle;
    const y = series[stride * i + offset];
    s2 += t * t;
    s4 += t * t * t * t;
    y0 += y;
    y1 += y * t;
    y2 += y * t * t;
  }
  const bend = (count * y2 - s2 * y0) / (count * s4 - s2 * s2);
  const height = (y0 - bend * s2) / count;
  const slope = y1 / s2;
  let squares = 0;
  for (let i = from; i <= to; i++) {
    const t = i - middle;
    const rest = series[stride * i + offset] - (height + slope * t + bend * t * t);
    squares += rest * rest;
  }
  return {
    middle,
    height,
    speed: slope / dt,
    gravity: (-2 * bend) / (dt * dt),
    residual: Math.sqrt(squares / count),
  };
}
