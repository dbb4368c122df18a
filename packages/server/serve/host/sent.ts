import { type KeyEdit, lineStartsOf, type Note, type Problem, type ProvenFix, placeAt } from "@keyside/core";
import type { z } from "zod";
import type { messages, SentNote, SentProblem } from "./messages.ts";
import type { methods } from "./protocol.ts";

export type NotesChanged = z.infer<(typeof messages)[typeof methods.notesChanged]["params"]>;
export type NotesSoFar = z.infer<(typeof messages)[typeof methods.notesSoFar]["params"]>;
export type ReviewChanged = z.infer<(typeof messages)[typeof methods.reviewChanged]["params"]>;
type SentFix = NonNullable<z.infer<(typeof messages)[typeof methods.fix]["answer"]>["fix"]>;
type Evidence = NonNullable<
  z.infer<(typeof messages)[typeof methods.explain]["answer"]>["note"]
>["evidence"][number];

/** A note as it is sent while keys are edited: without its series, which nobody plots at that pace. */
export function noteToSend(note: Note): SentNote {
  const { fingerprint, check, tier, weight, rank, figure, node } = note;
  const { message, measured, expected, why, suggestion } = note;
  return {
    fingerprint,
    check,
    tier,
    weight,
    // JSON has no number for a threshold of 0 that is passed.
    ...(rank === undefined
      ? {}
      : { rank: { ...rank, excess: Number.isFinite(rank.excess) ? rank.excess : null } }),
    figure,
    node,
    seenAt: [...note.seenAt],
    frames: [note.frames[0], note.frames[1]],
    keys: note.keys.map(({ node, channel, frame, index, share }) => ({
      node,
      channel,
      frame,
      index,
      ...(share === undefined ? {} : { share }),
    })),
    message,
    measured,
    expected,
    why,
    suggestion,
    ...(note.also === undefined ? {} : { also: note.also.map(otherToSend) }),
    ...(note.path === undefined ? {} : { path: note.path }),
  };
}

/** What a note speaks for, as it is sent with it. */
function otherToSend({ check, tier, node, frames, message, fingerprint }: Note) {
  return { check, tier, node, frames: [frames[0], frames[1]] as [number, number], message, fingerprint };
}

/** A fix as it is sent. */
export function fixToSend({ fix, kind, title, moves, edits, changes, gone, added }: ProvenFix): SentFix {
  return {
    name: fix,
    kind,
    title,
    moves: moves.map(({ nodes, frames, ...move }) => ({
      ...move,
      nodes: [...nodes],
      frames: [frames[0], frames[1]],
    })),
    edits: edits.map(plainEdit),
    keys: [...changes],
    gone: gone.map(({ fingerprint }) => fingerprint),
    added: added.map(noteToSend),
  };
}

/** An edit as it is taken: with lists that may be changed. */
function plainEdit(edit: KeyEdit): SentFix["edits"][number] {
  return structuredClone(edit) as SentFix["edits"][number];
}

/** The series behind a note; JSON has no number for a value that there is none of, so it is null. */
export function evidenceToSend(note: Note): Evidence[] {
  return note.evidence.map(({ values, ...rest }) => ({
    ...rest,
    values: values.map((value) => (Number.isFinite(value) ? value : null)),
  }));
}

/** Problems as they are sent; with lines and columns where there is a text. */
export function problemsToSend(problems: readonly Problem[], text: string | null): SentProblem[] {
  const lineStarts = text === null || problems.length === 0 ? null : lineStartsOf(text);
  return problems.map(({ code, message, path, start }) => ({
    code,
    message,
    path,
    ...(lineStarts === null ? {} : placeAt(lineStarts, start)),
  }));
}
