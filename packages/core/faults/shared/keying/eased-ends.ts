import type { Warp } from "./courses.ts";
import type { FrameSpan } from "./keying.ts";

/** A warp over a span; outside it nothing changes. */
export interface EasedEnd extends FrameSpan {
  readonly warp: Warp;
}

/**
 * A move that comes to rest `later` frames later: from as many frames before its rest on it slows down evenly, and
 * runs on into the hold.
 * @param rest frame at which it comes to rest now
 */
export function laterStop(rest: number, later: number): EasedEnd {
  const [from, to] = [rest - later, rest + later];
  // Even slowing from full speed to none covers half of the way that full speed would.
  const warp = (frame: number) => {
    if (frame <= from || frame >= to) return frame;
    const t = (frame - from) / (to - from);
    return from + (to - from) * (t - 0.5 * t * t);
  };
  return { from, to, warp };
}

/**
 * A move that comes to rest when it does, but slows down over `over` frames: what is before goes faster by a little.
 * @param start frame from which it may go faster
 */
export function softerStop(start: number, rest: number, over: number): EasedEnd {
  const length = rest - start;
  const slowing = Math.min(over, 0.8 * length);
  const pace = length / (length - 0.5 * slowing);
  const warp = (frame: number) => {
    if (frame <= start || frame >= rest) return frame;
    const left = rest - frame;
    if (left >= slowing) return start + pace * (frame - start);
    return rest - (pace * left * left) / (2 * slowing);
  };
  return { from: start, to: rest, warp };
}

/** The same eases for a start, as seen in a mirror: the move leaves its rest earlier, or gathers speed over more frames. */
export function mirrored({ from, to, warp }: EasedEnd, about: number): EasedEnd {
  const flip = (frame: number) => 2 * about - frame;
  return { from: flip(to), to: flip(from), warp: (frame) => flip(warp(flip(frame))) };
}

/** A move from rest to rest that gathers speed over a share of its length, and slows down over as much. */
export function easedBoth(from: number, to: number, share: number): EasedEnd {
  const pace = 1 / (1 - share);
  const warp = (frame: number) => {
    if (frame <= from || frame >= to) return frame;
    const t = (frame - from) / (to - from);
    const s = Math.min(t, 1 - t);
    const way = s < share ? (pace * s * s) / (2 * share) : pace * (s - 0.5 * share);
    return from + (to - from) * (t < 0.5 ? way : 1 - way);
  };
  return { from, to, warp };
}
