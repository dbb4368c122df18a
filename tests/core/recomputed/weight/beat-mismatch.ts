import { type Beat, strongestBeats } from "../shared/beats.ts";
import type { Recompute } from "../shared/compare.ts";
import { add, distance, median, range, size, sub, times, type Vec } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

const gravity = 9.80665;
/** Lift that counts as none, in units of the weight. */
const none = 0.15;

/**
 * Of the beats in the frames that are marked, the largest ratio of what the body needs to what the beat gives, or the
 * reverse. Both are in units of the body's weight.
 */
export const recompute: Recompute = (note, shot) => {
  const hips = shot.nodeOf(note);
  const figure = shot.figureOf(hips);
  const [from, to] = shot.spanOf(note);
  const beats = beatsInAir(shot, figure);
  const usual = median(beats.map((beat) => beat.to - beat.from));
  const efforts = beats.map((beat) => effortOf(shot, hips, beat, usual));
  const slow = shot.stature(hips);
  const ratios = beats.flatMap((beat, b) => {
    if (beat.from < from || beat.to > to) return [];
    const give = beat.lift / unitAt(b, beats, efforts, slow);
    const ratio = Math.max(efforts[b].need, none) / Math.max(give, none);
    return [Math.max(ratio, 1 / ratio)];
  });
  if (ratios.length === 0) throw new Error("no whole beat in the frames");
  return Math.max(...ratios);
};

/** Beats in which nothing carries the figure, but for those too weak to be any. */
function beatsInAir(shot: Sampled, figure: number): readonly Beat[] {
  const contacts = shot.contacts(figure);
  const free = strongestBeats(shot, figure).filter(
    (beat) => !contacts.some(({ from, to }) => from <= beat.to && to >= beat.from),
  );
  const least = 0.2 * median(free.map(({ lift }) => lift));
  return free.filter(({ lift }) => lift >= least);
}

interface Effort {
  /** Force, in units of the weight: change of velocity and what gravity would add, over the time. */
  readonly need: number;
  readonly speed: number;
  /** Whether it pays with height or speed for as much way as in a good glide, 12 m for each. */
  readonly glides: boolean;
}

function effortOf(shot: Sampled, hips: number, { from, to }: Beat, usual: number): Effort {
  const velocity = (i: number): Vec => {
    const [a, b] = [Math.max(0, i - 1), Math.min(shot.count - 1, i + 1)];
    return times(sub(shot.at(hips, b), shot.at(hips, a)), 1 / ((b - a) * shot.dt));
  };
  const half = Math.max(to - from, Math.round(usual)) / 2;
  const first = Math.max(0, Math.round((from + to) / 2 - half));
  const last = Math.min(shot.count - 1, Math.round((from + to) / 2 + half));
  const fall = gravity * (last - first) * shot.dt;
  const need = size(add(sub(velocity(last), velocity(first)), [0, fall, 0])) / fall;
  const energy = (i: number) => shot.at(hips, i)[1] + size(velocity(i)) ** 2 / (2 * gravity);
  const way = range(first + 1, last).reduce(
    (sum, i) => sum + distance(shot.at(hips, i - 1), shot.at(hips, i)),
    0,
  );
  const speed = size(velocity((from + to) >> 1));
  return { need, speed, glides: speed > shot.stature(hips) && energy(first) - energy(last) > way / 12 };
}

/** What a beat lifts with for each unit of weight, by others that go about as fast; or at the least, by those no slower. */
function unitAt(b: number, beats: readonly Beat[], efforts: readonly Effort[], slow: number): number {
  const speed = (o: number) => Math.max(slow, efforts[o].speed);
  const all = beats.map((_, o) => o).filter((o) => efforts[o].need > 0.5 && efforts[o].need < 2);
  const noSlower = all.filter((o) => 1.5 * speed(o) > speed(b));
  const alike = noSlower.filter((o) => !efforts[o].glides && speed(o) < 1.5 * speed(b));
  const units = (of: readonly number[]) =>
    of.map((o) => beats[o].lift / efforts[o].need).sort((x, y) => x - y);
  if (alike.length >= 4) return median(units(alike));
  const sorted = units(noSlower);
  const at = 0.75 * (sorted.length - 1);
  const next = Math.min(sorted.length - 1, Math.floor(at) + 1);
  return sorted[Math.floor(at)] + (at % 1) * (sorted[next] - sorted[Math.floor(at)]);
}
