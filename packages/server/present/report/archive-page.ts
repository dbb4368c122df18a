import { HabitTally, checkNamed as programCheck, type ReportError, tiers } from "@keyside/core";
import { counted } from "../../base/counted.ts";
import type { ReportHead, ReportSummary, ReportWriter } from "../../judge/archive/report-writer.ts";
import { cautionsFor } from "../text/cautions.ts";
import { stoppedText } from "../text/endings.ts";
import { escaped } from "../text/svg.ts";
import { archivePageStyle } from "./archive-page-style.ts";
import { table, tierCells, tierHeads } from "./archive-page-table.ts";
import { trendSection } from "./archive-page-trend.ts";
import { mostDrawn, worstShots } from "./archive-page-worst.ts";
import { ArchiveTally, sumOf, type Tallied, type WorstShot } from "./archive-tally.ts";
import { checksIn, folderGroup, habitsSection } from "./habits.ts";
import { historyEntry } from "./history.ts";
import type { CheckNamed, WriterOptions } from "./writer-options.ts";

/** So many inputs that could not be judged are listed. */
const errorsListed = 200;

/**
 * The archive as one page that needs nothing but itself: which checks, which folders, the worst shots, the trend over
 * runs. Only counts and the worst shots are kept while the run goes on; the page is written at its end.
 */
export function archivePageWriter({
  lightest,
  history,
  sheetFor = () => null,
  pictureOf,
  checkNamed = programCheck,
}: WriterOptions): ReportWriter {
  const pictures = new Map<WorstShot, string>();
  const tally = new ArchiveTally(lightest);
  const habits = new HabitTally();
  const errors: ReportError[] = [];
  let head: ReportHead = { version: "", shard: null };
  return {
    begin(begun) {
      head = begun;
      return "";
    },
    shot(shot) {
      tally.shot(shot);
      const { file } = shot;
      habits.add({ file, checks: checksIn(shot, lightest), groups: [folderGroup(file)], time: null });
      return "";
    },
    error(error) {
      tally.errors++;
      if (errors.length < errorsListed) errors.push(error);
      return "";
    },
    async beforeEnd() {
      if (pictureOf === undefined) return;
      for (const shot of tally.worst().slice(0, mostDrawn)) {
        const picture = await pictureOf(shot, shot.first.fingerprint);
        if (picture !== null) pictures.set(shot, picture);
      }
    },
    end(summary) {
      const { version } = head;
      const now =
        history === undefined ? null : historyEntry(tally, version, history.now, summary.stopped !== null);
      const runs = history === undefined || now === null ? null : [...history.past, now];
      const often = habitsSection(habits.result());
      const sections = [
        section("worst", "Worst shots", worstShots(tally, pictures, sheetFor)),
        section("checks", "Checks", checksTable(tally, checkNamed)),
        section("folders", "Folders", foldersTable(tally)),
        often === null ? null : section("habits", "What comes again", often),
        runs === null ? null : section("trend", "Trend over runs", trendSection(runs)),
        tally.failures.size === 0 ? null : section("failures", "Checks that failed", failuresList(tally)),
        tally.errors === 0 ? null : section("errors", "Not judged", errorsList(errors, tally.errors)),
      ].filter((one) => one !== null);
      return page(head, summary, tally, sections, checkNamed);
    },
  };
}

interface Section {
  readonly id: string;
  readonly title: string;
  readonly html: string;
}

function section(id: string, title: string, inside: string): Section {
  return {
    id,
    title,
    html: `<section aria-labelledby="${id}"><h2 id="${id}" tabindex="-1">${title}</h2>\n${inside}</section>`,
  };
}

function page(
  head: ReportHead,
  summary: ReportSummary,
  tally: ArchiveTally,
  sections: readonly Section[],
  checkNamed: CheckNamed,
): string {
  const shard = head.shard === null ? "" : `, shard ${head.shard.index} of ${head.shard.of}`;
  const title = `Archive of ${counted(tally.all.shots, "shot")}${shard}`;
  const cautions = cautionsFor([...tally.checks.keys()].flatMap((name) => checkNamed(name) ?? []));
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escaped(title)}</title>
<style>${archivePageStyle}</style>
</head>
<body>
<a class="skip" href="#worst">To the worst shots</a>
<main>
<header>
<h1>${escaped(title)}</h1>
${summary.stopped === null ? "" : `<p><strong>${escaped(stoppedText(summary.stopped))}</strong></p>`}
${facts(tally)}
<nav aria-label="Parts of this page"><ul>${sections.map(({ id, title }) => `<li><a href="#${id}">${title}</a></li>`).join("")}</ul></nav>
</header>
${sections.map(({ html }) => html).join("\n")}
<footer>
${cautions.map((text) => `<p class="quiet">${escaped(text)}</p>`).join("\n")}
<p class="quiet">Judged by keyside ${escaped(head.version)}.</p>
</footer>
</main>
</body>
</html>
`;
}

function facts(tally: ArchiveTally): string {
  const { all, clean, errors, failures, waived, known, hidden, hasBaseline } = tally;
  const rows: [string, number][] = [
    ["shots", all.shots],
    ["failing", all.failing],
    ["without notes", clean],
    ...tiers
      .filter((tier) => tier !== "broken" || all.tiers.broken > 0)
      .map((tier): [string, number] => [`${tier} notes`, all.tiers[tier]]),
    ...(waived > 0 ? [["waived", waived] as [string, number]] : []),
    ...(hasBaseline ? [["known to the baseline", known] as [string, number]] : []),
    ...(failures.size > 0 ? [["checks failed", failures.size] as [string, number]] : []),
    ...(errors > 0 ? [["not judged", errors] as [string, number]] : []),
    ...(hidden > 0 ? [["lighter notes, not shown", hidden] as [string, number]] : []),
  ];
  return `<dl class="facts">${rows.map(([name, count]) => `<div><dt>${name}</dt><dd>${count}</dd></div>`).join("")}</dl>`;
}

/** A share of a whole, as a bar with its number in words for whoever does not see it. */
function shareCell(part: number, whole: number): string {
  const share = whole === 0 ? 0 : part / whole;
  const percent = share > 0 && share < 0.005 ? "under 1" : String(Math.round(share * 100));
  return `<td class="share">${part} <span aria-hidden="true" class="quiet" style="display:inline">(${percent} %)</span><svg viewBox="0 0 100 10" preserveAspectRatio="none" role="img" aria-label="${percent} percent of all shots"><rect class="all" x="0" y="0" width="100" height="10"/><rect class="part" x="0" y="0" width="${(share * 100).toFixed(2)}" height="10"/></svg></td>`;
}

function checksTable(tally: ArchiveTally, checkNamed: CheckNamed): string {
  if (tally.checks.size === 0) return "<p>No check has found anything that is shown.</p>";
  const rows = [...tally.checks]
    .sort(([a, x], [b, y]) => y.shots - x.shots || sumOf(y.tiers) - sumOf(x.tiers) || (a < b ? -1 : 1))
    .map(([name, one]) => {
      const what = checkNamed(name)?.what ?? "";
      const about = what === "" ? "" : `<span class="quiet">${escaped(what)}</span>`;
      return `<tr><th scope="row"><code>${escaped(name)}</code></th><td class="said">${about}</td>${shareCell(one.shots, tally.all.shots)}${tierCells(one.tiers)}</tr>`;
    });
  return table(
    "Checks",
    `<th scope="col">Check</th><th scope="col">What it finds</th><th scope="col">Shots</th>${tierHeads}`,
    rows,
  );
}

function foldersTable(tally: ArchiveTally): string {
  const folders = tally.folders();
  if (folders.length === 0) return "<p>No shot has been judged.</p>";
  const rows = folders.map(([folder, one]) => folderRow(folder, one));
  const note = tally.foldersAreFolded
    ? '<p class="quiet">There are too many folders to list: the deepest are counted with those above them.</p>'
    : "";
  return `${note}${table(
    "Folders",
    `<th scope="col">Folder</th><th scope="col" class="n">Shots</th><th scope="col">Failing</th>${tierHeads}<th scope="col" class="n">Notes per shot</th>`,
    rows,
  )}`;
}

function folderRow(folder: string, { shots, failing, tiers: counts }: Tallied): string {
  return `<tr><th scope="row">${escaped(folder)}</th><td class="n">${shots}</td>${shareCell(failing, shots).replace("of all shots", "of the folder's shots")}${tierCells(counts)}<td class="n">${(sumOf(counts) / shots).toFixed(2)}</td></tr>`;
}

function failuresList({ failures }: ArchiveTally): string {
  const items = [...failures].map(([check, { shots, file, text }]) => {
    const first = `${escaped(text)} <span class="quiet">First in <code>${escaped(file)}</code>.</span>`;
    return `<li><code>${escaped(check)}</code> in ${counted(shots, "shot")}. ${first}</li>`;
  });
  return `<p>All other notes stand.</p><ul>${items.join("\n")}</ul>`;
}

function errorsList(errors: readonly ReportError[], count: number): string {
  const more = count - errors.length;
  return `<ul>${errors.map(({ file, message }) => `<li><code>${escaped(file)}</code>: ${escaped(message)}</li>`).join("\n")}</ul>${more > 0 ? `<p class="quiet">And ${counted(more, "more input")}.</p>` : ""}`;
}
