/** Keyside's adapters: other formats as shots, and a client of the feed. */
export * from "./bvh/index.ts";
export {
  FeedClient,
  FeedError,
  type FeedNote,
  type NotesChanged,
  OpenShot,
  type ShotContent,
  type SocketLike,
} from "./clients/typescript/client.ts";
export * from "./csv/index.ts";
export * from "./gltf/index.ts";
export * from "./readers.ts";
