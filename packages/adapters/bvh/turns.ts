import type { BvhMotion } from "./motion.ts";

/**
 * Angles of a joint's three rotation channels, row by row, without the jumps that the turn itself does not make: of all
 * angles that give a row's turn, those nearest to the row before. Every turn has two sets of angles within a circle,
 * (a, b, c) and (a + 180°, 180° − b, c + 180°) in the order of the channels, and each angle any number of circles more;
 * recordings change from set to set near b = ±90°, and what lies half way between the two is no pose between theirs.
 * @param columns index of each channel's column, in the order in which the turns are made
 * @returns degrees, a number per row and channel; NaN as in the rows
 */
export function steadyAngles(
  motion: BvhMotion,
  columns: readonly [number, number, number],
): readonly [Float64Array, Float64Array, Float64Array] {
  const { rows, values } = motion;
  const series = columns.map((column) => {
    const angles = new Float64Array(rows);
    for (let row = 0; row < rows; row++) angles[row] = values[row * motion.columns + column];
    return angles;
  }) as [Float64Array, Float64Array, Float64Array];
  const [a, b, c] = series;
  let before = -1;
  for (let row = 0; row < rows; row++) {
    if (Number.isNaN(a[row] + b[row] + c[row])) continue;
    if (before >= 0) {
      const near = [a[before], b[before], c[before]] as const;
      const own = nearest([a[row], b[row], c[row]], near);
      const other = nearest([a[row] + 180, 180 - b[row], c[row] + 180], near);
      [a[row], b[row], c[row]] = distance(other, near) < distance(own, near) ? other : own;
    }
    before = row;
  }
  return series;
}

type Angles = readonly [number, number, number];

/** Angles moved by whole circles to within half a circle of others. */
function nearest(angles: Angles, near: Angles): Angles {
  const to = (k: 0 | 1 | 2) => angles[k] + 360 * Math.round((near[k] - angles[k]) / 360);
  return [to(0), to(1), to(2)];
}

function distance(one: Angles, other: Angles): number {
  return Math.abs(one[0] - other[0]) + Math.abs(one[1] - other[1]) + Math.abs(one[2] - other[2]);
}
