// @ts-check
/** From a turn to three axis rotations, without a jump in a series. */

const degrees = 180 / Math.PI;

/**
 * A unit quaternion as rotations about x, y and z in an order ("zxy" is Rz · Rx · Ry): of the two ways to write it, and of all
 * full turns, the one that is nearest to given angles.
 * @param {string} order
 * @param {ArrayLike<number>} q x, y, z, w
 * @param {ArrayLike<number>} near degrees about x, y, z
 * @param {Float64Array | number[]} out degrees about x, y, z; may be `near`
 */
export function anglesInto(order, q, near, out) {
  const [i, j, k] = [order.charCodeAt(0) - 120, order.charCodeAt(1) - 120, order.charCodeAt(2) - 120];
  const sign = (j - i + 3) % 3 === 1 ? 1 : -1;
  const [w, qi, qj, qk] = [q[3], q[i], q[j], q[k]];
  // Entries of the turn's matrix in the order's own axes; `sign` makes left-handed orders right.
  const ik = 2 * (qi * qk + sign * w * qj);
  const jk = 2 * (qj * qk - sign * w * qi);
  const kk = 1 - 2 * (qi * qi + qj * qj);
  const ij = 2 * (qi * qj - sign * w * qk);
  const ii = 1 - 2 * (qj * qj + qk * qk);
  const first = Math.atan2(-sign * jk, kk) * degrees;
  const middle = Math.asin(Math.max(-1, Math.min(1, sign * ik))) * degrees;
  const last = Math.atan2(-sign * ij, ii) * degrees;
  const [ni, nj, nk] = [near[i], near[j], near[k]];
  const [a, b, c] = [beside(first, ni), beside(middle, nj), beside(last, nk)];
  const [d, e, f] = [beside(first + 180, ni), beside(180 - middle, nj), beside(last + 180, nk)];
  const own = (a - ni) ** 2 + (b - nj) ** 2 + (c - nk) ** 2;
  const other = (d - ni) ** 2 + (e - nj) ** 2 + (f - nk) ** 2;
  const isOwn = own <= other;
  out[i] = isOwn ? a : d;
  out[j] = isOwn ? b : e;
  out[k] = isOwn ? c : f;
}

/** The angle less full turns that is nearest to another. @param {number} angle @param {number} near */
const beside = (angle, near) => angle - 360 * Math.round((angle - near) / 360);
