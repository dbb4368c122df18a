// @ts-check
/** @typedef {[number, any, any?]} Key frame, value, and what belongs to it besides */

/** @param {number[][]} k @param {number} i @param {(i: number) => boolean} step */
const slope = (k, i, step) => {
  if (i === 0 || i === k.length - 1 || step(i - 1) || step(i)) return 0;
  const ha = k[i][0] - k[i - 1][0];
  const hb = k[i + 1][0] - k[i][0];
  const a = (k[i][1] - k[i - 1][1]) / ha;
  const b = (k[i + 1][1] - k[i][1]) / hb;
  if (a * b <= 0) return 0;
  const p = (a * hb + b * ha) / (ha + hb);
  const top = 2 * Math.min(Math.abs(a), Math.abs(b));
  return Math.abs(p) > top ? Math.sign(p) * top : p;
};

/** @param {number} u @param {number} h @param {number[]} v @param {number[]} s */
const hermite = (u, h, v, s) => {
  const u2 = u * u;
  const u3 = u2 * u;
  return (
    (2 * u3 - 3 * u2 + 1) * v[0] +
    (u3 - 2 * u2 + u) * h * s[0] +
    (3 * u2 - 2 * u3) * v[1] +
    (u3 - u2) * h * s[1]
  );
};

/** @param {any} handle @param {number} h @param {number} s @param {number} sign */
const reach = (handle, h, s, sign) => {
  if (!Array.isArray(handle)) return [h / 3, ((typeof handle === "number" ? handle : s) * h * sign) / 3];
  const r = Math.max(0, handle[0] * sign);
  return r > h ? [h, (handle[1] * h) / r] : [r, handle[1]];
};

/** @param {number} u @param {number} h @param {number[]} v @param {number[]} o @param {number[]} i */
const bezier = (u, h, v, o, i) => {
  const x1 = o[0] / h;
  const x2 = 1 - i[0] / h;
  let lo = 0;
  let hi = 1;
  for (let n = 0; n < 40; n++) {
    const s = (lo + hi) / 2;
    const x = 3 * (1 - s) ** 2 * s * x1 + 3 * (1 - s) * s * s * x2 + s ** 3;
    if (x < u) lo = s;
    else hi = s;
  }
  const s = lo;
  return (
    (1 - s) ** 3 * v[0] +
    3 * (1 - s) ** 2 * s * (v[0] + o[1]) +
    3 * (1 - s) * s * s * (v[1] + i[1]) +
    s ** 3 * v[1]
  );
};

/** The value of a curve of one number. @param {Key[]} keys @param {string} interpolation @param {number} t */
export function valueAt(keys, interpolation, t) {
  const n = keys.length;
  if (t <= keys[0][0]) return keys[0][1];
  if (t >= keys[n - 1][0]) return keys[n - 1][1];
  let i = 0;
  while (keys[i + 1][0] <= t) i++;
  const kind = (/** @type {number} */ j) => keys[j]?.[2]?.interpolation ?? interpolation;
  const a = keys[i];
  const b = keys[i + 1];
  const h = b[0] - a[0];
  const u = (t - a[0]) / h;
  const v = [a[1], b[1]];
  if (kind(i) === "step" || u === 0) return a[1];
  if (kind(i) === "linear") return a[1] + u * (b[1] - a[1]);
  const step = (/** @type {number} */ j) => kind(j) === "step";
  const s = [slope(/** @type {any} */ (keys), i, step), slope(/** @type {any} */ (keys), i + 1, step)];
  if (kind(i) === "smooth") return hermite(u, h, v, s);
  if (kind(i) === "cubic") return hermite(u, h, v, [a[2]?.out ?? s[0], b[2]?.in ?? s[1]]);
  return bezier(u, h, v, reach(a[2]?.out, h, s[0], 1), reach(b[2]?.in, h, s[1], -1));
}

/**
 * A track of numbers or vectors, eased through its keys. A key is a value, or `{ v, s }` with a slope.
 * @param {Record<string, any>} spec
 * @returns {(f: number) => any}
 */
export function track(spec) {
  const frames = Object.keys(spec)
    .map(Number)
    .sort((a, b) => a - b);
  const get = (/** @type {number} */ f) => {
    const k = spec[f];
    return k?.v !== undefined ? k : { v: k };
  };
  const size = Array.isArray(get(frames[0]).v) ? get(frames[0]).v.length : 0;
  const curve = (/** @type {number} */ c) =>
    frames.map((f) => {
      const k = get(f);
      const pick = (/** @type {any} */ x) => (size ? x?.[c] : x) ?? undefined;
      const s = pick(k.s);
      return /** @type {Key} */ ([f, pick(k.v), { in: pick(k.in) ?? s, out: pick(k.out) ?? s }]);
    });
  const curves = Array.from({ length: size || 1 }, (_, c) => curve(c));
  const at = (/** @type {number} */ f) => {
    const out = curves.map((k) => valueAt(k, "cubic", f));
    return size ? out : out[0];
  };
  at.frames = frames;
  return at;
}

/** Slopes into and out of a frame of a dense curve. @param {number[]} v @param {number} i */
function slopesAt(v, i) {
  const n = v.length - 1;
  const back = i >= 2 ? (3 * v[i] - 4 * v[i - 1] + v[i - 2]) / 2 : i ? v[i] - v[i - 1] : 0;
  const on = i <= n - 2 ? (-3 * v[i] + 4 * v[i + 1] - v[i + 2]) / 2 : i < n ? v[i + 1] - v[i] : 0;
  if (!i) return [on, on];
  if (i === n) return [back, back];
  const mid = (v[i + 1] - v[i - 1]) / 2;
  // A true break, as at a contact, keeps both sides; anything less is one tangent.
  return Math.abs(back - on) > 0.4 * (Math.abs(back) + Math.abs(on)) + 1e-4 ? [back, on] : [mid, mid];
}

/**
 * Sparse keys for a dense curve: at the animator's frames, and wherever the curve strays.
 * @param {number[]} v @param {number} first @param {{ tol: number, kind: string, must?: number[], digits: number }} o
 * @returns {Key[]}
 */
export function fit(v, first, o) {
  const round = (/** @type {number} */ x, d = o.digits) => Number(x.toFixed(d)) + 0;
  const last = v.length - 1;
  if (Math.max(...v) - Math.min(...v) < o.tol / 4) return [[first, round(v[0])]];
  const at = new Set([0, last]);
  for (const m of o.must ?? []) {
    const i = Math.round(m) - first;
    if (i <= 0 || i >= last) continue;
    const near = v.slice(Math.max(0, i - 6), i + 7);
    if (Math.max(...near) - Math.min(...near) > o.tol) at.add(i);
  }
  const make = () => {
    const idx = [...at].sort((a, b) => a - b);
    return idx.map((i, n) => {
      const key = /** @type {Key} */ ([first + i, round(v[i])]);
      if (o.kind !== "bezier") return key;
      const [si, so] = slopesAt(v, i);
      const more = /** @type {any} */ ({});
      if (n) {
        const r = (i - idx[n - 1]) / 3;
        more.in = [-round(r, 3), round(-si * r)];
      }
      if (n < idx.length - 1) {
        const r = (idx[n + 1] - i) / 3;
        more.out = [round(r, 3), round(so * r)];
      }
      key.push(more);
      return key;
    });
  };
  for (;;) {
    const keys = make();
    let grew = false;
    for (let n = 0; n < keys.length - 1; n++) {
      let worst = 0;
      let where = -1;
      for (let f = keys[n][0] + 1; f < keys[n + 1][0]; f++) {
        const e = Math.abs(valueAt(keys, o.kind, f) - v[f - first]);
        if (e > worst) {
          worst = e;
          where = f;
        }
      }
      if (worst > o.tol) {
        at.add(where - first);
        grew = true;
      }
    }
    if (!grew) return keys;
  }
}
