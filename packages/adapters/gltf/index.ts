export { type GltfOptions, readGltf } from "./read.ts";
