import type { Recompute } from "../shared/compare.ts";

/** How many frames later than the load the shoulders are half way up. */
export const recompute: Recompute = (note, shot) => {
  const load = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const { parts } = shot.figures[shot.figures.findIndex(({ id }) => id === note.figure)];
  const arms = [
    ...(parts.get("leftUpperArm")?.slice(0, 1) ?? []),
    ...(parts.get("rightUpperArm")?.slice(0, 1) ?? []),
  ];
  const shoulders = (i: number) => arms.reduce((sum, arm) => sum + shot.at(arm, i)[1], 0) / arms.length;
  const height = (i: number) => shot.at(load, i)[1];
  // The note ends where the load is up but for a little: its highest and lowest places lie just beyond.
  const [bottom, top] = [lowestBefore(height, from), highestAfter(height, to, shot.count)];
  const loadHalf = crossing(height, bottom, top);
  const half = Math.round(shot.rate / 2);
  const first = Math.max(0, from - half);
  const last = Math.min(shot.count - 1, to + Math.round(half / 2));
  let low = first;
  for (let i = first; i <= Math.round(loadHalf); i++) if (shoulders(i) <= shoulders(low)) low = i;
  let high = last;
  for (let i = last; i > low; i--) if (shoulders(i) >= shoulders(high)) high = i;
  return crossing(shoulders, low, high) - loadHalf;
};

function lowestBefore(height: (i: number) => number, from: number): number {
  let low = from;
  while (low > 0 && height(low - 1) < height(low)) low--;
  return low;
}

function highestAfter(height: (i: number) => number, to: number, count: number): number {
  let high = to;
  while (high + 1 < count && height(high + 1) > height(high)) high++;
  return high;
}

/** When a height first comes half way from one sample's to another's. */
function crossing(height: (i: number) => number, from: number, to: number): number {
  const half = (height(from) + height(to)) / 2;
  let i = from;
  while (i < to && height(i + 1) < half) i++;
  return i + (half - height(i)) / (height(i + 1) - height(i));
}
