import { expect, test } from "vitest";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { pathDocument } from "../../../packages/core/faults/shared/examples/motions.ts";
import { notesOfCheck } from "../../support/shots.ts";

/** A thing that goes evenly, but for a frame at which it is off by 30 cm; seen in some frames, or in all. */
function twitching(visible?: [number, number][]): CurveDocument {
  const document = pathDocument(1, 60, (frame) => [0.02 * frame, frame === 40 ? 0.3 : 0, 0]);
  return visible === undefined
    ? document
    : { ...document, nodes: document.nodes.map((node) => ({ ...node, visible })) };
}

test("what a thing does while it is hidden is no fault", () => {
  expect(notesOfCheck(twitching(), "pop")).toHaveLength(1);
  expect(notesOfCheck(twitching([[1, 30]]), "pop")).toEqual([]);
  expect(notesOfCheck(twitching([[1, 40]]), "pop")).toHaveLength(1);
});

test("what is hidden all through is judged as if it were seen", () => {
  expect(notesOfCheck(twitching([]), "pop")).toHaveLength(1);
});
