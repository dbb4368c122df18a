// @ts-check
/** Text as HTML and SVG are written: escaped, numbers short. */

/** @param {unknown} text */
export const escaped = (text) =>
  String(text)
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");

/** @param {number} value */
export const short = (value) => String(Math.round(value * 10) / 10 + 0);

/**
 * An element of SVG or HTML.
 * @param {string} name
 * @param {Record<string, string | number | undefined>} attributes
 * @param {string[]} [children] written already
 */
export function element(name, attributes, children = []) {
  const list = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === "number" ? short(value) : escaped(value)}"`);
  return `<${name}${list.join("")}>${children.join("")}</${name}>`;
}

/** @param {number} x @param {number} y @param {string} words @param {Record<string, string>} [attributes] */
export const label = (x, y, words, attributes = {}) =>
  element("text", { x, y, ...attributes }, [escaped(words)]);

/** A line through points. @param {readonly (readonly number[])[]} points */
export const through = (points) =>
  points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${short(x)} ${short(y)}`).join("");

/** Steps of 1, 2 or 5 times a power of ten, about `count` of them over a span. @param {number} span @param {number} count */
export function niceStep(span, count) {
  const rough = span / count || 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].find((factor) => factor * power >= rough) ?? 10;
  return step * power;
}
