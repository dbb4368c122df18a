import type { Adapter } from "./adapter.ts";
import { bvhAdapter } from "./bvh/adapter.ts";
import { csvAdapter } from "./csv/adapter.ts";
import { curvesAdapter } from "./curves/adapter.ts";
import { gltfAdapter } from "./gltf/adapter.ts";

/** The program's own adapters, in the order in which they are listed, and asked whose bytes these are. */
export const adapters: readonly Adapter[] = [curvesAdapter, bvhAdapter, gltfAdapter, csvAdapter];
