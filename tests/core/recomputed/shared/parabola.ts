import { mean, sum } from "./geometry.ts";

/** Least-squares parabola through points (time, value): its second coefficient, and the root mean square of the rest. */
export function parabolaThrough(points: readonly (readonly [number, number])[]): {
  bend: number;
  residual: number;
} {
  const middle = mean(points.map(([t]) => t));
  const scale = Math.max(...points.map(([t]) => Math.abs(t - middle))) || 1;
  const power = (k: number) => sum(points.map(([t]) => ((t - middle) / scale) ** k));
  const moment = (k: number) => sum(points.map(([t, y]) => y * ((t - middle) / scale) ** k));
  const rows = [0, 1, 2].map((i) => [power(i), power(i + 1), power(i + 2), moment(i)]);
  // Elimination, then back.
  for (let i = 0; i < 3; i++) {
    for (let j = i + 1; j < 3; j++) {
      const factor = rows[j][i] / rows[i][i];
      for (let k = i; k < 4; k++) rows[j][k] -= factor * rows[i][k];
    }
  }
  const c = rows[2][3] / rows[2][2];
  const b = (rows[1][3] - rows[1][2] * c) / rows[1][1];
  const a = (rows[0][3] - rows[0][2] * c - rows[0][1] * b) / rows[0][0];
  const rest = points.map(([t, y]) => {
    const u = (t - middle) / scale;
    return (y - (a + b * u + c * u * u)) ** 2;
  });
  return { bend: c / scale ** 2, residual: Math.sqrt(mean(rest)) };
}
