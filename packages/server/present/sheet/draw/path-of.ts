import { type Study, worldOf } from "@keyside/core";
import type { Span, View } from "./view.ts";

/** Metres, three numbers per judged frame. */
export type Path = Float64Array;

/** A node's path. */
export function pathOf(study: Study, node: number): Path {
  return worldOf(study, node).position;
}

/** A path as if a node stood where it is at one judged frame: what is left is the motion between them. */
export function pathAgainst(study: Study, path: Path, carrier: number, at: number): Path {
  const carried = pathOf(study, carrier);
  return path.map((value, k) => value - carried[k] + carried[3 * at + (k % 3)]);
}

/** How far a path gets from where it is at the start of some frames, metres. */
export function reachOf(path: Path, { from, to }: Span): number {
  let far = 0;
  for (let i = from; i <= to; i++) {
    far = Math.max(far, Math.hypot(...[0, 1, 2].map((k) => path[3 * i + k] - path[3 * from + k])));
  }
  return far;
}

/** A path this many times narrower than it is long, that goes so much farther than its length, lies on itself. */
const narrow = 0.15;
const toAndFro = 1.5;
/** Breadth over which a path that lies on itself is drawn, as part of its length. */
const drawnBreadth = 0.7;

/** A view in which each judged frame is drawn farther to the right or down, and by how much. */
export interface Spread {
  readonly view: View;
  /** Length of the view by which each frame is moved on; 0 where none is. */
  readonly apart: number;
  readonly way: "right" | "down";
}

/**
 * Draws a path apart that lies on itself, as that of a jump on the spot does, so that its ticks can be told from each
 * other. The frame `still` stays where it is.
 */
export function spreadView(view: View, path: Path, { from, to }: Span, still: number): Spread {
  let [left, right, low, high, length] = [Infinity, -Infinity, Infinity, -Infinity, 0];
  let last: readonly [number, number] | null = null;
  for (let i = from; i <= to; i++) {
    const seen = view.see(path, 3 * i, i);
    if (seen === null) return { view, apart: 0, way: "right" };
    left = Math.min(left, seen.x);
    right = Math.max(right, seen.x);
    low = Math.min(low, seen.y);
    high = Math.max(high, seen.y);
    if (last !== null) length += Math.hypot(seen.x - last[0], seen.y - last[1]);
    last = [seen.x, seen.y];
  }
  const [wide, tall] = [right - left, high - low];
  const [thin, long] = wide < tall ? [wide, tall] : [tall, wide];
  if (!(thin < narrow * long && length > toAndFro * long)) return { view, apart: 0, way: "right" };
  const apart = (drawnBreadth * long) / (to - from + 1);
  const way = wide < tall ? "right" : "down";
  const spread: View = {
    ...view,
    see(point, at, sample) {
      const seen = view.see(point, at, sample);
      if (seen === null) return null;
      const on = (sample - still) * apart;
      return way === "right" ? { ...seen, x: seen.x + on } : { ...seen, y: seen.y - on };
    },
  };
  return { view: spread, apart, way };
}
