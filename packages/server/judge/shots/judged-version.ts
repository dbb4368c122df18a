import {
  type Comparable,
  type Note,
  type ReportedNote,
  type ReportedWaivedNote,
  type ResolvedSettings,
  reviewOf,
  type Study,
} from "@keyside/core";
import { studyOf } from "./judge.ts";
import type { LoadedShot } from "./load.ts";
import { type JudgedShot, reportNoteOf, reportShot } from "./shot-report.ts";

/** A note as it is compared, with what is reported of it. */
export interface VersionNote extends Comparable {
  readonly reported: ReportedNote;
  /** null for what is broken in the document. */
  readonly note: Note | null;
  /** By whom and why it is waived; null where it is not. */
  readonly waiver: ReportedWaivedNote["waiver"] | null;
  /** What it speaks for. */
  readonly also?: readonly VersionNote[];
}

/** A shot that was read and judged, ready to be compared with another version or to be drawn. */
export interface JudgedVersion {
  readonly loaded: LoadedShot;
  readonly study: Study;
  readonly settings: ResolvedSettings;
  readonly report: JudgedShot;
  /** What is broken first, then the notes, biggest first. */
  readonly notes: readonly VersionNote[];
  readonly waived: readonly VersionNote[];
}

/** Judges a shot, and keeps what was worked out on the way. */
export function judgeVersion(loaded: LoadedShot, settings: ResolvedSettings): JudgedVersion {
  const study = studyOf(loaded, settings);
  const report = reportShot(loaded, study, undefined, true);
  const { notes, waived } = reviewOf(study);
  const broken = report.notes.length - notes.length;
  const reported = reportNoteOf(loaded, study);
  const listed = ({ also = [] }: Note) => also.map((other) => versionNote(reported(other), other, null));
  return {
    loaded,
    study,
    settings,
    report,
    notes: report.notes.map((reported, index) => {
      const note = notes[index - broken] ?? null;
      return { ...versionNote(reported, note, null), ...(note === null ? {} : { also: listed(note) }) };
    }),
    waived: (report.waived ?? []).map((reported, index) =>
      versionNote(reported, waived[index].note, reported.waiver),
    ),
  };
}

function versionNote(reported: ReportedNote, note: Note | null, waiver: VersionNote["waiver"]): VersionNote {
  const { check, tier, weight, figure, node, frames, keys, fingerprint } = reported;
  const seenAt = note?.seenAt ?? [];
  return {
    check,
    tier,
    weight,
    figure,
    node,
    seenAt,
    frames,
    keys,
    measured: note?.measured ?? null,
    expected: note?.expected ?? null,
    fingerprint,
    reported,
    note,
    waiver,
  };
}
