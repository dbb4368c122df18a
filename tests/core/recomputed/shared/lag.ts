import { mean, range } from "./geometry.ts";

/** The lag, to a fraction, by which one series runs behind another where they correlate best. */
export function bestLag(a: readonly number[], b: readonly number[], most: number): number {
  const at = (lag: number) => {
    const pairs = range(Math.max(0, -lag), Math.min(a.length, b.length - lag) - 1).map((i) => [
      a[i],
      b[i + lag],
    ]);
    const [middleA, middleB] = [mean(pairs.map(([x]) => x)), mean(pairs.map(([, y]) => y))];
    let [ab, aa, bb] = [0, 0, 0];
    for (const [x, y] of pairs) {
      ab += (x - middleA) * (y - middleB);
      aa += (x - middleA) ** 2;
      bb += (y - middleB) ** 2;
    }
    return ab / Math.sqrt(aa * bb) || 0;
  };
  // Of equal correlations the shorter lag wins.
  const lags = range(-most, most).sort((one, other) => Math.abs(one) - Math.abs(other) || other - one);
  const best = lags.reduce((one, other) => (at(other) > at(one) + 1e-12 ? other : one));
  if (Math.abs(best) === most) return best;
  const [before, middle, after] = [at(best - 1), at(best), at(best + 1)];
  return best + Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / (before - 2 * middle + after)));
}
