// @ts-check
/** Whole pages: one per shot, and the page that lists them. */
import { escaped } from "./markup.mjs";
import { notesList } from "./notes-list.mjs";
import { pathPicture, stayOf } from "./path-picture.mjs";
import { timePicture } from "./time-picture.mjs";

/** @param {import("../look.mjs").Look} look @returns {string} */
export function shotPage(look) {
  const stay = stayOf(look);
  const worked = look.workedOut.map((line) => `<li>${escaped(line)}</li>`).join("");
  return page(
    look.title,
    `<p class="back"><a href="index.html">All shots</a></p>
<h1>${escaped(look.title)}</h1>
<p class="facts">${escaped(look.facts)}</p>
${pathFigure(look)}
${stay === null ? "" : pathFigure(look, stay)}
<figure>${timePicture(look)}<figcaption>Height and speed of the same node; below, each note at its frames.</figcaption></figure>
<h2>Notes, biggest first</h2>
${notesList(look)}
${worked ? `<h2>Worked out</h2><ul>${worked}</ul>` : ""}
${cautionsOf(look.cautions)}`,
  );
}

/** @param {import("../look.mjs").Look} look @param {[number, number]} [span] */
function pathFigure(look, span) {
  const { svg, view, apart } = pathPicture(look, span);
  const frames = span?.map((i) => Math.round(look.frames[i]));
  const closer = frames === undefined ? "" : `, closer, frames ${frames[0]} to ${frames[1]}`;
  const spacing = "one tick per frame: wide apart is fast, close together is slow.";
  const drawnApart = `one tick per frame. It travels little, so each frame is drawn ${Math.round(apart * 1000) / 10} cm further to the right.`;
  const marks =
    span === undefined
      ? ` Numbers in discs are the notes below${look.notes.length > 10 ? ", the ten biggest of them" : ""}.`
      : "";
  const caption = `${capital(look.rootName)} ${view}${closer}, ${apart > 0 ? drawnApart : spacing}${marks}`;
  return `<figure>${svg}<figcaption>${escaped(caption)}</figcaption></figure>`;
}

/**
 * @param {{ look: import("../look.mjs").Look, file: string, changes: string }[]} entries
 * @returns {string}
 */
export function indexPage(entries) {
  const count = (/** @type {import("../look.mjs").Look} */ look, /** @type {string} */ tier) =>
    look.notes.filter((note) => note.tier === tier).length;
  const rows = entries.map(({ look, file, changes }) => {
    const first = look.notes[0];
    const biggest = first === undefined ? "none" : `${first.message}`;
    const tiers = ["broken", "major", "minor", "polish"].map(
      (tier) => `<td class="count">${count(look, tier) || "·"}</td>`,
    );
    return `<tr><th scope="row"><a href="${escaped(file)}">${escaped(look.title)}</a></th>${tiers.join("")}<td>${escaped(capital(biggest))}</td><td>${escaped(changes)}</td></tr>`;
  });
  return page(
    "Shots of the demo",
    `<h1>Shots of the demo</h1>
<p class="facts">Invented shots, each in a first and a second version, and one captured extract; checked with the default settings.</p>
<div class="scroll"><table><thead><tr><th scope="col">shot</th><th scope="col">broken</th><th scope="col">major</th><th scope="col">minor</th><th scope="col">polish</th><th scope="col">biggest note</th><th scope="col">against the version before</th></tr></thead>
<tbody>${rows.join("\n")}</tbody></table></div>
${cautionsOf([...new Set(entries.flatMap(({ look }) => look.cautions))])}`,
  );
}

/** @param {readonly string[]} lines */
const cautionsOf = (lines) => lines.map((line) => `<p class="caution">${escaped(line)}</p>`).join("\n");

/** @param {string} text */
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** @param {string} title @param {string} body */
function page(title, body) {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${escaped(title)}</title>
<style>${style}</style>
</head>
<body>
<main>
${body}
</main>
</body>
</html>
`;
}

const style = `
:root { --paper: #fbfaf6; --ink: #24282b; --soft: #667077; --line: #d9d6cc; --faint: #eceae2; --path: #2d5d7c;
  --under: #2d5d7c22; --major: #a8321f; --minor: #8a6410; --polish: #4c6b45; --on: #fff; }
@media (prefers-color-scheme: dark) { :root { --paper: #17191b; --ink: #e6e4de; --soft: #9aa3a8; --line: #3a3f43;
  --faint: #26292c; --path: #8fc0de; --under: #8fc0de22; --major: #f08c78; --minor: #e0b04f; --polish: #9cc792; --on: #17191b; } }
body { margin: 0; background: var(--paper); color: var(--ink); font: 16px/1.5 system-ui, sans-serif; }
main { max-width: 62rem; margin: 0 auto; padding: 1.5rem 1.25rem 3rem; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: .25rem 0; }
h2 { font-size: 1.15rem; margin: 2rem 0 .5rem; }
a { color: var(--path); }
.back, .facts, figcaption, .why, .caution, .tier, .status { color: var(--soft); }
.back { margin: 0; font-size: .9rem; }
.facts { margin: 0 0 1rem; }
figure { margin: 1.25rem 0; }
figcaption { font-size: .88rem; }
svg { display: block; width: 100%; height: auto; }
svg text { font: 12px system-ui, sans-serif; fill: var(--ink); }
svg .number { fill: var(--soft); font-size: 11px; font-variant-numeric: tabular-nums; }
svg .name { fill: var(--path); font-weight: 600; }
.ground, .axis { stroke: var(--soft); stroke-width: 1; }
.grid { stroke: var(--faint); stroke-width: 1; }
.pose { fill: none; stroke: var(--line); stroke-width: 2; stroke-linecap: round; }
.trail, .graph { fill: none; stroke: var(--path); stroke-width: 1.6; stroke-linejoin: round; }
.under { fill: var(--under); }
.tick { stroke: var(--path); stroke-width: 1; }
.tick.whole { stroke-width: 1.8; }
.scale { fill: none; stroke: var(--soft); }
.leader, .drop { stroke-width: .8; stroke-dasharray: 2 3; }
.broken, .major { --tier: var(--major); } .minor { --tier: var(--minor); } .polish { --tier: var(--polish); }
.leader, .drop { stroke: var(--tier); } .drop { opacity: .55; } .span { fill: var(--tier); }
.mark circle { fill: var(--paper); stroke: var(--tier); stroke-width: 1.6; }
.mark.major circle, .mark.broken circle { fill: var(--tier); }
svg .mark text { font-size: 11px; font-weight: 600; fill: var(--tier); }
svg .mark.major text, svg .mark.broken text { fill: var(--on); }
.mark.polish circle { stroke-dasharray: 2.5 2; }
.notes { list-style: none; padding: 0; margin: 0; }
.notes > li { border-top: 1px solid var(--line); padding: .7rem 0; scroll-margin-top: 1rem; }
.notes > li:target { background: var(--faint); }
.notes p { margin: .15rem 0; }
.head { display: flex; flex-wrap: wrap; gap: .2rem .7rem; align-items: baseline; }
.chip { display: inline-block; min-width: 1.25rem; text-align: center; border: 1.6px solid var(--tier); border-radius: 1rem;
  color: var(--tier); font-size: .8rem; font-weight: 700; }
.chip.major, .chip.broken { background: var(--tier); color: var(--on); } .chip.polish { border-style: dashed; }
.mend::before { content: "Mend: "; font-weight: 600; }
.keys { margin: .25rem 0 0; padding-left: 1.2rem; font-size: .9rem; }
code { font: .88em ui-monospace, monospace; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-size: .93rem; }
th, td { text-align: left; vertical-align: top; padding: .45rem .6rem .45rem 0; border-bottom: 1px solid var(--line); }
thead th { font-weight: 600; color: var(--soft); } tbody th { white-space: nowrap; }
.count { font-variant-numeric: tabular-nums; }
.caution { margin-top: 2.5rem; font-size: .88rem; }
@media print { :root { --paper: #fff; --ink: #000; --soft: #444; --line: #bbb; --faint: #ddd; --path: #1f4a66; --under: #1f4a6618;
    --major: #8f1d0c; --minor: #6b4b00; --polish: #2e4a28; --on: #fff; }
  main { max-width: none; padding: 0; } .back { display: none; } figure, .notes > li { break-inside: avoid; }
  .chip, .mark circle, .under, .span { print-color-adjust: exact; -webkit-print-color-adjust: exact; } }
`;
