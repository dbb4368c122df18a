import { expect, test } from "vitest";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { farReachOf, reachOf } from "../../../packages/core/rig/reach.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { statureOf } from "../../../packages/core/rig/stature.ts";
import { bipedDocument, everyFrame, studyOf } from "../../support/shots.ts";

/** How far what a joint turns reaches from it. */

/** A person whose rig ends with the joint of the head, as most do. */
function withoutTip(document: CurveDocument): CurveDocument {
  return { ...document, nodes: document.nodes.filter(({ id }) => id !== "head_end") };
}
const turned = (degrees: number) =>
  withoutTip(
    bipedDocument({ "head rotation.y": everyFrame(1, 48, (frame) => (frame === 26 ? degrees : 0)) }),
  );

test("a head reaches over its joint by its published length, where no bone tells how far", () => {
  const study = studyOf(turned(0));
  const head = rigOf(study).indexOf.get("head") as number;
  // Chin to top of the head, 0.130 body heights: Drillis and Contini 1966 (from memory).
  const length = 0.13 * statureOf(study, 0);
  expect(reachOf(study, head)).toBeCloseTo(length, 12);
  expect(farReachOf(study, head)).toBeCloseTo(length, 12);
  const neck = rigOf(study).parent[head];
  expect(farReachOf(study, neck)).toBeCloseTo(0.08 + length, 12);
});

test("a bone of the head that is as long as a head may be counts as it is", () => {
  const study = studyOf(bipedDocument({}));
  expect(reachOf(study, rigOf(study).indexOf.get("head") as number)).toBeCloseTo(0.17, 12);
});

test("a face that leaves its place pops, though the head turns by less than the floor of angles", () => {
  // 2.5° of a face at 0.13 body heights from its joint are 0.0057 of them; 1° are 0.0023, under the floor of 0.003.
  expect(notesOf(studyOf(turned(2.5)))).toContainEqual(
    expect.objectContaining({ check: "pop", node: "head", frames: [26, 26] }),
  );
  expect(notesOf(studyOf(turned(1))).filter(({ check }) => check === "pop")).toEqual([]);
});
