import type { z } from "zod";
import { nearestName } from "../base/nearest.ts";
import { type Study, shotMeasure } from "../base/study.ts";
import { headerOf, rangeOf } from "../document/inputs.ts";
import type { waiverSchema } from "../document/schema.ts";
import type { Note } from "../faults/note.ts";
import { inOrder, toldWith } from "./assemble.ts";
import { fingerprintOf } from "./fingerprint.ts";

/** A note that is intended: which, and why. */
export type Waiver = z.infer<typeof waiverSchema>;

/** A waiver and where it stands. */
export interface PlacedWaiver {
  readonly waiver: Waiver;
  /** Whether it stands in the shot's own document; else in a file beside it. */
  readonly inDocument: boolean;
  /** Position in its list. */
  readonly index: number;
}

/** A note that is waived, and by what. */
export interface WaivedNote {
  readonly note: Note;
  readonly by: PlacedWaiver;
}

/** A shot's notes, sorted into what is open and what is intended. */
export interface Review {
  /** Notes that nobody waived, and a note for each waiver that waives nothing. */
  readonly notes: readonly Note[];
  readonly waived: readonly WaivedNote[];
}

/** Name under which waivers that waive nothing are noted. */
export const unusedWaiver = "unused-waiver";

/** Input: waivers from a file beside the document. */
export const waiversBesideOf = shotMeasure<readonly Waiver[]>("waivers beside", () => none);
const none: readonly Waiver[] = [];

/**
 * Gives a study the waivers of a file beside the document.
 * @param waivers what `readWaiverFile` gave
 */
export function setWaiversBeside(study: Study, waivers: readonly Waiver[]): void {
  study.memo.write(waiversBesideOf.definition, undefined, waivers);
}

/** All waivers of a shot: the document's own first. */
export const waiversOf = shotMeasure<readonly PlacedWaiver[]>("waivers", (study) => [
  ...(headerOf(study).waivers ?? none).map((waiver, index) => ({ waiver, inDocument: true, index })),
  ...waiversBesideOf(study).map((waiver, index) => ({ waiver, inDocument: false, index })),
]);

/** Least share of a note's frames that a waiver has to cover: a fault that has grown past it is another one. */
const leastCover = 0.5;

/**
 * Sorts notes by the shot's waivers. A waiver answers notes of its check, on its node and over its frames where it names
 * them; one whose last revision is past answers nothing any more.
 * @param found all notes of the shot
 * @param checks all checks there are, and whether their notes were looked for: of a check that is off no waiver is
 *   unused, and one of a check that there is not is a slip
 */
export function reviewed(
  study: Study,
  found: readonly Note[],
  checks: ReadonlyMap<string, { readonly on: boolean }>,
): Review {
  const waivers = waiversOf(study);
  if (waivers.length === 0) return { notes: found, waived: [] };
  const revision = headerOf(study).shot.revision;
  const isPast = ({ lastRevision }: Waiver) =>
    lastRevision !== undefined && revision !== undefined && revision > lastRevision;
  const used = new Set<PlacedWaiver>();
  const open: Note[] = [];
  const waived: WaivedNote[] = [];
  const waiving = (note: Note): PlacedWaiver | undefined => {
    const answering = waivers.filter(({ waiver }) => !isPast(waiver) && answers(waiver, note));
    for (const by of answering) used.add(by);
    if (answering.length > 0) waived.push({ note: toldWith(note, []), by: answering[0] });
    return answering[0];
  };
  for (const note of found) {
    const by = waiving(note);
    // What a waiver does not name is not waived with what speaks for it, and the other way round.
    const also = (note.also ?? []).filter((other) => waiving(other) === undefined);
    if (by === undefined) open.push(also.length === note.also?.length ? note : toldWith(note, also));
    else open.push(...also);
  }
  open.sort(inOrder);
  const unused = waivers.filter(
    (placed) => !used.has(placed) && checks.get(placed.waiver.check)?.on !== false,
  );
  const notes = [
    ...open,
    ...unused.map((placed) => {
      const { waiver } = placed;
      if (!checks.has(waiver.check)) return unusedNote(study, placed, ofNoCheck(waiver, checks.keys()));
      return unusedNote(study, placed, isPast(waiver) ? ranOut(waiver, revision) : forNothing);
    }),
  ];
  return { notes, waived };
}

/** Whether a waiver is meant for a note. */
export function answers(waiver: Waiver, note: Pick<Note, "check" | "node" | "seenAt" | "frames">): boolean {
  if (waiver.check !== note.check) return false;
  if (waiver.node !== undefined && waiver.node !== note.node && !note.seenAt.includes(waiver.node))
    return false;
  if (waiver.frames === undefined) return true;
  const [from, to] = [Math.min(...waiver.frames), Math.max(...waiver.frames)];
  const shared = Math.min(to, note.frames[1]) - Math.max(from, note.frames[0]) + 1;
  return shared >= leastCover * (note.frames[1] - note.frames[0] + 1);
}

/** Why a waiver answers nothing: how the sentence about it ends, why that matters, and what to do. */
interface Idle {
  readonly ending: string;
  readonly why: string;
  readonly suggestion: string;
}

const forNothing: Idle = {
  ending: "answers no note",
  why: "A waiver that answers nothing stays behind and hides the next fault at its place.",
  suggestion: "take it out, or give it the node and the frames of what it is meant for",
};

function ranOut({ lastRevision }: Waiver, revision: number | undefined): Idle {
  return {
    ending: `ended with revision ${lastRevision}; this is revision ${revision}`,
    why: "A waiver that has run out answers nothing, and what it was for is noted again.",
    suggestion: "take it out, or raise its last revision if it still holds",
  };
}

function ofNoCheck({ check }: Waiver, names: Iterable<string>): Idle {
  const near = nearestName(check, names);
  return {
    ending: "answers nothing: there is no check of this name",
    why: "What the waiver is meant for is noted as before.",
    suggestion: `${near === null ? "write the name of a check" : `write "${near}", if that is meant`}, or take it out; keyside explain lists the checks`,
  };
}

function unusedNote(study: Study, placed: PlacedWaiver, idle: Idle): Note {
  const { waiver, inDocument, index } = placed;
  const { check, node, frames, reason } = waiver;
  const where = inDocument ? "" : " in the file beside the shot";
  const place = [
    node === undefined ? "" : ` at ${node}`,
    frames === undefined ? "" : `, ${span(frames)}`,
  ].join("");
  const [first, last] = frames ?? rangeOf(study);
  return {
    check: unusedWaiver,
    tier: "polish",
    weight: 0.05,
    figure: null,
    node: node ?? null,
    seenAt: [],
    frames: [Math.min(first, last), Math.max(first, last)],
    keys: [],
    message: `the waiver of ${check}${place}${where} (${reason}) ${idle.ending}`,
    measured: { quantity: "notes that it answers", value: 0, unit: "count" },
    expected: { min: 1, unit: "count", source: "common practice" },
    why: idle.why,
    suggestion: idle.suggestion,
    evidence: [],
    fingerprint: fingerprintOf([unusedWaiver, check, node ?? "", reason, String(inDocument)]),
    ...(inDocument ? { path: `waivers/${index}` } : {}),
  };
}

function span([from, to]: readonly [number, number]): string {
  return from === to ? `frame ${from}` : `frames ${from} to ${to}`;
}
