// @ts-check
/**
 * Keys: placing as few as a course needs, reading them back, and writing them as curves of a document.
 * @typedef {{ frame: number, value: number, slope?: number, interpolation?: string }} Key slope in value per frame
 * @typedef {{ node: string, channel: string, interpolation: string, keys: Key[] }} KeyedCurve
 */

const rounded = (/** @type {number} */ value) => Math.round(value * 1000) / 1000 + 0;

/**
 * Places keys with bezier handles so that they follow a course within a tolerance: first at the turning points,
 * then where it differs most.
 * @param {import("./moves.mjs").Track} course
 * @param {{ from: number, to: number, tolerance: number, at?: number[] }} how `at`: frames that get a key in any case
 * @returns {Key[]}
 */
export function fitKeys(course, { from, to, tolerance, at = [] }) {
  const value = Array.from({ length: to - from + 1 }, (_, i) => course(from + i));
  const slopeAt = (/** @type {number} */ f) => {
    const a = Math.max(from, f - 0.25);
    const b = Math.min(to, f + 0.25);
    return (course(b) - course(a)) / (b - a);
  };
  const chosen = new Set([from, to, ...at.filter((f) => f >= from && f <= to)]);
  let kept = value[0];
  for (let i = 1; i < value.length - 1; i++) {
    const turns = (value[i] - value[i - 1]) * (value[i + 1] - value[i]) < 0;
    if (turns && Math.abs(value[i] - kept) > tolerance) {
      chosen.add(from + i);
      kept = value[i];
    }
  }
  /** @type {Key[]} */
  let keys = [];
  for (;;) {
    keys = [...chosen]
      .sort((a, b) => a - b)
      .map((frame) => ({ frame, value: rounded(value[frame - from]), slope: slopeAt(frame) }));
    for (let k = 0; k < keys.length; k++) keys[k].slope = withinItsKeys(keys, k);
    let added = false;
    for (let k = 0; k + 1 < keys.length; k++) {
      let worst = tolerance;
      let where = -1;
      for (let f = keys[k].frame + 1; f < keys[k + 1].frame; f++) {
        const off = Math.abs(between(keys[k], keys[k + 1], f, "bezier") - value[f - from]);
        if (off > worst) {
          worst = off;
          where = f;
        }
      }
      if (where >= 0) {
        chosen.add(where);
        added = true;
      }
    }
    if (!added) return keys;
  }
}

/**
 * A key's slope, kept so that the curve stays between its keys: level at a turning point, and nowhere more than three
 * times as steep as the way to a neighbour (Fritsch & Carlson 1980).
 * @param {Key[]} keys @param {number} k
 */
function withinItsKeys(keys, k) {
  const way = (/** @type {number} */ i) =>
    i < 0 || i + 1 >= keys.length
      ? undefined
      : (keys[i + 1].value - keys[i].value) / (keys[i + 1].frame - keys[i].frame);
  const before = way(k - 1) ?? way(k) ?? 0;
  const after = way(k) ?? before;
  const slope = keys[k].slope ?? 0;
  if (before * after <= 0 || slope * before < 0) return 0;
  return Math.sign(slope) * Math.min(Math.abs(slope), 3 * Math.abs(before), 3 * Math.abs(after));
}

/** @param {Key} a @param {Key} b @param {number} frame @param {string} mode */
function between(a, b, frame, mode) {
  const span = b.frame - a.frame;
  const t = (frame - a.frame) / span;
  if (mode === "step") return a.value;
  if (mode === "linear") return a.value + (b.value - a.value) * t;
  const m0 = (a.slope ?? 0) * span;
  const m1 = (b.slope ?? 0) * span;
  const d = b.value - a.value;
  return a.value + t * (m0 + t * (3 * d - 2 * m0 - m1 + t * (m0 + m1 - 2 * d)));
}

/**
 * A curve's value; before the first and after the last key it holds.
 * @param {KeyedCurve} curve @param {number} frame
 */
export function curveAt({ keys, interpolation }, frame) {
  if (frame <= keys[0].frame) return keys[0].value;
  const next = keys.findIndex((key) => key.frame > frame);
  if (next < 0) return keys[keys.length - 1].value;
  const a = keys[next - 1];
  return between(a, keys[next], frame, a.interpolation ?? interpolation);
}

/** One key per frame. @param {number[]} values @param {number} from @returns {Key[]} */
export const keysOnOnes = (values, from) =>
  values.map((value, i) => ({ frame: from + i, value: rounded(value) }));

/**
 * A document as text: one line per node and per key, so that a text diff names single keys.
 * @param {Record<string, unknown> & { nodes: object[] }} header everything but the curves
 * @param {KeyedCurve[]} curves
 */
export function documentText(header, curves) {
  const spaced = (/** @type {unknown} */ value) =>
    JSON.stringify(value, null, 1).replace(/\n\s*/g, " ").replace(/\[ /g, "[").replace(/ \]/g, "]");
  const listed = (/** @type {unknown[]} */ items) => `[\n    ${items.map(spaced).join(",\n    ")}\n  ]`;
  const parts = Object.entries(header).map(
    ([name, value]) => `  "${name}": ${Array.isArray(value) ? listed(value) : spaced(value)}`,
  );
  const written = curves.map((curve) => {
    const { node, channel, interpolation } = curve;
    const head = spaced({ node, channel, interpolation }).slice(0, -2);
    const keys = curve.keys.map((key, k) => spaced(keyEntry(curve, key, k)));
    return `    ${head}, "keys": [\n      ${keys.join(",\n      ")}\n    ] }`;
  });
  return `{\n${parts.join(",\n")},\n  "curves": [\n${written.join(",\n")}\n  ]\n}\n`;
}

/** @param {KeyedCurve} curve @param {Key} key @param {number} k @returns {unknown[]} */
function keyEntry(curve, key, k) {
  /** @type {Record<string, unknown>} */
  const extras = {};
  const before = curve.keys[k - 1];
  const after = curve.keys[k + 1];
  const modeOf = (/** @type {Key} */ one) => one.interpolation ?? curve.interpolation;
  if (key.interpolation !== undefined && key.interpolation !== curve.interpolation) {
    extras["interpolation"] = key.interpolation;
  }
  const slope = key.slope ?? 0;
  if (before !== undefined && modeOf(before) === "bezier")
    extras["in"] = handle(slope, before.frame - key.frame);
  if (after !== undefined && modeOf(key) === "bezier") extras["out"] = handle(slope, after.frame - key.frame);
  const entry = [key.frame, rounded(key.value)];
  return Object.keys(extras).length > 0 ? [...entry, extras] : entry;
}

/** A handle a third of the way to the neighbour. @param {number} slope @param {number} span frames, signed */
const handle = (slope, span) => [rounded(span / 3), rounded((slope * span) / 3)];
