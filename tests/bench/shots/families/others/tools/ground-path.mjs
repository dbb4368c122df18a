// @ts-check
/**
 * A path on the ground, by its length: place and heading. Heading 0 is +z, 90 is +x.
 */

/**
 * @param {object} about
 * @param {number[]} about.start x, z @param {number} about.yaw heading at the start, degrees
 * @param {(along: number) => number} about.bend degrees per metre at a length along the path
 * @param {number} about.length metres; the path goes on straight behind it, and straight before its start
 * @returns {(along: number) => { x: number, z: number, yaw: number }}
 */
export function groundPath({ start, yaw, bend, length }) {
  const step = 0.004 * Math.max(1, length);
  const count = Math.ceil(length / step) + 1;
  const [xs, zs, yaws] = [0, 0, 0].map(() => new Float64Array(count + 1));
  xs[0] = start[0];
  zs[0] = start[1];
  yaws[0] = yaw;
  const rad = Math.PI / 180;
  for (let n = 0; n < count; n++) {
    const middle = yaws[n] + (bend((n + 0.25) * step) * step) / 2;
    xs[n + 1] = xs[n] + step * Math.sin(middle * rad);
    zs[n + 1] = zs[n] + step * Math.cos(middle * rad);
    yaws[n + 1] = yaws[n] + bend((n + 0.5) * step) * step;
  }
  const straight = (/** @type {number} */ n, /** @type {number} */ more) => ({
    x: xs[n] + more * Math.sin(yaws[n] * rad),
    z: zs[n] + more * Math.cos(yaws[n] * rad),
    yaw: yaws[n],
  });
  return (along) => {
    if (along <= 0) return straight(0, along);
    const n = Math.floor(along / step);
    if (n >= count) return straight(count, along - count * step);
    // Cubic by the headings at both ends: the heading stays that of the curve.
    const u = along / step - n;
    const yawAt = yaws[n] + u * (yaws[n + 1] - yaws[n]);
    const h1 = u * u * (3 - 2 * u);
    const [h2, h3] = [u * (1 - u) ** 2, u * u * (u - 1)];
    const through = (/** @type {Float64Array} */ at, /** @type {(a: number) => number} */ way) =>
      at[n] + (at[n + 1] - at[n]) * h1 + step * (h2 * way(yaws[n] * rad) + h3 * way(yaws[n + 1] * rad));
    return { x: through(xs, Math.sin), z: through(zs, Math.cos), yaw: yawAt };
  };
}

/** A point beside and above a path's point. @param {{ x: number, z: number, yaw: number }} at @param {number} left
 * @param {number} ahead @param {number} [up] @returns {number[]} */
export function beside(at, left, ahead, up = 0) {
  const [sine, cosine] = [Math.sin((at.yaw * Math.PI) / 180), Math.cos((at.yaw * Math.PI) / 180)];
  return [at.x + left * cosine + ahead * sine, up, at.z - left * sine + ahead * cosine];
}

/** A gentle bend of one sign that swells and fades. @param {number} turned degrees in all @param {number} length */
export const softBend = (turned, length) => (/** @type {number} */ along) =>
  along <= 0 || along >= length ? 0 : (turned / length) * (1 - Math.cos((2 * Math.PI * along) / length));
