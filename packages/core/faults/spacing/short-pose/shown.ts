/** A pose that a part shows between two moves. Indices of samples, with fractions where a part comes down to a pace. */
export interface Shown {
  /** Quickest step of the move into it and of the one out of it: the samples to which they lead. */
  readonly into: number;
  readonly out: number;
  /** The sample to which its slowest step leads. */
  readonly at: number;
  /** When the part sets out for it, and when it has arrived behind it. */
  readonly sets: number;
  readonly arrives: number;
  /** For how many samples the part stands before the first move, and behind the second. */
  readonly before: number;
  readonly after: number;
}

/** A stretch of samples in which a part is in a pose, with fractions. */
export interface Stay {
  readonly from: number;
  readonly to: number;
}

/** Share of a move's quickest step under which a part stands, before it or behind it. */
const standing = 0.2;

/**
 * The poses between two moves of a series of steps, in order. A move is a stretch of steps around a peak of at least
 * `least`, over a fifth of that peak; between two of them the part comes down to a fifth of the lower peak.
 * @param steps length of the step that leads to each sample; the first entry is not used
 */
export function shownPoses(steps: Float64Array, least: number): Shown[] {
  const peaks = peaksOf(steps, least);
  const found: Shown[] = [];
  for (let n = 1; n < peaks.length; n++) {
    const into = peaks[n - 1];
    const out = peaks[n];
    let at = into;
    for (let i = into; i <= out; i++) if (steps[i] < steps[at]) at = i;
    if (!(steps[at] <= standing * Math.min(steps[into], steps[out]))) continue;
    const first = standing * steps[into];
    const last = standing * steps[out];
    const sets = crossing(steps, into, -1, first);
    const arrives = crossing(steps, out, 1, last);
    const before = n > 1 ? crossing(steps, peaks[n - 2], 1, first) : 0;
    const after = n + 1 < peaks.length ? crossing(steps, peaks[n + 1], -1, last) : steps.length - 1;
    found.push({ into, out, at, sets, arrives, before: sets - before, after: after - arrives });
  }
  return found;
}

/** The quickest steps of moves: of two peaks between which the pace does not come down to a fifth the lower one is none. */
function peaksOf(steps: Float64Array, least: number): number[] {
  const peaks: number[] = [];
  let valley = 0;
  for (let i = 1; i < steps.length; i++) {
    const last = peaks[peaks.length - 1];
    if (last === undefined ? steps[i] >= least : false) {
      peaks.push(i);
      valley = steps[i];
      continue;
    }
    if (last === undefined) continue;
    if (steps[i] > steps[last] && valley > standing * steps[last]) {
      peaks[peaks.length - 1] = i;
      valley = steps[i];
      continue;
    }
    valley = Math.min(valley, steps[i]);
    if (steps[i] >= least && valley <= standing * Math.min(steps[last], steps[i])) {
      peaks.push(i);
      valley = steps[i];
    }
  }
  return peaks;
}

/**
 * Moment at which a part that is quickest at a step comes down to a pace, walking from there: steps stand in the middle
 * between their samples, and change evenly from one to the next.
 */
function crossing(steps: Float64Array, peak: number, sense: 1 | -1, limit: number): number {
  for (let i = peak; i + sense >= 1 && i + sense < steps.length; i += sense) {
    if (steps[i + sense] > limit) continue;
    return i - 0.5 + (sense * (steps[i] - limit)) / (steps[i] - steps[i + sense]);
  }
  return sense > 0 ? steps.length - 1 : 0;
}

/**
 * For how long a part stays near where it is at a sample; between samples it counts as going evenly.
 * @param apart how far it is at a sample from where it is at the one asked for
 * @param count of samples
 */
export function stayAt(apart: (i: number) => number, at: number, count: number, near: number): Stay {
  const end = (sense: 1 | -1) => {
    for (let i = at; ; i += sense) {
      const next = i + sense;
      if (next < 0 || next >= count) return i;
      const here = apart(i);
      const beyond = apart(next);
      if (beyond > near) return i + (sense * (near - here)) / (beyond - here);
    }
  };
  return { from: end(-1), to: end(1) };
}
