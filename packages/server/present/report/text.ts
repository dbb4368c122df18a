import {
  checkNamed,
  type ReportedNote,
  type ReportedShot,
  type ReportedWaivedNote,
  type Tier,
  tiers,
} from "@keyside/core";
import { counted } from "../../base/counted.ts";
import type { ReportSummary, ReportWriter } from "../../judge/archive/report-writer.ts";
import { cautionsFor } from "../text/cautions.ts";
import { failureText } from "../text/failure.ts";
import { type Layout, painted, wrapped } from "../text/layout.ts";

/** How each tier's name is painted. */
export const tierPaint = {
  broken: ["bold", "magenta"],
  major: ["bold", "red"],
  minor: ["yellow"],
  polish: ["cyan"],
} as const;

/** More causing keys than these are not listed one by one. */
const keysShown = 3;

export interface TextOptions {
  readonly layout: Layout;
  /** Lightest tier that is written out; lighter notes are only counted. */
  readonly lightest: Tier;
}

/** The report as a person reads it: shot by shot, body part by body part, biggest first. */
export function textWriter({ layout, lightest }: TextOptions): ReportWriter {
  const counts = new Map<Tier, number>();
  const checks = new Set<string>();
  const failed = new Set<string>();
  let known = 0;
  let waivedCount = 0;
  return {
    begin: () => "",
    shot(shot) {
      known += shot.known ?? 0;
      const groups = new Map<string, ReportedNote[]>();
      for (const note of shot.notes) {
        counts.set(note.tier, (counts.get(note.tier) ?? 0) + 1);
        if (tiers.indexOf(note.tier) > tiers.indexOf(lightest)) continue;
        checks.add(note.check);
        const notes = groups.get(note.part);
        if (notes === undefined) groups.set(note.part, [note]);
        else notes.push(note);
      }
      const parts = [...groups].map(
        ([group, notes]) =>
          `  ${painted(layout, "bold", group)}\n${notes.map((note) => noteText(layout, note)).join("\n")}`,
      );
      if (parts.length === 0)
        parts.push(shot.notes.length === 0 ? "  No notes." : "  No notes at this tier.");
      for (const failure of shot.failures ?? []) {
        failed.add(failure.check);
        parts.push(wrapped(layout, failureText(failure), "  "));
      }
      const { waived = [] } = shot;
      waivedCount += waived.length;
      if (waived.length > 0) parts.push(waivedText(layout, waived));
      return `${[headOf(layout, shot), ...parts].join("\n\n")}\n\n`;
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
      for (const caution of cautionsFor([...checks].flatMap((name) => checkNamed(name) ?? []))) {
        lines.push("", wrapped(layout, caution));
      }
      return `${lines.join("\n")}\n`;
    },
  };
}

/** How many checks failed. */
export function failedText(checks: number): string {
  return `${counted(checks, "check")} failed`;
}

/** How far a run came that was stopped. */
export function stoppedText({ done, of }: NonNullable<ReportSummary["stopped"]>): string {
  return `Stopped after ${done} of ${counted(of, "input")}: the rest has not been judged.`;
}

function headOf(layout: Layout, shot: ReportedShot): string {
  const about = `${shot.file}, ${shot.frameRate} fps, frames ${shot.range[0]} to ${shot.range[1]}`;
  const lines = [`${painted(layout, "bold", shot.name)}  ${painted(layout, "dim", about)}`];
  for (const sentence of shot.inferred) {
    lines.push(painted(layout, "dim", wrapped(layout, sentence, "  ")));
  }
  return lines.join("\n");
}

function noteText(layout: Layout, note: ReportedNote): string {
  const at = note.place === undefined ? "" : `, line ${note.place.line}, column ${note.place.column}`;
  const head = `    ${painted(layout, [...tierPaint[note.tier]], note.tier)}  ${note.check}${framesOf(note)}${at}`;
  const labelled = (label: string, text: string) =>
    wrapped(layout, text, " ".repeat(12), `      ${label}`.padEnd(12));
  const lines = [head, wrapped(layout, note.message, "      ")];
  if (note.tier !== "broken") {
    lines.push(painted(layout, "dim", labelled("why", note.why)));
    lines.push(labelled("fix", note.suggestion));
    if (note.keys.length > 0) lines.push(labelled("keys", keysOf(note)));
  }
  return lines.join("\n");
}

/** Notes that are intended: what, and why, in short. */
function waivedText(layout: Layout, waived: readonly ReportedWaivedNote[]): string {
  const entries = waived.map((note) => {
    const { reason, by } = note.waiver;
    const head = `    ${painted(layout, "dim", note.tier)}  ${note.check}, ${note.part}${framesOf(note)}`;
    const why = by === undefined ? reason : `${reason} (${by})`;
    return `${head}\n${wrapped(layout, note.message, "      ")}\n${wrapped(layout, why, " ".repeat(14), "      waived".padEnd(14))}`;
  });
  return `  ${painted(layout, "bold", "waived")}\n${entries.join("\n")}`;
}

/** A note's frames as they follow its check's name; empty where it has none. */
export function framesOf(note: Pick<ReportedNote, "frames">): string {
  if (note.frames === null) return "";
  const [first, last] = note.frames;
  return first === last ? `, frame ${first}` : `, frames ${first} to ${last}`;
}

function keysOf(note: ReportedNote): string {
  const shown = note.keys.slice(0, keysShown).map(({ node, channel, frame, line, column }) => {
    const key = `${node} ${channel} frame ${frame}`;
    return line === null ? key : `${key} ${line}:${column}`;
  });
  const more = note.keys.length - shown.length;
  return shown.join("; ") + (more > 0 ? `; and ${counted(more, "more key")}` : "");
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
