import { escaped, label, niceStep, picture, short, through } from "../text/svg.ts";
import { sumOf } from "./archive-tally.ts";
import type { HistoryEntry } from "./history.ts";

/** At most so many runs are drawn and listed, the newest ones. */
const runsShown = 60;

const width = 900;
const height = 240;
const left = 52;
const right = 128;
const top = 16;
const bottom = 34;

/** Notes per shot over the runs, as a drawing and as a table. */
export function trendSection(past: readonly HistoryEntry[]): string {
  const runs = past.slice(-runsShown);
  const left = past.length - runs.length;
  const dropped = left === 0 ? "" : `<p class="quiet">${left} earlier runs are not shown.</p>`;
  const drawing =
    runs.length < 2 ? "<p>The trend is drawn from the second run on.</p>" : `<figure>${chart(runs)}</figure>`;
  return `${drawing}${dropped}
<details${runs.length < 2 ? " open" : ""}><summary>The runs as a table</summary>
<div class="wide" tabindex="0" role="region" aria-label="Table: Runs"><table>
<thead><tr><th scope="col">Run</th><th scope="col" class="n">Shots</th><th scope="col" class="n">Failing</th><th scope="col" class="n">Broken</th><th scope="col" class="n">Major</th><th scope="col" class="n">Minor</th><th scope="col" class="n">Polish</th><th scope="col" class="n">Notes per shot</th><th scope="col">Version</th></tr></thead>
<tbody>${[...runs].reverse().map(row).join("\n")}</tbody></table></div></details>`;
}

function row({ at, shots, failing, notes, version, stopped }: HistoryEntry): string {
  const cells = [shots, failing, notes.broken, notes.major, notes.minor, notes.polish];
  const when = `${dayOf(at)} ${at.slice(11, 16)} UTC${stopped === true ? ", stopped before its end" : ""}`;
  return `<tr><th scope="row">${escaped(when)}</th>${cells.map((n) => `<td class="n">${n}</td>`).join("")}<td class="n">${perShot(sumOf(notes), shots).toFixed(2)}</td><td>${escaped(version)}</td></tr>`;
}

function chart(runs: readonly HistoryEntry[]): string {
  const all = runs.map(({ notes, shots }) => perShot(sumOf(notes), shots));
  const heavy = runs.map(({ notes, shots }) => perShot(notes.broken + notes.major, shots));
  const step = niceStep(Math.max(...all, 0.1), 4);
  const most = step * Math.max(1, Math.ceil(Math.max(...all) / step - 1e-9));
  const x = (i: number) => left + ((width - left - right) * i) / (runs.length - 1);
  const y = (value: number) => height - bottom - ((height - top - bottom) * value) / most;
  const parts: string[] = [];
  for (let value = 0; value <= most + step / 2; value += step) {
    const at = short(y(value));
    parts.push(`<line x1="${left}" x2="${width - right}" y1="${at}" y2="${at}"/>`);
    parts.push(label(left - 8, y(value) + 4, String(Number(value.toPrecision(6))), { "text-anchor": "end" }));
  }
  parts.push(label(left, height - 10, dayOf((runs[0] as HistoryEntry).at)));
  parts.push(
    label(width - right, height - 10, dayOf((runs.at(-1) as HistoryEntry).at), { "text-anchor": "end" }),
  );
  parts.push(`<path class="all" d="${through(all.map((value, i) => [x(i), y(value)]))}"/>`);
  parts.push(`<path class="heavy" d="${through(heavy.map((value, i) => [x(i), y(value)]))}"/>`);
  all.forEach((value, i) => {
    parts.push(`<circle class="all" cx="${short(x(i))}" cy="${short(y(value))}" r="4"/>`);
  });
  heavy.forEach((value, i) => {
    parts.push(
      `<rect class="heavy" x="${short(x(i) - 3.5)}" y="${short(y(value) - 3.5)}" width="7" height="7"/>`,
    );
  });
  const ends = [y(all.at(-1) as number), y(heavy.at(-1) as number)] as [number, number];
  // Names that would stand on each other are moved apart.
  const apart = Math.max(0, 16 - (ends[1] - ends[0])) / 2;
  parts.push(label(width - right + 10, ends[0] + 4 - apart, "all notes", { class: "name" }));
  parts.push(label(width - right + 10, ends[1] + 4 + apart, "major, broken", { class: "name" }));
  const name = `Notes per shot over ${runs.length} runs: from ${(all[0] as number).toFixed(2)} to ${(all.at(-1) as number).toFixed(2)}; major and broken ones from ${(heavy[0] as number).toFixed(2)} to ${(heavy.at(-1) as number).toFixed(2)}`;
  return `${picture(width, height, name, ...parts).replace("<svg", '<svg class="trend"')}<figcaption>Notes per shot, run by run: all of them (line, dots), and the major and broken ones (dashes, squares).</figcaption>`;
}

function perShot(notes: number, shots: number): number {
  return shots === 0 ? 0 : notes / shots;
}

function dayOf(at: string): string {
  return at.slice(0, 10);
}
