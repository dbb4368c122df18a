import type { FeedNote } from "@keyside/adapters";
import {
  gridOf,
  headerOf,
  type Note,
  type ReviewFile,
  type Study,
  sampleAt,
  type Waiver,
} from "@keyside/core";
import { checkIn, settingsOf } from "@keyside/core/internal";
import type { DeskNote, DeskWaived, FromDesk } from "@keyside/desk/link";
import { groupsOf } from "../../judge/shots/headings.ts";
import { squintPicture } from "../../present/sheet/draw/squint-picture.ts";
import { sentence } from "../../present/sheet/sheet.ts";
import { measuredAgainst } from "../../present/text/measured.ts";

/**
 * A note of the feed as the page is told it.
 * @param shown what the player shows of a note
 */
export function deskNote(note: FeedNote, study: Study, shown: (note: Note) => DeskNote["shown"]): DeskNote {
  const { fingerprint, check, tier, node, keys, message, suggestion, why, measured, expected } = note;
  const { rank: _, also = [], ...rest } = note;
  return {
    fingerprint,
    check,
    tier,
    title: checkIn(settingsOf(study), check)?.title ?? check,
    part: groupsOf(study)(note),
    node,
    frames: [note.frames[0], note.frames[1]],
    keys: keys.map(({ node, channel, frame, share }) => ({
      node,
      channel,
      frame,
      ...(share === undefined ? {} : { share }),
    })),
    message: sentence(message),
    suggestion: sentence(suggestion),
    why: sentence(why),
    measured: `${measured.quantity} ${measuredAgainst(measured, expected)}`,
    // The feed keeps the series behind a note to itself; no place on the picture hangs on them.
    shown: shown({ ...rest, evidence: [] }),
    squint: squintOf(note, study, null),
    also: also.map((other) => sentence(other.message)),
  };
}

/** Of what was found so far, as many lines are told. */
const mostSoFar = 3;

/** What was found so far, the gravest first, a line each: "Pop, hips, frame 40: 3.1 cm, at most 1.1". */
export function soFarMessage(
  revision: number,
  share: number,
  notes: readonly FeedNote[],
  study: Study,
): Extract<FromDesk, { type: "soFar" }> {
  const found = notes.slice(0, mostSoFar).map((note) => {
    const { check, frames, measured, expected } = note;
    const title = checkIn(settingsOf(study), check)?.title ?? check;
    const [from, to] = frames;
    const when = from === to ? `frame ${from}` : `frames ${from} to ${to}`;
    return `${title}, ${groupsOf(study)(note)}, ${when}: ${measuredAgainst(measured, expected)}`;
  });
  return { type: "soFar", revision, share, found };
}

const squintSize = { width: 420, height: 190 };

/**
 * What the camera sees of a note on staging, as flat dark shapes; with the fixed shot before and after.
 * @returns null where the note is on something else, or no camera sees its frames
 */
export function squintOf(
  { check, frames }: Pick<FeedNote, "check" | "frames">,
  study: Study,
  fixed: Study | null,
): string | null {
  const known = checkIn(settingsOf(study), check);
  if (known?.family !== "staging") return null;
  const grid = gridOf(study);
  const [from, to] = frames.map((frame) => sampleAt(grid, frame));
  const inColours = known.looksAtColours ?? false;
  return squintPicture({ study, fixed, noted: { from, to }, size: squintSize, inColours }) || null;
}

/** What is said to be meant: in the document, then in the file of waivers beside it, then in the review. */
export function waivedIn(study: Study, beside: readonly Waiver[], review: ReviewFile): DeskWaived[] {
  const told = (decision: string | null) => {
    return ({
      check,
      node,
      frames,
      reason,
      by,
    }: Omit<Waiver, "reason"> & { reason?: string | undefined }): DeskWaived => ({
      check,
      node: node ?? null,
      frames: frames === undefined ? null : [frames[0], frames[1]],
      reason: reason ?? "",
      by: by ?? null,
      decision,
    });
  };
  const dropped = review.decisions.filter(({ verdict }) => verdict === "dropped");
  return [
    ...[...(headerOf(study).waivers ?? []), ...beside].map(told(null)),
    ...dropped.map((decision) => told(decision.id)(decision)),
  ];
}
