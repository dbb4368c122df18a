/** Keyside's adapters: other formats as shots, and a client of the feed. */
export * from "./adapter.ts";
export * from "./adapters.ts";
export * from "./bvh/index.ts";
export * from "./clients/typescript/index.ts";
export { Feed, startFeed } from "./clients/typescript/start-feed.ts";
export * from "./csv/index.ts";
export * from "./gltf/index.ts";
