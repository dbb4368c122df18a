import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { lunge } from "../../../../packages/core/faults/weight/one-axis-roll/examples.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { capturedJump } from "../../../support/capture.ts";
import { notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "one-axis-roll");

describe("one-axis-roll", () => {
  test("says by how much the foot rolls, and how wide the stance is", () => {
    const [note] = notes(lunge(0.5, 0));
    expect(note.message).toContain("rolls by");
    expect(note.message).toContain("50 cm wide");
  });

  test("the roll begins where the heel rises, however the sole trembles before", () => {
    // Up from frame 12 to 26; the trembling of a tenth of a degree is far under what is seen.
    const [note] = notes(lunge(0.5, 0, {}, (frame) => 0.1 + 0.1 * Math.sin(3 * frame)));
    expect(note.frames[0]).toBeGreaterThanOrEqual(12);
    expect(note.frames[0]).toBeLessThanOrEqual(15);
    expect(note.frames[1]).toBeGreaterThanOrEqual(25);
    expect(note.frames[1]).toBeLessThanOrEqual(30);
    expect(note.keys[0].frame).toBeGreaterThanOrEqual(12);
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) expect(notes(lunge(0.5, 0, { rate, unit }))).toHaveLength(1);
  });

  test("captured feet do not roll like hinges", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["one-axis-roll"] }));
    expect(notesOf(study)).toEqual([]);
  });
});
