import type { Note } from "@keyside/core";
import type { Recompute } from "../shared/compare.ts";
import type { Sampled } from "../shared/sampled.ts";

/**
 * How many frames later than the load the shoulders are half way up; over how many the load gains its speed; how far hips and
 * shoulders go against it; how much higher it is in a pose than in the one before.
 */
export const recompute: Recompute = (note, shot) => {
  const load = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  if (note.measured.quantity.startsWith("rise")) return shot.at(load, to)[1] - shot.at(load, from)[1];
  if (note.measured.quantity.startsWith("time")) return longestOf(shot, load, from);
  if (note.measured.quantity.startsWith("lean")) return leanOf(note, shot);
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

/** Frames from a sample to that at which height and speed together have come fastest, per frame. */
function longestOf(shot: Sampled, load: number, from: number): number {
  const height = (i: number) => shot.at(load, i)[1];
  const flies = (i: number) => {
    const up = ((height(i + 1) - height(Math.max(from, i - 1))) * shot.rate) / (i > from ? 2 : 1);
    return height(i) + Math.max(0, up) ** 2 / (2 * 9.80665);
  };
  let best = { frames: 0, gain: 0 };
  for (let i = from + Math.round(shot.rate / 8); i + 1 < shot.count && height(i + 1) > height(i); i++) {
    const gain = (flies(i) - flies(from)) / (i - from);
    if (gain > best.gain) best = { frames: i - from, gain };
  }
  return best.frames;
}

/** Metres by which hips and shoulders go away from a load that arms lift. */
function leanOf(note: Note, shot: Sampled): number {
  const [from, to] = shot.spanOf(note);
  const load = shot.at(shot.nodeOf(note), to);
  const figure = shot.figures.findIndex(({ id }) => id === note.figure);
  const joints = ["leftUpperArm", "rightUpperArm", "leftThigh", "rightThigh"] as const;
  const trunk = joints.flatMap((part) => shot.figures[figure].parts.get(part)?.slice(0, 1) ?? []);
  const middle = (i: number, k: number) =>
    trunk.reduce((sum, one) => sum + shot.at(one, i)[k], 0) / trunk.length;
  const first = Math.max(0, from - Math.round(shot.rate / 2));
  const last = Math.min(shot.count - 1, to + Math.round(shot.rate / 4));
  const body = shot.massCentre(figure, to);
  const [x, z] = [load[0] - body[0], load[2] - body[2]];
  let most = 0;
  for (let i = first; i <= last; i++) {
    const by = (middle(first, 0) - middle(i, 0)) * x + (middle(first, 2) - middle(i, 2)) * z;
    most = Math.max(most, by / Math.hypot(x, z));
  }
  return most;
}

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
