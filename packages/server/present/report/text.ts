import { checkNamed as programCheck, type ReportedShot, type Tier, tiers } from "@keyside/core";
import { counted } from "../../base/counted.ts";
import type { ReportWriter } from "../../judge/archive/report-writer.ts";
import { alikeTexts } from "../text/alike.ts";
import { cautionsFor } from "../text/cautions.ts";
import { failedText, stoppedText } from "../text/endings.ts";
import { failureText } from "../text/failure.ts";
import { type Layout, painted, wrapped } from "../text/layout.ts";
import { plainTexts } from "../text/plain.ts";
import { isShown } from "../text/shown.ts";
import { noStrengths, strengthsIn } from "../text/strengths.ts";
import { waivedIn } from "../text/waived.ts";
import { briefNotes } from "./text-brief.ts";
import { longNotes, waivedText } from "./text-long.ts";
import { tierPaint } from "./tier-paint.ts";
import type { WriterOptions } from "./writer-options.ts";

/**
 * The report as a person reads it, shot by shot: at a glance, with a line for each note; or in full, body part by body
 * part.
 */
export function textWriter({
  layout,
  lightest,
  long,
  audience,
  checkNamed = programCheck,
}: Pick<WriterOptions, "layout" | "lightest" | "long" | "audience" | "checkNamed">): ReportWriter {
  const isApart = audience === "supervisor";
  const counts = new Map<Tier, number>();
  const checks = new Set<string>();
  const explained = new Set<string>();
  const failed = new Set<string>();
  let known = 0;
  let waivedCount = 0;
  return {
    begin: () => "",
    shot(given) {
      const shot = plainTexts(given);
      known += shot.known ?? 0;
      waivedCount += waivedIn(shot).length;
      for (const { tier } of shot.notes) counts.set(tier, (counts.get(tier) ?? 0) + 1);
      const shown = shot.notes.filter(({ tier }) => isShown(tier, lightest));
      for (const { check } of shown) checks.add(check);
      const notes =
        long === true
          ? longNotes(layout, shot, shown)
          : briefNotes(layout, isApart ? { ...shot, waived: [] } : shot, shown, explained);
      if (long !== true && isApart && waivedIn(shot).length > 0)
        notes.push(waivedText(layout, waivedIn(shot)));
      const isSaid = (shot.review?.list ?? []).some(({ kind }) => kind === "remark");
      const none = shot.notes.length === 0 ? "  No notes." : "  No notes at this tier.";
      const failures = shot.failures ?? [];
      for (const { check } of failures) failed.add(check);
      const parts = [
        headOf(layout, shot),
        ...(shown.length === 0 && !isSaid ? [none] : []),
        ...alikeLines(layout, shot),
        ...notes,
        ...reviewProblemLines(layout, shot),
        ...strengthLines(layout, shot),
        ...failures.map((failure) => wrapped(layout, failureText(failure), "  ")),
      ];
      return `${parts.join("\n\n")}\n\n`;
    },
    // Whoever is at the terminal has read each error already, on stderr.
    error: () => "",
    end({ shots, errors, stopped }) {
      const lines = [summaryOf(layout, shots, counts, lightest)];
      if (waivedCount > 0) lines.push(`${counted(waivedCount, "note")} waived.`);
      if (known > 0) lines.push(`${counted(known, "known note")} left out by the baseline.`);
      if (errors > 0) lines.push(`${counted(errors, "input")} could not be judged.`);
      if (failed.size > 0) lines.push(`${failedText(failed.size)}: the notes of all others stand.`);
      if (stopped !== null) lines.push(stoppedText(stopped));
      if (checks.size > 0) lines.push("", ...nextSteps(layout, long === true));
      for (const caution of cautionsFor([...checks].flatMap((name) => checkNamed(name) ?? []))) {
        lines.push("", wrapped(layout, caution));
      }
      return `${lines.join("\n")}\n`;
    },
  };
}

/** What many figures do alike, in one block. */
function alikeLines(layout: Layout, shot: ReportedShot): string[] {
  const lines = alikeTexts(shot).map((text) => wrapped(layout, text, "    ", "  "));
  return lines.length === 0 ? [] : [lines.join("\n")];
}

/** What of the review file cannot be used, in one block. */
function reviewProblemLines(layout: Layout, { review }: ReportedShot): string[] {
  const problems = review?.problems ?? [];
  return problems.length === 0
    ? []
    : [problems.map((text) => wrapped(layout, text, "    ", "  ")).join("\n")];
}

/** What holds, in one block; nothing where it was not asked for. */
function strengthLines(layout: Layout, shot: ReportedShot): string[] {
  if (shot.strengths === undefined) return [];
  const figures = new Set(shot.figures).size;
  const lines = strengthsIn(shot).map(({ figure, message }) =>
    wrapped(layout, figures > 1 ? `${figure}: ${message}` : message, "      ", "    - "),
  );
  if (lines.length === 0) lines.push(wrapped(layout, noStrengths, "    "));
  return [`  ${painted(layout, "bold", "what holds")}\n${lines.join("\n")}`];
}

/** What to do with the notes. */
function nextSteps(layout: Layout, isLong: boolean): string[] {
  const steps = [
    ["--long", "all of each note: what it is, the change that fixes it, its keys"],
    ["keyside fix FILE", "changes of keys that clear notes"],
    ["keyside sheet FILE", "the notes with drawings, as a page"],
  ] as const;
  const widest = Math.max(...steps.map(([what]) => what.length));
  return steps
    .slice(isLong ? 1 : 0)
    .map(([what, does]) => wrapped(layout, does, " ".repeat(widest + 4), `  ${what.padEnd(widest)}  `));
}

function headOf(layout: Layout, shot: ReportedShot): string {
  const about = `${shot.file}, ${shot.frameRate} fps, frames ${shot.range[0]} to ${shot.range[1]}`;
  const lines = [`${painted(layout, "bold", shot.name)}  ${painted(layout, "dim", about)}`];
  for (const sentence of shot.inferred) {
    lines.push(painted(layout, "dim", wrapped(layout, sentence, "  ")));
  }
  return lines.join("\n");
}

function summaryOf(layout: Layout, shots: number, counts: ReadonlyMap<Tier, number>, lightest: Tier): string {
  const total = [...counts.values()].reduce((sum, count) => sum + count, 0);
  const byTier = tiers
    .filter((tier) => counts.has(tier))
    .map((tier) => painted(layout, [...tierPaint[tier]], `${counts.get(tier)} ${tier}`));
  const hidden = tiers
    .slice(tiers.indexOf(lightest) + 1)
    .reduce((sum, tier) => sum + (counts.get(tier) ?? 0), 0);
  const detail = byTier.length === 0 ? "" : `: ${byTier.join(", ")}`;
  const unseen = hidden === 0 ? "" : ` (${hidden} lighter than ${lightest} not shown)`;
  return `${counted(total, "note")} in ${counted(shots, "shot")}${detail}${unseen}.`;
}
