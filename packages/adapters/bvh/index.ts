export { type BvhOptions, readBvh } from "./read.ts";
