import { expect } from "vitest";
import type { CurveDocument } from "../../packages/core/document/schema.ts";
import type { Config } from "../../packages/core/settings/config.ts";
import { bipedDocument, bipedNodes, documentOf, notesOfCheck, pathDocument, pointDocument } from "./shots.ts";

/** Documents with next to nothing in them, on which no check may find anything, and none may fail. */
export const barren: Readonly<Record<string, CurveDocument>> = {
  "no curves": documentOf(bipedNodes, {}, { range: [1, 24] }),
  "a curve without keys": pointDocument({ "translation.x": [] }, { range: [1, 24] }),
  "one frame": pathDocument(1, 1, () => [0, 0, 0]),
  "two frames": pathDocument(1, 2, (frame) => [frame, 0, 0]),
  "three frames": pathDocument(1, 3, (frame) => [frame * frame, frame, -2 * frame]),
  "constant curves": bipedDocument(
    {
      "hips translation.y": [
        [1, 0.95],
        [48, 0.95],
      ],
      "upper_arm_l rotation.z": [
        [1, -60],
        [48, -60],
      ],
    },
    { range: [1, 48] },
  ),
  "no figure": documentOf(
    [{ id: "box" }],
    {
      "box translation.x": [
        [1, 0],
        [48, 0],
      ],
    },
    { range: [1, 48] },
  ),
};

/** Expects that a check has nothing to say of {@link barren} documents. */
export function expectQuietOnBarren(name: string, config: Config = {}): void {
  for (const [what, document] of Object.entries(barren)) {
    expect(notesOfCheck(document, name, config), what).toEqual([]);
  }
}
