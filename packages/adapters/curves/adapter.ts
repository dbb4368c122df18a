import { readShot, writeDocument } from "@keyside/core";
import { type Adapter, decoded } from "../adapter.ts";

/** Curve documents, Keyside's own format, which carries all of a shot. */
export const curvesAdapter: Adapter = {
  name: "curves",
  title: "Curve document",
  endings: [".curves.json"],
  detect: (head) => /^\uFEFF?\s*\{[\s\S]*"keyside\.curves"/.test(decoded(head)),
  readText: (text) => readShot(text),
  write: (shot, { file }) => ({ files: [{ name: file, content: writeDocument(shot) }], lost: [] }),
  cannotCarry: [],
};
