/**
 * Small drawings as SVG: two panels, the fault on the left and the fixed motion on the right. A panel's own space is
 * 290 by 150, y down.
 */

const wide = 290;
const high = 150;

const style = `
    text { font: 12px system-ui, sans-serif; fill: #6b7280; }
    .line { fill: none; stroke: #8b95a5; stroke-width: 1.5; stroke-linecap: round; stroke-linejoin: round; }
    .faint { fill: none; stroke: #8b95a5; stroke-width: 1; stroke-dasharray: 3 4; }
    .bone { fill: none; stroke: #7c8798; stroke-width: 5; stroke-linecap: round; stroke-linejoin: round; }
    .other { fill: none; stroke: #7c8798; stroke-width: 5; stroke-linecap: round; stroke-linejoin: round; opacity: .45; }
    .dot { fill: #8b95a5; }
    .key { fill: none; stroke: #8b95a5; stroke-width: 1.5; }
    .fault { stroke: #d9622b; } .fault.dot { fill: #d9622b; stroke: none; }
    .good { stroke: #15937f; } .good.dot { fill: #15937f; stroke: none; }
    @media (prefers-color-scheme: dark) {
      text { fill: #a7b0be; }
      .fault { stroke: #f0854f; } .fault.dot { fill: #f0854f; }
      .good { stroke: #34bfa6; } .good.dot { fill: #34bfa6; }
    }`;

const number = (value) => String(Math.round(value * 10) / 10);
const at = ([x, y]) => `${number(x)} ${number(y)}`;

/** @param {string} kind classes */
export const line = (points, kind = "line") => `<path class="${kind}" d="M${points.map(at).join(" L")}"/>`;
export const dot = ([x, y], kind = "dot", r = 3.5) =>
  `<circle class="${kind}" cx="${number(x)}" cy="${number(y)}" r="${r}"/>`;
/** A key: a small square on its corner. */
export const key = ([x, y], kind = "key") =>
  line(
    [
      [x, y - 5],
      [x + 5, y],
      [x, y + 5],
      [x - 5, y],
      [x, y - 5],
    ],
    kind,
  );
export const words = ([x, y], text) => `<text x="${number(x)}" y="${number(y)}">${text}</text>`;

/** Dots of a course, one per frame; `marks` are the frames to be looked at, over the others. */
export function ticks(points, marks, mark) {
  const others = points.filter((_, i) => !marks.includes(i)).map((point) => dot(point));
  const looked = points.filter((_, i) => marks.includes(i)).map((point) => dot(point, `dot ${mark}`, 4.5));
  return [...others, ...looked].join("");
}

/**
 * The picture of a check.
 * @param {string} title @param {string} fault content of the left panel @param {string} fixed of the right one
 */
export function picture(title, fault, fixed) {
  const panel = (x, caption, content) =>
    `  <g transform="translate(${x} 0)">\n    ${content}\n    ${words([14, high + 22], caption)}\n  </g>`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${2 * wide + 20} ${high + 32}" width="${2 * wide + 20}" height="${high + 32}" role="img">`,
    `  <title>${title}: the fault on the left, fixed on the right</title>`,
    `  <style>${style}\n  </style>`,
    panel(0, "as it is keyed", fault),
    line(
      [
        [wide + 10, 14],
        [wide + 10, high],
      ],
      "faint",
    ).replace(/^/, "  "),
    panel(wide + 20, "fixed", fixed),
    "</svg>",
    "",
  ].join("\n");
}
