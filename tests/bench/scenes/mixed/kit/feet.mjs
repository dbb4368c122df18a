// @ts-check
/**
 * One step in the keys of a performance of the people's kit: the foot leaves its place on frame a and is on the next on frame b.
 * @param {any} perf @param {"L" | "R"} s @param {number} a @param {number} b @param {number[]} to x, y, z, yaw
 * @param {{ lift?: number, heel?: number, toe?: number, back?: boolean }} [o] heel: how far the heel rolls up before it leaves
 */
export function step(perf, s, a, b, to, { lift = 0.05, heel = 18, toe = 8, back = false } = {}) {
  const foot = perf[`foot${s}`];
  perf[`roll${s}`] ??= { 1: 0 };
  const roll = perf[`roll${s}`];
  const last = Math.max(...Object.keys(foot).map(Number));
  const from = foot[last].v ?? foot[last];
  const n = b - a;
  foot[a] = { v: from, s: [0, 0, 0, 0] };
  const mid = from.map((/** @type {number} */ v, /** @type {number} */ i) => v + (to[i] - v) * 0.5);
  mid[1] = Math.max(from[1], to[1]) + lift;
  const speed = from.map((/** @type {number} */ v, /** @type {number} */ i) =>
    i === 1 ? 0 : ((to[i] - v) / n) * 1.5,
  );
  foot[a + n / 2] = { v: mid, s: speed };
  foot[b] = { v: to, in: [0, -0.005, 0, 0], out: [0, 0, 0, 0] };
  if (back) {
    roll[a] = -toe * 0.4;
    roll[Math.max(a - 3, 1)] = 0;
    roll[b - n * 0.3] = heel * 0.6;
    roll[b] = heel * 0.8;
    roll[b + 4] = 0;
    return;
  }
  roll[Math.max(a - 6, 1)] = 0;
  roll[a] = heel * 0.8;
  roll[a + n * 0.22] = heel;
  roll[a + n * 0.6] = heel * 0.1;
  roll[b] = -toe;
  roll[b + 3] = 0;
}
