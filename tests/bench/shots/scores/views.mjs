// @ts-check
/**
 * Notes as the scores see them: in the bench's own names.
 * @import { Note } from "@keyside/core"
 * @import { BuiltShot, ChannelName } from "../types.d.ts"
 * @import { NoteView } from "./records.d.ts"
 */

/**
 * @param {readonly Note[]} notes
 * @param {BuiltShot} built
 * @param {(node: string, channel: string) => { joint: string, channel: ChannelName } | null} ours
 *   from a document's channel to the bench's
 * @returns {NoteView[]}
 */
export function viewsOf(notes, built, ours) {
  const jointOf = (/** @type {string | null | undefined} */ node) =>
    node == null ? null : (built.jointOf.get(node) ?? node);
  return notes.map((note, index) => {
    const [first] = note.keys;
    const driven = first === undefined ? null : ours(first.node, first.channel);
    return {
      index,
      check: note.check,
      tier: note.tier,
      joint: jointOf(note.node),
      seenAt: jointOf(note.seenAt[0]),
      from: note.frames[0],
      to: note.frames[1],
      key: driven === null || first === undefined ? null : { ...driven, frame: first.frame },
      message: note.message,
      also: (note.also ?? []).map(({ check, node, seenAt, frames: [from, to] }) => ({
        check,
        joint: jointOf(node),
        seenAt: jointOf(seenAt[0]),
        from,
        to,
      })),
    };
  });
}

/** Whether two notes say the same of the same: check, node, and frames that overlap. @param {NoteView} a @param {NoteView} b */
export const isSameNote = (a, b) =>
  a.check === b.check && a.joint === b.joint && a.from <= b.to && b.from <= a.to;
