import { type Adapter, decoded } from "../adapter.ts";
import { isBinaryGltf, jsonOf } from "./bytes.ts";
import { buffersBeside } from "./needs.ts";
import { animationsIn, readGltf } from "./read.ts";

/** glTF 2.0, as JSON (.gltf) and as one file of bytes (.glb). */
export const gltfAdapter: Adapter = {
  name: "gltf",
  title: "glTF 2.0",
  endings: [".gltf", ".glb"],
  isBinary: true,
  detect: (head) =>
    isBinaryGltf(head) || /^\s*\{[\s\S]*"(asset|scenes|nodes|accessors|buffers)"\s*:/.test(decoded(head)),
  needs: (bytes) => buffersBeside(bytes),
  animations: (bytes) => animationsIn(jsonOf(bytes)),
  read: (bytes, resolve, options) => readGltf(bytes, { ...options, resolve }),
  readText: (text, resolve, options) => readGltf(text, { ...options, resolve }),
  async write(shot, options) {
    // What writes it is a library that reading does without.
    const { writeGltf } = await import("./write.ts");
    return writeGltf(shot, options);
  },
  cannotCarry: [
    "eased curves: bezier and smooth keys are written frame by frame",
    "angles: rotations become quaternions, and turns of more than half a circle between two frames are lost",
    "figures, parts, contacts, surfaces, props, shapes, sounds and waivers",
    "zooms of cameras",
  ],
};
