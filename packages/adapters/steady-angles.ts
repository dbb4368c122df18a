/**
 * Angles of a node's three rotation channels, key by key, without the jumps that the turn itself does not make: of all
 * angles that give a key's turn, those nearest to the key before. Every turn has two sets of angles within a circle,
 * (a, b, c) and (a + 180°, 180° − b, c + 180°) in the order of the channels, and each angle any number of circles more;
 * recordings change from set to set near b = ±90°, and what lies half way between the two is no pose between theirs.
 * Where a number is missing, the others of its key are moved by whole circles only.
 * @param a degrees of the channel that turns first, changed in place; NaN where there is no number, in b and c alike
 * @param b those of the channel that turns next
 * @param c those of the last one
 */
export function steadyAngles(a: Float64Array, b: Float64Array, c: Float64Array): void {
  let before = -1;
  for (let key = 0; key < a.length; key++) {
    const isWhole = !Number.isNaN(a[key] + b[key] + c[key]);
    if (before >= 0) {
      const near = [a[before], b[before], c[before]] as const;
      const own = nearest([a[key], b[key], c[key]], near);
      const other = nearest([a[key] + 180, 180 - b[key], c[key] + 180], near);
      [a[key], b[key], c[key]] = distance(other, near) < distance(own, near) ? other : own;
    }
    if (isWhole) before = key;
  }
}

/**
 * The same for a channel whose turn is the node's only one, or one of two: each angle within half a circle of the one
 * before.
 * @param angles degrees, changed in place; NaN where there is no number
 */
export function steadyAngle(angles: Float64Array): void {
  let before = Number.NaN;
  for (let key = 0; key < angles.length; key++) {
    if (!Number.isNaN(before)) angles[key] = nearestAngle(angles[key], before);
    if (!Number.isNaN(angles[key])) before = angles[key];
  }
}

type Angles = readonly [number, number, number];

/** Angles moved by whole circles to within half a circle of others. */
function nearest(angles: Angles, near: Angles): Angles {
  return [
    nearestAngle(angles[0], near[0]),
    nearestAngle(angles[1], near[1]),
    nearestAngle(angles[2], near[2]),
  ];
}

/** An angle that is moved keeps the decimals that it was written with, and none of the sum's rounding. */
function nearestAngle(angle: number, near: number): number {
  const circles = Math.round((near - angle) / 360);
  return circles === 0 || Number.isNaN(circles) ? angle : Math.round((angle + 360 * circles) * 1e9) / 1e9;
}

function distance(one: Angles, other: Angles): number {
  return Math.abs(one[0] - other[0]) + Math.abs(one[1] - other[1]) + Math.abs(one[2] - other[2]);
}
