/** The client of the host channel. */
export * from "./client.ts";
export { channelNames, interpolationNames, moveKey, removeKey, setKey } from "./edits.ts";
export { EditError, FeedError, FeedGone, QueueFull } from "./errors.ts";
export {
  type FeedNote,
  type FeedRemark,
  inOrder,
  type NotesChanged,
  OpenShot,
  type Refusal,
  type ReviewChange,
  type ShotContent,
  type ShotOptions,
} from "./shot.ts";
