import { type Adapter, decoded } from "../adapter.ts";
import { readBvh } from "./read.ts";
import { writeBvh } from "./write.ts";

/** BVH motion capture. */
export const bvhAdapter: Adapter = {
  name: "bvh",
  title: "BVH",
  endings: [".bvh"],
  detect: (head) => /^\uFEFF?\s*(HIERARCHY|ROOT)\s/i.test(decoded(head)),
  readText: (text, _, options) => readBvh(text, options),
  write: (shot, { file }) => writeBvh(shot, file),
  cannotCarry: [
    "keys: poses are written frame by frame",
    "the unit of length (centimetres are written), the up axis (y) and the number of the first frame",
    "scales, but for even and steady ones, which become part of the offsets",
    "blanks and braces in names",
    "cameras, figures, parts, contacts, surfaces, props, shapes, sounds and waivers",
  ],
};
