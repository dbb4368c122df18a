// @ts-check
/**
 * Steps, written into the keys of a performance: feet that stand until they swing, hips that go over
 * the foot that bears, arms that swing against the legs.
 * @param {any} perf @param {any} sk
 * @param {{ f0: number, list: { s: string, to: number[], n: number, gap?: number }[], lift?: number, sway?: number,
 *   dip?: number, heel?: number, toe?: number, arms?: number, lean?: number, hipYaw?: number, floor?: boolean, hold?: string, end?: number }} o
 * @returns {number} the frame on which the last foot lands
 */
export function steps(perf, sk, o) {
  const z = sk.size;
  const L = z.shin + z.thigh;
  const rest = z.ankle + L + z.root;
  const last = (/** @type {any} */ t) => t[Math.max(...Object.keys(t).map(Number))];
  const val = (/** @type {any} */ k) => k?.v ?? k;
  for (const t of ["footL", "footR", "hips"]) perf[t] ??= {};
  for (const t of ["rollL", "rollR"]) perf[t] ??= { [o.f0]: 0 };
  for (const t of ["hipsRot", "chest", "spine"]) perf[t] ??= { [o.f0]: [0, 0, 0] };
  const foot = { L: val(last(perf.footL)), R: val(last(perf.footR)) };
  const h0 = val(last(perf.hips));
  let hip = [h0[0], h0[2]];
  let t = o.f0;
  const lean = o.lean ?? 2;
  const yawOf = () => (foot.L[3] + foot.R[3]) / 2;
  perf.hips[t] ??= h0;
  o.list.forEach((st, i) => {
    const end = i === o.list.length - 1;
    const a = t + (i ? (st.gap ?? 2) : Math.max(2, Math.round(st.n * 0.3)));
    const b = t + st.n;
    const other = st.s === "L" ? "R" : "L";
    const from = foot[st.s];
    const stand = foot[other];
    const F = perf[`foot${st.s}`];
    const R = perf[`roll${st.s}`];
    const reach = Math.hypot(st.to[0] - from[0], st.to[2] - from[2]);
    const rise = Math.max(from[1], st.to[1]);
    const lift = (o.lift ?? 0.07) * Math.min(1, 0.4 + reach);
    const back = reach > 0.12;
    const heel = (o.heel ?? 24) * Math.min(1, reach / 0.5);
    const strike = back && !end ? -(o.toe ?? 13) : -2;
    const m = (a + b) / 2;
    const mid = [0, 1, 2, 3].map((c) => from[c] + (st.to[c] - from[c]) * 0.52);
    F[a] = { v: from, s: [0, 0, 0, 0] };
    mid[1] = rise + lift;
    const vel = [0, 1, 2, 3].map((c) => ((st.to[c] - from[c]) / (b - a)) * 1.45);
    vel[1] = st.to[1] > from[1] + 0.05 ? 0.004 : 0;
    F[m] = { v: mid, s: vel };
    F[b] = { v: st.to, in: [0, 1, 2, 3].map((c) => (c === 1 ? -0.006 : 0)), out: [0, 0, 0, 0] };
    R[Math.max(o.f0, a - Math.round(st.n * 0.4))] ??= 0;
    R[a] = heel * 0.75;
    R[a + (b - a) * 0.22] = heel;
    R[m + 1] = heel * 0.15;
    R[b] = strike;
    R[b + 3] = 0;
    foot[st.s] = st.to;
    const dir = Math.abs(st.to[0] - from[0]) + Math.abs(st.to[2] - from[2]) > 0.02;
    const next = [(st.to[0] + stand[0]) / 2, (st.to[2] + stand[2]) / 2];
    const half = Math.hypot(st.to[0] - stand[0], st.to[2] - stand[2]) / 2;
    const side = Math.hypot(half, 0);
    const low = Math.min(
      st.to[1] + Math.sqrt((0.985 * L) ** 2 - side * side),
      stand[1] + Math.sqrt((0.985 * L) ** 2 - side * side * 0.8) + 0.012,
    );
    const y = low + z.ankle + z.root - rest - (o.dip ?? 0.006);
    const yp = stand[1] + 0.985 * L + z.ankle + z.root - rest - (o.dip ?? 0.006) * 1.2;
    const toward = [stand[0] - (hip[0] + next[0]) / 2, stand[2] - (hip[1] + next[1]) / 2];
    const k = o.sway ?? 0.5;
    const face = (yawOf() * Math.PI) / 180;
    const lat = toward[0] * Math.cos(face) - toward[1] * Math.sin(face);
    const pm = t + (b - t) * (i ? 0.5 : 0.55);
    perf.hips[pm] = [
      (hip[0] + next[0]) / 2 + k * lat * Math.cos(face),
      Math.min(yp, o.top ?? 9),
      (hip[1] + next[1]) / 2 - k * lat * Math.sin(face),
    ];
    const sgn = st.s === "L" ? -1 : 1;
    const hy = (o.hipYaw ?? 6) * Math.min(1, half / 0.25) * sgn;
    const yaw = yawOf();
    perf.hipsRot[pm] = [lean * 0.4, yaw, (st.s === "L" ? -1 : 1) * 2.6 * Math.min(1, reach)];
    if (!end) {
      perf.hips[b] = [next[0], y, next[1]];
      perf.hipsRot[b] = [lean * 0.5, yaw + hy, 0];
      perf.chest[b + 1] = [lean, -hy * 1.1, 0];
      perf.spine[b] = [lean * 0.6, -hy * 0.5, 0];
    } else {
      const e = o.end ?? 8;
      perf.hips[b + e] = [next[0], -(o.settle ?? 0.012), next[1]];
      perf.hips[b] = [
        next[0] * 0.75 + perf.hips[pm][0] * 0.25,
        Math.min(y, -0.016),
        next[1] * 0.82 + perf.hips[pm][2] * 0.18,
      ];
      perf.hipsRot[b + e] = [0, yaw, 0];
      perf.chest[b + e + 2] = [0, 0, 0];
      perf.chest[b] = [lean * 1.1, 0, 0];
      perf.spine[b + e] = [0, 0, 0];
    }
    if (dir && o.arms !== 0) swing(perf, o, st.s, end, b, half);
    hip = next;
    t = b;
  });
  return t;
}

/** Arms against the legs; forearm and wrist come after. */
function swing(perf, o, s, end, b, half) {
  const A = (o.arms ?? 20) * Math.min(1.1, half / 0.28);
  for (const arm of ["L", "R"]) {
    if (o.hold?.includes(arm)) continue;
    const sign = end ? 0 : arm === s ? -1 : 1;
    const d = arm === "L" ? 1 : 0;
    perf[`arm${arm}`] ??= { [o.f0]: [3, 7, 0, 14] };
    perf[`wrist${arm}`] ??= { [o.f0]: [4, 0, 0] };
    const w = arm === "L" ? 0.9 : 1.08;
    perf[`arm${arm}`][b + 1 + d + (end ? 7 : 0)] = end
      ? [3, 7, 0, 14]
      : [sign * A * w + 2, 7 + (sign > 0 ? 0 : 1.5), 0, 17 + sign * 9];
    perf[`wrist${arm}`][b + 4 + d + (end ? 7 : 0)] = end ? [4, 0, 0] : [5 + sign * 5, sign * 5, 0];
  }
}

/** Steps straight ahead with the feet coming together at the end. */
export function straight(n, o) {
  const [x, z, yaw] = [o.x ?? 0, o.z ?? 0, ((o.yaw ?? 0) * Math.PI) / 180];
  const out = [];
  for (let i = 0; i < n; i++) {
    const s = (i % 2 === 0) === ((o.first ?? "L") === "L") ? "L" : "R";
    const d = o.len * (i === n - 1 ? n - 1 : i + 1);
    const w = (s === "L" ? 1 : -1) * o.wide;
    out.push({
      s,
      n: o.n,
      to: [
        x + Math.sin(yaw) * d + Math.cos(yaw) * w,
        o.y ?? 0,
        z + Math.cos(yaw) * d - Math.sin(yaw) * w,
        (o.yaw ?? 0) + (s === "L" ? 5 : -5),
      ],
    });
  }
  return out;
}
