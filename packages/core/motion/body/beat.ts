import { medianOf } from "../../base/median.ts";
import { bytes, floats } from "../../base/room.ts";

/** One beat of a propulsor: from one extreme of its channel to the next but one. */
export interface Beat {
  /** First and last sample: extremes of the same kind. */
  readonly from: number;
  readonly to: number;
  /** Beats per second. */
  readonly rate: number;
  /** Half the distance between the extremes, in the channel's unit. */
  readonly amplitude: number;
  /** Its way there and its way back. */
  readonly strokes: readonly [BeatStroke, BeatStroke];
}

/** Half a beat: from one extreme of its channel to the next one. */
export interface BeatStroke {
  readonly from: number;
  readonly to: number;
  /** Beats per second, and their amplitude, if all strokes were like this one. */
  readonly rate: number;
  readonly amplitude: number;
  readonly rises: boolean;
}

/**
 * Extremes of a series, alternating high and low: turning points that stand out from the ones beside them by more than
 * `prominence`. The first sample is none: what went before it is not known.
 */
export function extremesOf(series: ArrayLike<number>, prominence: number): number[] {
  const found: number[] = [];
  if (series.length === 0) return found;
  let low = 0;
  let high = 0;
  // 0: no direction yet; 1: looking for the next high; −1: for the next low.
  let looking = 0;
  for (let i = 1; i < series.length; i++) {
    if (series[i] > series[high]) high = i;
    if (series[i] < series[low]) low = i;
    if (looking >= 0 && series[high] - series[i] > prominence) {
      if (high > 0) found.push(high);
      looking = -1;
      low = i;
    } else if (looking <= 0 && series[i] - series[low] > prominence) {
      if (low > 0) found.push(low);
      looking = 1;
      high = i;
    }
  }
  return found;
}

/**
 * Beats of a propulsor's channel, from extremes ({@link extremesOf}) a beat apart; overlapping by half a beat, so that
 * a change shows half a beat after it.
 * @param rate samples per second
 * @param prominence least swing that counts, in the channel's unit
 */
export function beatsOf(series: ArrayLike<number>, rate: number, prominence: number): Beat[] {
  const extremes = extremesOf(series, prominence).map((at) => ({ at, ...refined(series, at) }));
  const beats: Beat[] = [];
  for (let i = 0; i + 2 < extremes.length; i++) {
    const first = extremes[i];
    const middle = extremes[i + 1];
    const last = extremes[i + 2];
    const strokes = [strokeBetween(first, middle, rate), strokeBetween(middle, last, rate)] as const;
    beats.push({
      from: first.at,
      to: last.at,
      rate: rate / (last.time - first.time),
      amplitude: (strokes[0].amplitude + strokes[1].amplitude) / 2,
      strokes,
    });
  }
  return beats;
}

type Extreme = { readonly at: number; readonly time: number; readonly value: number };

function strokeBetween(a: Extreme, b: Extreme, rate: number): BeatStroke {
  return {
    from: a.at,
    to: b.at,
    rate: rate / (2 * (b.time - a.time)),
    amplitude: Math.abs(b.value - a.value) / 2,
    rises: b.value > a.value,
  };
}

/** When a series has its extreme next to a sample: samples, with a fraction (see `refined`). */
export function timeOfExtreme(series: ArrayLike<number>, at: number): number {
  return refined(series, at).time;
}

/** Time (samples, with a fraction) and value of an extreme: vertex of the parabola through it and its neighbours. */
function refined(series: ArrayLike<number>, at: number): { time: number; value: number } {
  if (at === 0 || at === series.length - 1) return { time: at, value: series[at] };
  const before = series[at - 1] - series[at];
  const after = series[at + 1] - series[at];
  const bend = before + after;
  const shift = bend === 0 ? 0 : Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend)));
  return { time: at + shift, value: series[at] - (shift * (before - after)) / 4 };
}

/**
 * What a beat lifts with, up to a factor that belongs to the creature: rate² · amplitude². Force on a wing goes with
 * the square of its speed, and the speed of a beating wing with rate · amplitude (Ellington 1984, mean-force theory; from
 * memory).
 */
export function liftOf(beat: Pick<Beat, "rate" | "amplitude">): number {
  return (beat.rate * beat.amplitude) ** 2;
}

/**
 * Lift of the beats at each sample ({@link liftOf}), of the beats around it; 0 where nothing beats. A sample in two
 * beats gets their mean.
 */
export function liftSeries(beats: readonly Beat[], count: number): Float64Array {
  const lift = floats(count);
  const covering = bytes(count);
  for (const beat of beats) {
    const value = liftOf(beat);
    for (let i = beat.from; i <= beat.to && i < count; i++) {
      covering[i]++;
      lift[i] += (value - lift[i]) / covering[i];
    }
  }
  return lift;
}

/** Samples of a usual beat: the median over all beats; 0 where there are none. */
export function usualBeat(beats: readonly Beat[]): number {
  return beats.length === 0 ? 0 : medianOf(beats.map(({ from, to }) => to - from));
}
