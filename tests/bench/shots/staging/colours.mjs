// @ts-check
/**
 * Colours of sRGB and how far they are apart, by the plain distance of CIE 1976 L*a*b* (2.3 is a just noticeable difference:
 * Mahy, Van Eycken, Oosterlinck 1994).
 * @import { Random } from "../types.d.ts"
 */

/** White of D65 (IEC 61966-2-1). */
const white = [0.95047, 1, 1.08883];
const toXyz = [
  [0.4124564, 0.3575761, 0.1804375],
  [0.2126729, 0.7151522, 0.072175],
  [0.0193339, 0.119192, 0.9503041],
];
const fromXyz = [
  [3.2404542, -1.5371385, -0.4985314],
  [-0.969266, 1.8760108, 0.041556],
  [0.0556434, -0.2040259, 1.0572252],
];
/** @param {readonly number[][]} m @param {readonly number[]} v */
const times = (m, v) => m.map((row) => row[0] * v[0] + row[1] * v[1] + row[2] * v[2]);

/** @param {string} colour "#rrggbb" @returns {number[]} L*, a*, b* */
export function labOf(colour) {
  const rgb = [1, 3, 5].map((at) => {
    const c = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  const [x, y, z] = times(toXyz, rgb).map((value, k) => {
    const t = value / white[k];
    return t > 216 / 24389 ? Math.cbrt(t) : (24389 / 27 / 116) * t + 16 / 116;
  });
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

/** @param {readonly number[]} lab @returns {string} "#rrggbb", the nearest that a screen has */
export function colourOf([l, a, b]) {
  const y = (l + 16) / 116;
  const xyz = [y + a / 500, y, y - b / 200].map(
    (t, k) => white[k] * (t ** 3 > 216 / 24389 ? t ** 3 : (116 * t - 16) / (24389 / 27)),
  );
  const parts = times(fromXyz, xyz).map((value) => {
    const c = Math.max(0, Math.min(1, value));
    const shown = c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055;
    return Math.round(255 * shown)
      .toString(16)
      .padStart(2, "0");
  });
  return `#${parts.join("")}`;
}

/** @param {string} a @param {string} b */
export function difference(a, b) {
  const [p, q] = [labOf(a), labOf(b)];
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

/** Least difference in a clean shot: ten times what is just noticed. */
export const plainlyApart = 23;

/** A colour that stands apart from others. @param {Random} random @param {readonly string[]} others @returns {string} */
export function colourApartFrom(random, others) {
  for (let tries = 0; tries < 200; tries++) {
    const turn = random.between(0, 2 * Math.PI);
    const chroma = random.between(0, 45);
    const lab = [random.between(18, 88), chroma * Math.cos(turn), chroma * Math.sin(turn)];
    const colour = colourOf(lab);
    if (others.every((other) => difference(colour, other) >= 1.2 * plainlyApart)) return colour;
  }
  return others.every((other) => labOf(other)[0] > 50) ? "#000000" : "#ffffff";
}
