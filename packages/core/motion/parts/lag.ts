/** How far one series runs behind another. */
export interface Lag {
  /** Samples by which the second series runs behind the first, with a fraction; negative where it runs ahead. */
  readonly lag: number;
  /** Correlation at the best whole lag, −1 to 1. */
  readonly correlation: number;
}

/**
 * Pearson's correlation of a[i] with b[i + lag], over the samples that both have: −1 to 1. 0 where fewer than three
 * samples overlap or either is constant there.
 */
export function correlationAt(a: ArrayLike<number>, b: ArrayLike<number>, lag: number): number {
  const first = Math.max(0, -lag);
  const end = Math.min(a.length, b.length - lag);
  const count = end - first;
  if (count < 3) return 0;
  let meanA = 0;
  let meanB = 0;
  for (let i = first; i < end; i++) {
    meanA += a[i] / count;
    meanB += b[i + lag] / count;
  }
  let ab = 0;
  let aa = 0;
  let bb = 0;
  let scaleA = 0;
  let scaleB = 0;
  for (let i = first; i < end; i++) {
    const x = a[i] - meanA;
    const y = b[i + lag] - meanB;
    ab += x * y;
    aa += x * x;
    bb += y * y;
    scaleA = Math.max(scaleA, Math.abs(a[i]));
    scaleB = Math.max(scaleB, Math.abs(b[i + lag]));
  }
  // What is left of a constant series after its mean is taken off is rounding, not motion.
  const isConstant = aa <= count * (1e-13 * scaleA) ** 2 || bb <= count * (1e-13 * scaleB) ** 2;
  return isConstant ? 0 : Math.max(-1, Math.min(1, ab / Math.sqrt(aa * bb)));
}

/**
 * The lag at which two series correlate best, within ± `maxLag` samples; a parabola through the best whole lag and its
 * neighbours gives the fraction. Of equal correlations the shorter lag wins. Without any correlation: lag 0, 0.
 * @param by "value" looks for the highest correlation, "magnitude" for the strongest of either sign
 */
export function bestLag(
  a: ArrayLike<number>,
  b: ArrayLike<number>,
  maxLag: number,
  by: "value" | "magnitude" = "value",
): Lag {
  const at = (lag: number) => {
    const correlation = correlationAt(a, b, lag);
    return by === "value" ? correlation : Math.abs(correlation);
  };
  let best = 0;
  let highest = at(0);
  for (let distance = 1; distance <= maxLag; distance++) {
    for (const lag of [distance, -distance]) {
      const correlation = at(lag);
      if (correlation > highest + 1e-12) {
        highest = correlation;
        best = lag;
      }
    }
  }
  const correlation = correlationAt(a, b, best);
  if (correlation === 0 || Math.abs(best) >= maxLag) return { lag: best, correlation };
  return { lag: best + vertexOf(at(best - 1), highest, at(best + 1)), correlation };
}

/** Where a parabola through three values at −1, 0 and 1 has its highest point; 0 where the middle is no maximum. */
export function vertexOf(before: number, middle: number, after: number): number {
  const bend = before - 2 * middle + after;
  if (!(bend < 0)) return 0;
  return Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / bend));
}
