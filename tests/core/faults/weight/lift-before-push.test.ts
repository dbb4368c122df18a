import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import {
  lateJump,
  swoop,
  tucked,
} from "../../../../packages/core/faults/weight/lift-before-push/examples.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { capturedJump } from "../../../support/capture.ts";
import { guessedBody, notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "lift-before-push");

describe("lift-before-push", () => {
  test("says what the body gains with its feet in the air", () => {
    const [note] = notes(lateJump(4));
    const [first, last] = note.frames;
    const length = last - first + 1;
    expect(note.message).toContain(
      `after its feet have left the ground, frames ${first} to ${last} (${length} frames)`,
    );
    expect(note.suggestion).toContain(`the legs ${length} frames sooner`);
  });

  test("of a body whose parts are a guess it is polish: it may have wings", () => {
    const document = lateJump(4);
    expect(notes(document)[0].tier).not.toBe("polish");
    const [note] = notes(guessedBody(document));
    expect(note.tier).toBe("polish");
  });

  test("wings that lead the body are silent, by whatever they lead", () => {
    for (const lead of [0, 2, 3, 5]) expect(notes(swoop(28, 28 - lead)), `${lead} frames`).toEqual([]);
  });

  test.each([3, 5])("says how much sooner wings start that come %i frames after the body", (early) => {
    const [note] = notes(swoop(28, 28 + early));
    expect(note.suggestion).toContain(`start the wings ${early + 3} frames sooner`);
    expect(Math.abs(note.keys[0].frame - (28 + early))).toBeLessThanOrEqual(1);
  });

  test.each([24, 25, "24000/1001"])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) {
      expect(notes(lateJump(4, { ...tucked, rate, unit }))).toHaveLength(1);
      expect(notes(swoop(28, 33, { rate, unit }))).toHaveLength(1);
    }
  });

  test("a captured jump pushes first", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["lift-before-push"] }));
    expect(notesOf(study)).toEqual([]);
  });
});
