import { rotationOrders } from "../../../document/schema.ts";

/**
 * Axis angles (radians, by axis x, y, z) of a unit quaternion in a rotation order: of all that give the same turn, those
 * nearest to given ones. Every turn has two sets of angles within a circle, (a, b, c) and (a + 180°, 180° − b, c + 180°)
 * in the order's own sequence, and each angle may have any number of circles more.
 * @param order index into `rotationOrders`
 * @param q array with the quaternion at `at`
 * @param near three angles by axis
 */
export function eulersNear(
  order: number,
  q: Float64Array,
  at: number,
  near: ArrayLike<number>,
): Float64Array {
  const [i, j, k] = axesOf(order);
  const parity = parityOf(i, j);
  const m = matrixOf(q, at);
  // R = Ri(a)·Rj(b)·Rk(c): its row i ends in parity · sin b.
  const b = Math.asin(Math.max(-1, Math.min(1, parity * m[3 * i + k])));
  const c0 = Math.hypot(m[3 * i + i], m[3 * i + j]);
  const a = c0 > 1e-7 ? Math.atan2(-parity * m[3 * j + k], m[3 * k + k]) : near[i];
  // c from what is left after a, which holds near lock too, where a and c turn about one axis.
  const [sin, cos] = [Math.sin(a), Math.cos(a)];
  // Row j of Ri(−a)·R.
  const row = (column: number) => cos * m[3 * j + column] + parity * sin * m[3 * k + column];
  const c = Math.atan2(parity * row(i), row(j));
  const sets = [
    [a, b, c],
    [a + Math.PI, Math.PI - b, c + Math.PI],
  ].map((set) => set.map((angle, n) => nearest(angle, near[[i, j, k][n]])));
  const off = (set: readonly number[]) =>
    set.reduce((sum, angle, n) => sum + Math.abs(angle - near[[i, j, k][n]]), 0);
  const [x, y, z] = off(sets[0]) <= off(sets[1]) ? sets[0] : sets[1];
  const out = new Float64Array(3);
  out[i] = x;
  out[j] = y;
  out[k] = z;
  return out;
}

/**
 * Axis angles of a turn that is no farther than `most` (radians) from a unit quaternion, with the outer axis of the order
 * as near as that allows to where it was. Near lock a small change of the turn spares a large one of the axis.
 */
export function eulersNearWithin(
  order: number,
  q: Float64Array,
  at: number,
  near: ArrayLike<number>,
  most: number,
): Float64Array {
  const exact = eulersNear(order, q, at, near);
  const [i, j, k] = axesOf(order);
  const parity = parityOf(i, j);
  // With the outer axis turned by d from where it belongs, the turn is missed by asin(cos b · sin d).
  const slack = Math.sin(most) / Math.max(1e-9, Math.abs(Math.cos(exact[j])));
  const reach = slack >= 1 ? Math.PI / 2 : Math.asin(slack);
  const a = Math.min(exact[i] + reach, Math.max(exact[i] - reach, near[i]));
  const m = matrixOf(q, at);
  const [sin, cos] = [Math.sin(a), Math.cos(a)];
  // Rows of Ri(−a)·R.
  const rowJ = (column: number) => cos * m[3 * j + column] + parity * sin * m[3 * k + column];
  const rowK = (column: number) => cos * m[3 * k + column] - parity * sin * m[3 * j + column];
  const out = new Float64Array(3);
  out[i] = a;
  out[j] = nearest(Math.atan2(parity * m[3 * i + k], rowK(k)), near[j]);
  out[k] = nearest(Math.atan2(parity * rowJ(i), rowJ(j)), near[k]);
  return out;
}

function axesOf(order: number): number[] {
  return [...rotationOrders[order]].map((axis) => "xyz".indexOf(axis));
}

/** 1 for an order that runs round as x, y, z does; −1 for one against it. */
function parityOf(i: number, j: number): number {
  return (j - i + 3) % 3 === 1 ? 1 : -1;
}

/** An angle moved by whole circles to within half a circle of another. */
export function nearest(angle: number, near: number): number {
  return angle + 2 * Math.PI * Math.round((near - angle) / (2 * Math.PI));
}

function matrixOf(q: Float64Array, at: number): Float64Array {
  const [x, y, z, w] = [q[at], q[at + 1], q[at + 2], q[at + 3]];
  return Float64Array.of(
    1 - 2 * (y * y + z * z),
    2 * (x * y - w * z),
    2 * (x * z + w * y),
    2 * (x * y + w * z),
    1 - 2 * (x * x + z * z),
    2 * (y * z - w * x),
    2 * (x * z - w * y),
    2 * (y * z + w * x),
    1 - 2 * (x * x + y * y),
  );
}
