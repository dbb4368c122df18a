import type { ShotHistory } from "@keyside/core/internal";
import { basics, colours, drawings, printColours } from "../look/look.ts";
import { measuredText } from "../text/measured.ts";
import { element, escaped, label, picture } from "../text/svg.ts";
import { cellWords, spanWords, versionName } from "./shot-history.ts";
import { countsOf } from "./shot-history-text.ts";

const lengthText = (metres: number) => measuredText(metres, "m");
/** Sizes in units of the picture. */
const labelWidth = 380;
const columnWidth = 140;
const rowHeight = 26;
const headHeight = 40;
const lettersInLabel = 54;

const style = `
.over { fill: var(--path); fill-opacity: .16; } .over.open { fill: var(--major); fill-opacity: .14; }
.dot { fill: var(--card); stroke: var(--ink); stroke-width: 1.8; } .dot.closed { fill: var(--ink); }
.dot.dropped { stroke-dasharray: 2 2; } .lane { stroke: var(--faint); }
svg .said { fill: var(--soft); } svg .head { font-weight: 700; }
`.trim();

type Row = ShotHistory["rows"][number];

/**
 * The history as a picture: versions across, remarks and notes down. A bar runs from the version in which one was first
 * to that in which it was closed; the dot of a version is filled where it is closed, and says its state in words.
 */
export function shotHistoryPicture(history: ShotHistory, isAlone = true): string {
  const { versions, rows, shot } = history;
  const width = labelWidth + versions.length * columnWidth + 12;
  const height = headHeight + rows.length * rowHeight + 10;
  const x = (index: number) => labelWidth + (index + 0.5) * columnWidth;
  const heads = versions.map((version, index) =>
    label(x(index), 24, versionName(version), { class: "head", "text-anchor": "middle" }),
  );
  const lanes = rows.map((row, index) =>
    lane(row, headHeight + (index + 0.5) * rowHeight, x, versions.length, history),
  );
  const body = [...heads, ...lanes];
  if (isAlone)
    body.unshift(
      element(
        "style",
        {},
        `${colours}\n${drawings}\nsvg text { font: 12px system-ui, sans-serif; fill: var(--ink); }\n${style}`,
      ),
      element("rect", { width, height, fill: "var(--paper)" }),
    );
  const drawn = picture(width, height, `${shot}: ${countsOf(history)}`, ...body);
  return isAlone ? `${drawn.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"')}\n` : drawn;
}

function lane(
  row: Row,
  y: number,
  x: (index: number) => number,
  count: number,
  history: ShotHistory,
): string {
  const end = row.closed ?? count - 1;
  const isOpen = row.closed === null && row.weight !== "keep";
  const left = x(row.opened) - 9;
  const name = labelOf(row);
  const shown = name.length > lettersInLabel ? `${name.slice(0, lettersInLabel - 1)}…` : name;
  const dots = row.cells.map((cell, index) => {
    if (cell === null) return "";
    const isClosed = row.closed !== null && index >= row.closed;
    const kind = [
      "dot",
      isClosed && cell.state !== "dropped" ? "closed" : "",
      cell.state === "dropped" ? "dropped" : "",
    ]
      .filter(Boolean)
      .join(" ");
    return (
      element("circle", { class: kind, cx: x(index) - 28, cy: y, r: 5 }) +
      label(x(index) - 18, y + 4, cellWords(cell, lengthText), { class: "said" })
    );
  });
  return element(
    "g",
    {},
    element("title", {}, escaped(`${name}; ${spanWords(row, history)}`)),
    element("line", {
      class: "lane",
      x1: 0,
      x2: x(count - 1) + columnWidth / 2,
      y1: y + rowHeight / 2,
      y2: y + rowHeight / 2,
    }),
    element("rect", {
      class: isOpen ? "over open" : "over",
      x: left - 28,
      y: y - 9,
      width: x(end) - left + 9,
      height: 18,
      rx: 9,
    }),
    label(4, y + 4, shown),
    ...dots,
  );
}

function labelOf({ kind, weight, title, part, text, by }: Row): string {
  return kind === "remark" ? `${weight}  ${by}: ${text}` : `${weight}  ${title}, ${part}`;
}

/** The picture and the table on one page that needs nothing but itself. */
export function shotHistoryPage(history: ShotHistory): string {
  const { shot, versions, rows, problems } = history;
  const heads = ["weight", "what", "part", ...versions.map(versionName), "from, to"];
  const body = rows.map((row) => {
    const what = row.kind === "remark" ? `${row.title}: ${row.text} (${row.by})` : row.title;
    const cells = [
      row.weight,
      what,
      row.part,
      ...row.cells.map((cell) => cellWords(cell, lengthText)),
      spanWords(row, history),
    ];
    return `<tr>${cells.map((cell) => `<td>${escaped(cell)}</td>`).join("")}</tr>`;
  });
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escaped(`${shot}: history`)}</title>
<style>${colours}\n${basics}\n${drawings}\n${style}
main { max-width: 76rem; margin: 0 auto; padding: 1.5rem; } table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; padding: .3rem .6rem; border-bottom: 1px solid var(--line); vertical-align: top; }
@media print { ${printColours} }</style>
</head>
<body>
<main>
<h1>${escaped(shot)}</h1>
<p>${escaped(countsOf(history))}.</p>
<figure class="wide">${shotHistoryPicture(history, false)}<figcaption>A bar runs from the version in which something was first to that in which it was closed. A filled dot is closed, a dashed one dropped.</figcaption></figure>
<div class="wide"><table>
<thead><tr>${heads.map((head) => `<th scope="col">${escaped(head)}</th>`).join("")}</tr></thead>
<tbody>
${body.join("\n")}
</tbody>
</table></div>
${problems.map((text) => `<p class="quiet">${escaped(text)}</p>`).join("\n")}
</main>
</body>
</html>
`;
}
