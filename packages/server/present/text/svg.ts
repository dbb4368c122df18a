/** Text as HTML and SVG are written: escaped, numbers short. */

/** Control characters but tabs and line ends: no page may hold them (HTML Standard, 13.2.3.5). */
const control = /(?![\t\n])\p{Cc}/gu;

/** Text that may stand in an element or in a quoted attribute. */
export function escaped(text: string): string {
  return text
    .replace(control, "\ufffd")
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;")
    .replaceAll("'", "&#39;");
}

/** A number with one decimal at most. What is no number (a fault of the document) is written as 0. */
export function short(value: number): string {
  return Number.isFinite(value) ? String(Math.round(value * 10) / 10 + 0) : "0";
}

export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** An element of SVG or HTML; attributes are escaped, `children` are written already. */
export function element(name: string, attributes: Attributes, ...children: readonly string[]): string {
  let list = "";
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined) continue;
    list += ` ${key}="${typeof value === "number" ? short(value) : escaped(value)}"`;
  }
  return `<${name}${list}>${children.join("")}</${name}>`;
}

/** A word or number at a place. */
export function label(x: number, y: number, words: string, attributes: Attributes = {}): string {
  return element("text", { x, y, ...attributes }, escaped(words));
}

export type Point = readonly [x: number, y: number];

/** The `d` of a line through points. */
export function through(points: Iterable<Point>): string {
  let d = "";
  for (const [x, y] of points) d += `${d === "" ? "M" : "L"}${short(x)} ${short(y)}`;
  return d;
}

/** A picture with its name, for whoever does not see it. */
export function picture(width: number, height: number, name: string, ...children: readonly string[]): string {
  const attributes = { viewBox: `0 0 ${short(width)} ${short(height)}`, role: "img", "aria-label": name };
  return element("svg", attributes, ...children);
}

/** Steps of 1, 2 or 5 times a power of ten, about `count` of them over a span. */
export function niceStep(span: number, count: number): number {
  const rough = span > 0 && Number.isFinite(span) ? span / count : 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].find((factor) => factor * power >= rough * (1 - 1e-9)) ?? 10;
  return step * power;
}

/** A box in which nothing else may be written. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export function meet(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
