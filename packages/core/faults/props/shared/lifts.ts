import { referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { holdsOf } from "../../../motion/parts/loads.ts";
import { statureOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";

/** A thing that is held goes up: from its last frame in its place to the first in which it has come up. */
export interface Lift extends Span {
  readonly thing: number;
  /** Sample, with a fraction, at which it is half way up. */
  readonly half: number;
  /** Metres. */
  readonly rise: number;
}

/** Least rise of a lift, body heights. */
const leastRise = 0.1;
/** Shares of a rise at which a thing has left its place, and is up. */
const [left, up] = [0.004, 0.985];
/** What goes down by so much of what it rose has ended its lift. */
const sunk = 0.25;

/** The lifts of all things that a figure's hands hold. */
export function liftsOf(study: Study, figure: number): Lift[] {
  const least = leastRise * statureOf(study, figure);
  const lifts: Lift[] = [];
  for (const { thing, from, to } of holdsOf(study, figure)) {
    const { position } = worldOf(study, thing);
    const height = (i: number) => position[3 * i + 1];
    for (let start = from; start < to; ) {
      // From a lowest place to the highest one before it sinks again.
      let [low, high] = [start, start];
      let at = start + 1;
      for (; at <= to; at++) {
        const rise = height(high) - height(low);
        if (height(at) > height(high)) high = at;
        else if (rise >= least && height(high) - height(at) > sunk * rise) break;
        else if (rise < least && height(at) < height(low)) [low, high] = [at, at];
      }
      const rise = height(high) - height(low);
      if (rise >= least) lifts.push({ thing, rise, ...edgesOf(height, low, high, rise) });
      start = Math.max(at, high) + 1;
    }
  }
  return lifts;
}

function edgesOf(height: (i: number) => number, low: number, high: number, rise: number) {
  let [from, to] = [low, low];
  while (from + 1 < high && height(from + 1) - height(low) <= left * rise) from++;
  while (to < high && height(to) - height(low) < up * rise) to++;
  return { from, to, half: halfOf(height, low, high) };
}

/** Sample, with a fraction, at which a height first is half way from one sample's to another's. */
export function halfOf(height: (i: number) => number, from: number, to: number): number {
  const half = (height(from) + height(to)) / 2;
  let i = from;
  while (i < to && height(i + 1) < half) i++;
  if (i >= to) return to;
  const step = height(i + 1) - height(i);
  return step > 0 ? i + Math.max(0, Math.min(1, (half - height(i)) / step)) : i;
}

/** Share of a load's way by which the shoulders have to rise for legs and back to do the lifting. */
const bodyShare = 0.25;

/** How the shoulders' middle rises with a lift; null where it hardly does. */
export function bodyRiseOf(
  study: Study,
  figure: number,
  { from, to, rise, half: loadHalf }: Lift,
): { readonly from: number; readonly to: number; readonly half: number } | null {
  const arms = limbsOf(study, figure).filter(({ kind }) => kind === "arm");
  if (arms.length === 0) return null;
  const { count, rate } = gridOf(study);
  const paths = arms.map(({ root }) => worldOf(study, root).position);
  const height = (i: number) => paths.reduce((sum, path) => sum + path[3 * i + 1], 0) / paths.length;
  const frames = (number: number) => Math.round((number * rate) / referenceRate);
  const first = Math.max(0, from - frames(12));
  const last = Math.min(count - 1, to + frames(6));
  const middle = Math.round(loadHalf);
  let [low, high] = [first, last];
  for (let i = first; i <= middle; i++) if (height(i) <= height(low)) low = i;
  for (let i = last; i > low; i--) if (height(i) >= height(high)) high = i;
  if (!(height(high) - height(low) >= bodyShare * rise)) return null;
  return { from: low, to: high, half: halfOf(height, low, high) };
}

/** Share of a body's rise with a lift at a sample, 0 to 1. */
export function bodyShareAt(study: Study, figure: number, { from, to }: Span): (i: number) => number {
  const paths = limbsOf(study, figure)
    .filter(({ kind }) => kind === "arm")
    .map(({ root }) => worldOf(study, root).position);
  const height = (i: number) => paths.reduce((sum, path) => sum + path[3 * i + 1], 0) / paths.length;
  const rise = height(to) - height(from);
  return (i) => (i <= from ? 0 : i >= to ? 1 : Math.max(0, Math.min(1, (height(i) - height(from)) / rise)));
}
