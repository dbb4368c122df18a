import { createHash } from "node:crypto";
import { editShot, type ReportedNote, type Study, studyOf } from "@keyside/core";
import type { Motion } from "@keyside/player/motion";
import { counted } from "../../base/counted.ts";
import { version } from "../../base/version.ts";
import { alsoTexts, rankText } from "../text/rank.ts";
import { listedItems, type ReviewedNote } from "../text/review.ts";
import { escaped } from "../text/svg.ts";
import { waiverText } from "../text/waived.ts";
import { motionOf } from "./motion.ts";
import { fixSentence, noteText } from "./note-text.ts";
import { type NotePictures, notePictures, stripOf } from "./pictures.ts";
import { asData, playerScript } from "./player-script.ts";
import { letterAt, remarkItem, strokesOf } from "./remarks.ts";
import { script } from "./script.ts";
import { type Sheet, type SheetNote, sentence, spanText } from "./sheet.ts";
import { style } from "./style.ts";

/** Notes behind these, in the ranking, are not drawn: a page has to open quickly. */
const mostDrawn = 60;

/** The shot's own pictures and sound, which a sheet refers to. */
export type SheetFootage = Pick<Motion, "images" | "sound">;

/** The review sheet as one page that needs nothing but itself, and the footage if there is any. */
export function sheetPage(sheet: Sheet, footage: SheetFootage = {}): string {
  const scripts = [playerScript(), script];
  const title = `${sheet.name}, ${sheet.issue}: review`;
  return shell(title, sheet.name, bodyOf(sheet, footage), scripts, footageSources(footage));
}

/** What a page with footage may load: files beside it, from a disk or from where it was itself loaded. */
function footageSources({ images, sound }: SheetFootage): string {
  const sources = "'self' file:";
  return `${images === undefined ? "" : `; img-src ${sources}`}${sound === undefined ? "" : `; media-src ${sources}`}`;
}

/** The shot after a note's fix; null where it has none. */
type FixedOf = (note: SheetNote) => Study | null;

/** Each fixed shot is worked out once, however many pictures are made of it. */
function fixedShots({ version: { loaded, settings } }: Sheet): FixedOf {
  const studies = new Map<SheetNote, Study>();
  return (note) => {
    if (note.fix === null) return null;
    const known = studies.get(note) ?? studyOf(editShot(loaded.shot, note.fix.edits), settings);
    studies.set(note, known);
    return known;
  };
}

function bodyOf(sheet: Sheet, footage: SheetFootage): string {
  const { notes, since } = sheet;
  const fixedOf = fixedShots(sheet);
  return `<p class="skip-line"><a class="skip" href="#notes">To the notes</a></p>
<header>
<h1>${escaped(sheet.name)} <span class="issue">${escaped(sheet.issue)}</span></h1>
<p class="facts">${escaped(sentence(sheet.facts))}</p>
<p class="counts">${escaped(sentence(sheet.counts))}</p>
${since === null ? "" : `<p class="facts">Since ${escaped(since.issue)}: ${escaped(sentence(since.counts))} ${escaped(since.times.join(" "))}</p>`}
${sheet.failures.map((line) => `<p class="counts">${escaped(line)}</p>`).join("\n")}
</header>
<section aria-labelledby="whole"><h2 id="whole">The whole shot</h2>
<div class="strip" tabindex="0" role="region" aria-label="Strip of the whole shot">${stripOf(sheet.version, notes)}</div>
${legend()}</section>
${player(sheet, fixedOf, footage)}
${sheet.alike.length === 0 ? "" : `<section aria-labelledby="alike"><h2 id="alike">What many figures do alike</h2><ul>${lines(sheet.alike)}</ul></section>`}
<section aria-labelledby="notes"><h2 id="notes" tabindex="-1">${sheet.review === null ? "Notes, biggest first" : "Remarks and notes, as the reviewer put them"}</h2>
${sheet.review === null ? "" : sheet.review.problems.map((line) => `<p class="quiet">${escaped(line)}</p>`).join("\n")}
${notes.length === 0 && lettersOf(sheet).size === 0 ? "<p>No notes: nothing here breaks the limits in force.</p>" : `${tools()}\n${noteList(sheet, fixedOf)}`}
${sheet.hidden > 0 ? `<p class="quiet">${counted(sheet.hidden, "lighter note")} not shown.</p>` : ""}</section>
${strengthList(sheet)}
${table("waived", "Waived", sheet.waived, { title: "why it is meant", of: (index) => waiverText(sheet.waived[index].waiver) })}
${since === null ? "" : table("fixed", `Fixed since ${since.issue}`, since.fixed, null)}
${sheet.inferred.length === 0 ? "" : `<section aria-labelledby="inferred"><h2 id="inferred">Inferred</h2><ul>${lines(sheet.inferred)}</ul></section>`}
${sheet.cautions.map((line) => `<p class="caution quiet">${escaped(line)}</p>`).join("\n")}
<p class="quiet">${escaped(sheet.version.report.file)}, judged by keyside ${escaped(version)}.</p>`;
}

function lines(texts: readonly string[]): string {
  return texts.map((text) => `<li>${escaped(sentence(text))}</li>`).join("");
}

/** The shot in motion: a script makes it play, and without one it is not there. */
function player(sheet: Sheet, fixedOf: FixedOf, footage: SheetFootage): string {
  const { version, notes, strengths } = sheet;
  const strokes = strokesOf(version, lettersOf(sheet));
  const motion = {
    ...motionOf(version, notes.slice(0, mostDrawn), fixedOf, strengths),
    ...(strokes.length === 0 ? {} : { strokes }),
    ...footage,
  };
  if (motion.figures.length === 0 && motion.things.length === 0) return "";
  return `<section class="in-motion with-script" aria-labelledby="motion-title" hidden><h2 id="motion-title" tabindex="-1">In motion</h2>
<keyside-player for="motion"></keyside-player>
<script type="application/json" id="motion">${asData(motion)}</script></section>`;
}

function legend(): string {
  const mark = (tier: string, words: string) =>
    `<span><svg class="mark bar ${tier}" viewBox="0 0 36 16" aria-hidden="true"><rect class="span" x="2" y="5" width="32" height="6" rx="2"/></svg>${words}</span>`;
  return `<p class="legend quiet">${mark("major", "major")}${mark("minor", "minor")}${mark("polish", "polish")}<span>Each note stands beneath its frames; its number leads to it.</span></p>`;
}

function tools(): string {
  return `<div class="bar-of-tools with-script" hidden>
<strong id="done"></strong>
<button type="button" id="hide" aria-pressed="false">Hide ticked notes</button>
<button type="button" id="copy-all">Copy all as text</button>
<span class="quiet">Keys, with a note in focus: <kbd>↓</kbd> or <kbd>N</kbd> next, <kbd>↑</kbd> or <kbd>P</kbd> previous, <kbd>M</kbd> in motion, <kbd>T</kbd> tick, <kbd>C</kbd> copy, <kbd>Home</kbd> and <kbd>End</kbd>.</span>
<span class="quiet" id="said" role="status"></span>
</div>`;
}

function noteList(sheet: Sheet, fixedOf: FixedOf): string {
  const letters = lettersOf(sheet);
  const items = listOf(sheet).map((item) => {
    if (item.kind === "remark") {
      return remarkItem(sheet.version, item.remark, letters.get(item.remark.id) ?? "");
    }
    const note = item.note.told;
    const pictures = note.number > mostDrawn ? null : notePictures(sheet.version, note, fixedOf(note));
    return noteItem(sheet, note, pictures, item.said);
  });
  const rest = sheet.notes.length - mostDrawn;
  const undrawn =
    rest > 0 ? `<p class="quiet">The last ${counted(rest, "note")} are told in words only.</p>` : "";
  return `<ol class="notes">\n${items.join("\n")}\n</ol>${undrawn}`;
}

/** Remarks and notes in one list, in the reviewer's order. */
function listOf({ review, notes }: Sheet) {
  return listedItems(
    { review: review ?? undefined },
    notes.map((note) => ({ ...note.reported, told: note })),
  );
}

/** The letter of each remark, by its id, as they stand on the list. */
function lettersOf(sheet: Sheet): ReadonlyMap<string, string> {
  const ids = listOf(sheet).flatMap((item) => (item.kind === "remark" ? [item.remark.id] : []));
  return new Map(ids.map((id, index) => [id, letterAt(index)]));
}

function noteItem(
  sheet: Sheet,
  note: SheetNote,
  pictures: NotePictures | null,
  reviewed: ReviewedNote | null,
): string {
  const { number, reported, title, frames, status } = note;
  const where = [reported.part, frames].filter(Boolean).join(", ");
  const named = `Note ${number}: ${title}, ${where}`;
  return `<li class="note ${reported.tier}" id="note-${number}" tabindex="0" aria-label="${escaped(named)}" data-number="${number}" data-fingerprint="${escaped(reported.fingerprint)}" data-text="${escaped(noteText(sheet, note))}">
<div class="head"><span class="number-chip" aria-hidden="true">${number}</span>
<h3>${escaped(title)} <span class="where">${escaped(where)}</span></h3>
<span class="tier-name">${reviewed?.isWeighed === true ? `${reviewed.weight} (${reported.tier})` : reported.tier}</span>${status === null ? "" : `<span class="status">${escaped(firstWords(status))}</span>`}
<label class="tick"><input type="checkbox" aria-label="Note ${number} is dealt with"><span>done</span></label>
${pictures === null ? "" : `<button type="button" class="play with-script" hidden aria-label="Play note ${number}">Play</button>`}
<button type="button" class="copy with-script" hidden aria-label="Copy note ${number} as text">Copy</button></div>
<p class="message">${escaped(reviewed?.text == null ? note.message : sentence(reviewed.text))}</p>
${reviewed?.text == null ? "" : `<p class="quiet">${escaped(reviewed.by ?? "")}; computed: ${escaped(note.message)}</p>`}
<dl class="said">${said(sheet, note)}</dl>
${pictures === null ? "" : drawn(pictures)}
</li>`;
}

function firstWords(status: string): string {
  return status.split(":")[0];
}

function said(sheet: Sheet, note: SheetNote): string {
  // What could be done, and what was tried: one row, so that nobody takes them for two things to do.
  const tried = note.fix === null ? "" : `<span class="tried">${escaped(fixSentence(sheet, note))}</span>`;
  const rows: [string, string][] = [["Change", `${escaped(note.suggestion)}${tried}`]];
  rows.push(["Why", escaped(note.why)]);
  if (note.status?.includes(":")) rows.push(["Since", escaped(sentence(note.status))]);
  if (note.measured !== "") rows.push(["Measured", escaped(sentence(note.measured))]);
  if (note.keys.length > 0) {
    const more = note.moreKeys === 0 ? "" : ` and ${note.moreKeys} more`;
    rows.push(["Keys", `${note.keys.map((key) => `<code>${escaped(key)}</code>`).join("; ")}${more}`]);
  }
  const others = alsoTexts(note.reported);
  if (others.length > 0) rows.push(["With it", escaped(others.join("; "))]);
  const rank = rankText(note.reported);
  if (rank !== "") rows.push(["Rank", escaped(sentence(rank))]);
  return rows.map(([name, text]) => `<dt>${name}</dt><dd>${text}</dd>`).join("");
}

function drawn({ path, poses, graph }: NotePictures): string {
  const figure = (name: string, { svg, caption }: NotePictures["path"]) =>
    `<figure class="${name}">${svg}<figcaption>${escaped(caption)}</figcaption></figure>`;
  return `<div class="pictures">${figure("path", path)}${poses === null ? "" : figure("poses", poses)}${figure("over-time", graph)}</div>`;
}

/** What holds: a line for each, with a button that plays it. */
function strengthList({ strengths }: Sheet): string {
  if (strengths.length === 0) return "";
  const items = strengths.map(
    ({ title, part, message }, index) =>
      `<li><strong>${escaped(title)}</strong>, ${escaped(part)}: ${escaped(sentence(message))}
<button type="button" class="play with-script" hidden data-strength="${index + 1}" aria-label="Play strength ${index + 1}">Play</button></li>`,
  );
  return `<section aria-labelledby="holds"><h2 id="holds">What holds</h2><ol class="strengths">${items.join("\n")}</ol></section>`;
}

/** Notes in a table, and one column more: what is said of each. */
function table(
  id: string,
  title: string,
  notes: readonly ReportedNote[],
  more: { readonly title: string; readonly of: (index: number) => string } | null,
): string {
  if (notes.length === 0) return "";
  const heads = ["check", "tier", "where", "note", ...(more === null ? [] : [more.title])];
  const rows = notes.map(({ check, tier, part, frames, message }, index) => {
    const where = [part, spanText(frames)].filter(Boolean).join(", ");
    const cells = [check, tier, where, sentence(message), ...(more === null ? [] : [more.of(index)])];
    return `<tr>${cells.map((cell) => `<td>${escaped(cell)}</td>`).join("")}</tr>`;
  });
  return `<section aria-labelledby="${id}"><h2 id="${id}">${escaped(title)}</h2>
<div class="wide" tabindex="0" role="region" aria-labelledby="${id}"><table class="plain"><thead><tr>${heads.map((head) => `<th scope="col">${escaped(head)}</th>`).join("")}</tr></thead><tbody>${rows.join("")}</tbody></table></div></section>`;
}

/**
 * A page around a body, with the sheet's look; it may load nothing from anywhere.
 * @param sources what it may load all the same, as directives of its policy, each behind a semicolon
 */
export function shell(title: string, shot: string, body: string, scripts = [script], sources = ""): string {
  const hashes = scripts.map((text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`);
  const policy = `default-src 'none'; style-src 'unsafe-inline'; script-src ${hashes.join(" ")}${sources}`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style>${style}</style>
</head>
<body data-shot="${escaped(shot)}">
<svg class="hidden-defs" aria-hidden="true"><defs><pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line class="hatch-line" x1="0" y1="0" x2="0" y2="6"/></pattern></defs></svg>
<main>
${body}
</main>
${scripts.map((text) => `<script>${text}</script>`).join("\n")}
</body>
</html>
`;
}
