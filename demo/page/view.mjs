// @ts-check
/**
 * From which side a path shows best: upright from the side along its main direction, or from above where it wanders
 * over the ground more than it rises and falls.
 * @typedef {{ name: string, flat: (point: ArrayLike<number>, at?: number) => [number, number], seesGround: boolean }} View
 */

/**
 * @param {Float64Array} path three numbers per frame, metres, y up
 * @returns {View}
 */
export function bestView(path) {
  const count = path.length / 3;
  const mean = [0, 0];
  for (let i = 0; i < count; i++) {
    mean[0] += path[3 * i] / count;
    mean[1] += path[3 * i + 2] / count;
  }
  let xx = 0;
  let xz = 0;
  let zz = 0;
  for (let i = 0; i < count; i++) {
    const x = path[3 * i] - mean[0];
    const z = path[3 * i + 2] - mean[1];
    xx += x * x;
    xz += x * z;
    zz += z * z;
  }
  let angle = Math.atan2(2 * xz, xx - zz) / 2;
  // The path runs from left to right.
  const ahead =
    (path[3 * count - 3] - path[0]) * Math.cos(angle) + (path[3 * count - 1] - path[2]) * Math.sin(angle);
  if (ahead < 0) angle += Math.PI;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const along = (/** @type {ArrayLike<number>} */ p, at = 0) => p[at] * c + p[at + 2] * s;
  const aside = (/** @type {ArrayLike<number>} */ p, at = 0) => p[at + 2] * c - p[at] * s;
  const up = (/** @type {ArrayLike<number>} */ p, at = 0) => p[at + 1];
  const extent = (/** @type {typeof along} */ measure) => {
    let low = Infinity;
    let high = -Infinity;
    for (let i = 0; i < count; i++) {
      low = Math.min(low, measure(path, 3 * i));
      high = Math.max(high, measure(path, 3 * i));
    }
    return high - low;
  };
  if (extent(aside) > 2 * extent(up)) {
    return { name: "from above", flat: (p, at = 0) => [along(p, at), -aside(p, at)], seesGround: false };
  }
  return { name: "from the side", flat: (p, at = 0) => [along(p, at), up(p, at)], seesGround: true };
}
