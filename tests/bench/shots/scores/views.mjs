// @ts-check
/**
 * Notes as the scores see them: in the bench's own names.
 * @import { BuiltShot, ChannelName } from "../types.d.ts"
 */

/**
 * @typedef {object} KeyView
 * @property {string} joint @property {ChannelName} channel @property {number} frame
 */

/**
 * @typedef {object} NoteView
 * @property {number} index place in the list, the one that matters most first
 * @property {string} check
 * @property {string} tier
 * @property {string | null} joint whose keys are to be looked at
 * @property {string | null} seenAt joint on which it shows most
 * @property {number} from @property {number} to
 * @property {KeyView | null} key the one that it names first
 * @property {string} message
 */

/**
 * A note as the program gives it; of all that it holds, what the scores look at.
 * @typedef {object} Note
 * @property {string} check @property {string} tier @property {string | null} node
 * @property {readonly string[]} seenAt @property {readonly [number, number]} frames
 * @property {readonly { node: string, channel: string, frame: number }[]} keys @property {string} message
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
    };
  });
}

/** Whether two notes say the same of the same: check, node, and frames that overlap. @param {NoteView} a @param {NoteView} b */
export const isSameNote = (a, b) =>
  a.check === b.check && a.joint === b.joint && a.from <= b.to && b.from <= a.to;
