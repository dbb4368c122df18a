/** Keyside's file adapters: other formats as shots. */
export * from "./bvh/index.ts";
export * from "./csv/index.ts";
export * from "./gltf/index.ts";
export * from "./readers.ts";
