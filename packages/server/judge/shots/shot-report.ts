import {
  failuresOf,
  figuresOf,
  guessesOf,
  inferredOf,
  type Note,
  type PlacedWaiver,
  type ReportedFailure,
  type ReportedFix,
  type ReportedNote,
  type ReportedShot,
  type ReportedWaivedNote,
  reviewOf,
  type Shot,
  type Study,
} from "@keyside/core";
import { stageSentences, styleSentences } from "@keyside/core/internal";
import { alikeIn } from "./alike.ts";
import { brokenNotes } from "./broken-notes.ts";
import { groupsOf } from "./headings.ts";
import type { LoadedShot } from "./load.ts";
import { NotePlaces } from "./note-places.ts";
import { reportReview } from "./reviews.ts";
import { toldStrengths } from "./told-strengths.ts";

/** A shot's part of the report, before it is known which tier fails. */
export type JudgedShot = Omit<ReportedShot, "failing">;

/**
 * A shot's part of the report: what is broken in its document first, then its notes, biggest first.
 * @param fixOf gives the fix that is told with a note; none if left out
 * @param withStrengths whether it is told what holds, too
 */
export function reportShot(
  loaded: LoadedShot,
  study: Study,
  fixOf: (note: Note) => ReportedFix | null = () => null,
  withStrengths = false,
): JudgedShot {
  const { shot } = loaded;
  const partOf = groupsOf(study);
  const review = reviewOf(study);
  const placed = placedNotes(loaded, partOf);
  const told = review.notes.map((note) => {
    const fix = fixOf(note);
    const headed = { ...placed(note), part: partOf(note) };
    return fix === null ? headed : { ...headed, fix };
  });
  const broken = brokenNotes(loaded).map((note) => ({ ...note, part: partOf(note) }));
  const headed = [...broken, ...told.filter(isTellable)];
  const waived = review.waived.map(({ note, by }) => ({
    ...placed(note),
    part: partOf(note),
    waiver: waiverOf(by),
  }));
  const failures = [...failuresOf(study), ...told.filter((note) => !isTellable(note)).map(beyondNumbers)];
  const figures = figuresOf(study).map(({ id }) => id);
  const alike = alikeIn(headed, figures);
  return {
    file: loaded.file,
    name: loaded.name,
    frameRate: frameRateOf(shot, shot.header.shot.frameRate),
    range: [shot.range[0], shot.range[1]],
    figures,
    inferred: [
      ...inferredOf(study),
      ...guessesOf(study),
      ...stageSentences(study),
      ...styleSentences(study),
      ...(loaded.remarks ?? []),
    ],
    notes: headed,
    ...(alike.length === 0 ? {} : { alike }),
    ...(waived.length === 0 ? {} : { waived }),
    ...(failures.length === 0 ? {} : { failures: failures.map((failure) => ({ ...failure })) }),
    ...(withStrengths ? { strengths: toldStrengths(study, broken) } : {}),
    ...(loaded.review == null
      ? {}
      : { review: reportReview(loaded.review, study, loaded.name, headed, partOf) }),
  };
}

/** How a note is reported that is told by itself in a comparison, though another speaks for it in the report. */
export function reportNoteOf(loaded: LoadedShot, study: Study): (note: Note) => ReportedNote {
  const partOf = groupsOf(study);
  const placed = placedNotes(loaded, partOf);
  return (note) => ({ ...placed(note), part: partOf(note) });
}

function placedNotes(loaded: LoadedShot, partOf: (note: Note) => string): (note: Note) => Told {
  const places = new NotePlaces(loaded);
  return (note) => {
    const place = places.besideKeys(note);
    return {
      ...reportNote(note, places),
      ...rankAndOthers(note, partOf, places),
      ...(place === undefined ? {} : { place }),
    };
  };
}

type Told = Omit<ReportedNote, "part">;

/** Whether all numbers of a note are numbers: those of motion without measure may overflow on their way to it. */
function isTellable({ weight, frames, measured, expected }: Told): boolean {
  const numbers = [weight, ...(frames ?? []), measured?.value, expected?.min, expected?.max];
  return numbers.every((number) => number === undefined || Number.isFinite(number));
}

/** A note that cannot be told is a failure of its check: its silence would look as if all were well. */
function beyondNumbers({ check, node }: Told): ReportedFailure {
  const message = "What it measures is beyond all numbers here; look for a key that is out of proportion.";
  return { check, subject: node, others: 0, message };
}

function waiverOf({ waiver, inDocument }: PlacedWaiver): ReportedWaivedNote["waiver"] {
  const { reason, by, lastRevision } = waiver;
  return {
    reason,
    ...(by === undefined ? {} : { by }),
    ...(lastRevision === undefined ? {} : { lastRevision }),
    inDocument,
  };
}

function frameRateOf(shot: Shot, written: number | string): number | string {
  const { numerator, denominator } = shot.frameRate;
  return denominator === 1 ? numerator : typeof written === "string" ? written : numerator / denominator;
}

/** Why a note stands where it does, and what it speaks for. */
function rankAndOthers(
  { rank, also = [] }: Note,
  partOf: (note: Note) => string,
  places: NotePlaces,
): Pick<ReportedNote, "rank" | "also"> {
  const others = also.map((other) => {
    const { check, tier, figure, node, frames, message, fingerprint } = other;
    const [from, to] = frames;
    const place = places.of(other);
    return {
      check,
      tier,
      figure,
      node,
      part: partOf(other),
      frames: [from, to] as [number, number],
      message,
      fingerprint,
      ...(place === undefined ? {} : { place }),
    };
  });
  return {
    ...(rank === undefined
      ? {}
      : { rank: { ...rank, excess: Number.isFinite(rank.excess) ? rank.excess : null } }),
    ...(others.length === 0 ? {} : { also: others }),
  };
}

function reportNote(note: Note, places: NotePlaces): Omit<ReportedNote, "part"> {
  const { check, tier, weight, figure, node, message, why, suggestion, fingerprint } = note;
  return {
    check,
    tier,
    weight,
    figure,
    node,
    frames: [note.frames[0], note.frames[1]],
    keys: note.keys.map((key) => ({
      node: key.node,
      channel: key.channel,
      frame: key.frame,
      ...places.ofKey(key),
    })),
    message,
    measured: note.measured,
    expected: note.expected,
    why,
    suggestion,
    fingerprint,
  };
}
