/** The client of the host channel. */
export * from "./client.ts";
export { channelNames, interpolationNames, moveKey, removeKey, setKey } from "./edits.ts";
export { EditError, FeedError, FeedGone, QueueFull } from "./errors.ts";
export { OpenShot } from "./shot.ts";
export type { Refusal, ShotContent, ShotOptions } from "./shot-options.ts";
export {
  type FeedNote,
  type FeedRemark,
  inOrder,
  type NotesChanged,
  type NotesSoFar,
  type ReviewChange,
} from "./told.ts";
