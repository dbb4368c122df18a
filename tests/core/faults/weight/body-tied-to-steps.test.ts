import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { jumpDocument, walkDocument } from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "body-tied-to-steps");

describe("body-tied-to-steps", () => {
  test("finds hips that rise and fall with the feet", () => {
    const [note, ...others] = notes(walkDocument({ delay: 0 }));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "hips", measured: { unit: "frames" } });
    expect(note.tier).not.toBe("major");
    expect(Math.abs(note.measured.value)).toBeLessThan(0.5);
    expect(note.message).toContain("hips rise and fall with the feet at once");
    expect(note.suggestion).toContain("1.5 frames after the feet");
    expect(note.keys[0]).toMatchObject({ node: "hips", channel: "translation.y" });
  });

  test.each([1.2, 1.5, 2.5])("hips that come %d frames after the feet are silent", (delay) => {
    expect(notes(walkDocument({ delay }))).toEqual([]);
  });

  test("fewer than four steps, a glide of the hips, and jumps are silent", () => {
    expect(notes(walkDocument({ delay: 0, steps: 2 }))).toEqual([]);
    const level = walkDocument(
      { delay: 0 },
      {
        "hips translation.y": [
          [1, 0.9],
          [73, 0.9],
        ],
      },
    );
    expect(notes(level)).toEqual([]);
    expect(notes(jumpDocument())).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) expect(notes(walkDocument({ delay: 0, rate, unit }))).toHaveLength(1);
  });

  test("a captured jump is no walk", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["body-tied-to-steps"] }));
    expect(notesOf(study)).toEqual([]);
  });

  test("barren documents are silent", () => expectQuietOnBarren("body-tied-to-steps"));
});
