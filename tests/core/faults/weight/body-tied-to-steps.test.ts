import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { walkDocument } from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "body-tied-to-steps");

describe("body-tied-to-steps", () => {
  test("says how much later hips should come that rise and fall in time with the feet", () => {
    const [note] = notes(walkDocument({ delay: 0 }));
    expect(note.tier).not.toBe("major");
    // A wave of its own is not quite the feet's.
    expect(Math.abs(note.measured.value)).toBeLessThan(0.5);
    expect(note.message).toContain("hips rise and fall with the feet at once");
    expect(note.suggestion).toContain("1.5 frames after the feet");
  });

  test.each([1.2, 1.5, 2.5])("hips that come %d frames after the feet are silent", (delay) => {
    expect(notes(walkDocument({ delay }))).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) expect(notes(walkDocument({ delay: 0, rate, unit }))).toHaveLength(1);
  });

  test("a captured jump is no walk", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["body-tied-to-steps"] }));
    expect(notesOf(study)).toEqual([]);
  });
});
