import { basename } from "node:path";
import {
  figuresOf,
  gridOf,
  type Note,
  type ProvenFix,
  type ReportedNote,
  type ReportedReview,
  type ReportedStrength,
  type Tier,
  tiers,
} from "@keyside/core";
import { checkIn } from "@keyside/core/internal";
import { counted } from "../../base/counted.ts";
import type { JudgedVersion, VersionNote } from "../../judge/shots/judged-version.ts";
import { type ComparedVersions, changeText, countsText, timeText } from "../report/comparison.ts";
import { alikeTexts } from "../text/alike.ts";
import { cautionsFor } from "../text/cautions.ts";
import { failureText } from "../text/failure.ts";
import { measuredAgainst } from "../text/measured.ts";
import type { Audience } from "../text/review.ts";
import { strengthsIn } from "../text/strengths.ts";
import { type WaivedNote, waivedIn } from "../text/waived.ts";

/** A shot's review, in words, ready to be laid out: everything that a sheet says. */
export interface Sheet {
  readonly version: JudgedVersion;
  readonly name: string;
  /** "revision 2", or the file's name where the document names none. */
  readonly issue: string;
  /** The shot in one line. */
  readonly facts: string;
  /** How many notes of which tier, in words. */
  readonly counts: string;
  /** What became of the notes since the previous version; null where none was given. */
  readonly since: Since | null;
  /** What many figures do alike, in sentences; empty where each has its own faults. */
  readonly alike: readonly string[];
  /** Biggest first. */
  readonly notes: readonly SheetNote[];
  readonly waived: readonly WaivedNote[];
  /** What people say, in one list with the notes; null where there is no review file. */
  readonly review: ReportedReview | null;
  /** For whom it is written; null for everybody. */
  readonly audience: Audience | null;
  /** What holds, at most five things, what carries most of the picture first. */
  readonly strengths: readonly ReportedStrength[];
  /** How many notes are lighter than what the sheet shows. */
  readonly hidden: number;
  /** Checks that failed, in sentences: what they would have found is missing. */
  readonly failures: readonly string[];
  readonly inferred: readonly string[];
  readonly cautions: readonly string[];
}

export interface Since {
  readonly issue: string;
  readonly counts: string;
  /** How the time runs against the previous version, in sentences. */
  readonly times: readonly string[];
  readonly fixed: readonly ReportedNote[];
}

/** A note as the sheet says it. */
export interface SheetNote {
  /** Its place in the ranking, from 1. */
  readonly number: number;
  readonly reported: ReportedNote;
  /** null for what is broken in the document. */
  readonly note: Note | null;
  readonly title: string;
  /** "frame 31", "frames 31 to 34"; empty where it has none. */
  readonly frames: string;
  readonly message: string;
  readonly suggestion: string;
  readonly why: string;
  /** "measured 13°, at most 4°". */
  readonly measured: string;
  /** "head rotation.x at frame 31 (line 463)". */
  readonly keys: readonly string[];
  readonly moreKeys: number;
  /** What became of it since the previous version: "new", "still there", "better by 40 %: …". */
  readonly status: string | null;
  /** A change of keys that was made and cleared it; null where none is known. */
  readonly fix: ProvenFix | null;
}

export interface SheetOptions {
  /** With the previous version, where there is one. */
  readonly compared: ComparedVersions | null;
  /** Finds a verified fix of a note; null where none is to be looked for. */
  readonly fixOf: ((note: Note) => ProvenFix | null) | null;
  /** Lightest tier that is shown. */
  readonly lightest: Tier;
  /** For whom it is written; what was dropped is left out for an animator. */
  readonly audience?: Audience | undefined;
}

const keysShown = 3;

/** Gathers what a sheet says of a judged shot. */
export function sheetOf(
  version: JudgedVersion,
  { compared, fixOf, lightest, audience }: SheetOptions,
): Sheet {
  const shown = version.notes.filter(({ tier }) => tiers.indexOf(tier) <= tiers.indexOf(lightest));
  const statuses = compared === null ? null : statusesOf(compared);
  const noteAt = (entry: VersionNote, index: number): SheetNote =>
    sheetNote(
      entry,
      checkIn(version.settings, entry.check)?.title ?? inWords(entry.check),
      index + 1,
      statuses?.get(entry) ?? null,
      entry.note === null ? null : (fixOf?.(entry.note) ?? null),
    );
  const checks = new Set(shown.flatMap(({ check }) => checkIn(version.settings, check) ?? []));
  return {
    version,
    name: version.report.name,
    issue: issueOf(version),
    facts: factsOf(version),
    counts: noteCounts(version, audience === "animator"),
    since: compared === null ? null : sinceOf(compared),
    alike: alikeTexts(version.report),
    notes: shown.map(noteAt),
    waived: audience === "animator" ? [] : waivedIn(version.report),
    review: version.report.review ?? null,
    audience: audience ?? null,
    strengths: strengthsIn(version.report),
    hidden: version.notes.length - shown.length,
    failures: (version.report.failures ?? []).map(failureText),
    inferred: version.report.inferred,
    cautions: cautionsFor(checks),
  };
}

function issueOf({ loaded, report }: JudgedVersion): string {
  const { revision } = loaded.shot.header.shot;
  return revision === undefined ? basename(report.file) : `revision ${revision}`;
}

function factsOf({ study }: JudgedVersion): string {
  const { count, rate, frames, dt } = gridOf(study);
  const span = `frames ${plain(frames[0])} to ${plain(frames[count - 1])}`;
  const seconds = `${(count * dt).toFixed(1)} s`;
  const who = figuresOf(study).map(({ id, kind }) => (kind === "other" ? id : `${id} (${kind})`));
  const figures =
    who.length === 0 ? "no figure" : `${who.length === 1 ? "figure" : "figures"} ${who.join(", ")}`;
  const judged = `${plain(rate)} frames per second`;
  return `${span} (${seconds} at ${judged}); ${figures}`;
}

/** "5 notes: 3 major, 2 minor". */
function noteCounts({ notes, waived }: JudgedVersion, isWithoutWaived: boolean): string {
  const parts = tiers.flatMap((tier) => {
    const count = notes.filter((note) => note.tier === tier).length;
    return count === 0 ? [] : [`${count} ${tier}`];
  });
  const all = counted(notes.length, "note");
  const apart = isWithoutWaived || waived.length === 0 ? "" : `; ${waived.length} waived`;
  return `${parts.length === 0 ? all : `${all}: ${parts.join(", ")}`}${apart}`;
}

function sinceOf(compared: ComparedVersions): Since {
  const { before, comparison } = compared;
  return {
    issue: issueOf(before),
    counts: countsText(comparison),
    times: timeText(comparison),
    fixed: comparison.fixed.map(({ reported }) => reported),
  };
}

function statusesOf({ comparison }: ComparedVersions): ReadonlyMap<VersionNote, string> {
  const statuses = new Map<VersionNote, string>();
  for (const note of comparison.added) statuses.set(note, "new");
  for (const { after } of comparison.still) statuses.set(after, "still there");
  for (const change of comparison.changed) statuses.set(change.after, changeText(change));
  return statuses;
}

function sheetNote(
  { reported, note }: VersionNote,
  title: string,
  number: number,
  status: string | null,
  fix: ProvenFix | null,
): SheetNote {
  return {
    number,
    reported,
    note,
    title,
    frames: spanText(reported.frames),
    message: sentence(reported.message),
    suggestion: sentence(reported.suggestion),
    why: sentence(reported.why),
    measured: note === null ? "" : measuredOf(note),
    keys: reported.keys.slice(0, keysShown).map(keyText),
    moreKeys: Math.max(0, reported.keys.length - keysShown),
    status,
    fix,
  };
}

/** A name in kebab-case as a title: "key-order" is "Key order". */
function inWords(name: string): string {
  return `${name.charAt(0).toUpperCase()}${name.slice(1).replaceAll("-", " ")}`;
}

/** "frame 31", "frames 31 to 34". */
export function spanText(frames: readonly [number, number] | null): string {
  if (frames === null) return "";
  const [first, last] = frames;
  return first === last ? `frame ${plain(first)}` : `frames ${plain(first)} to ${plain(last)}`;
}

function measuredOf({ measured, expected }: Note): string {
  const { quantity } = measured;
  return `${quantity} ${measuredAgainst(measured, expected)}`;
}

function keyText({ node, channel, frame, line }: ReportedNote["keys"][number]): string {
  return `${node} ${channel} at frame ${plain(frame)}${line === null ? "" : ` (line ${line})`}`;
}

/** A sentence as it stands by itself. */
export function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? "" : "."}`;
}

function plain(value: number): string {
  return String(Math.round(value * 1000) / 1000 + 0);
}
