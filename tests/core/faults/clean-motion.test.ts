import { describe, expect, test } from "vitest";
import { registry } from "../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf as studyOfShot } from "../../../packages/core/settings/study.ts";
import { jumpDocument, walkDocument } from "../../support/bodies.ts";
import { capturedJump } from "../../support/capture.ts";
import { studyOf } from "../../support/shots.ts";

/** The checks of spacing and of paths, on motion in which there is nothing to be found. */
const only = registry
  .filter(({ family }) => family === "spacing" || family === "paths")
  .map(({ name }) => name);

describe("checks of spacing and paths on clean motion", () => {
  test("there are eighteen of them", () => {
    expect(only).toHaveLength(18);
  });

  test.each([24, 25, "24000/1001"])("a walk at %s frames per second has no notes", (rate) => {
    expect(notesOf(studyOf(walkDocument({ rate }), {}, { only }))).toEqual([]);
  });

  test.each([24, 25, 60])("a jump at %s frames per second has no notes", (rate) => {
    // It ends before the stance behind it gets to be a freeze.
    const range: [number, number] = [1, Math.floor(2.9 * rate)];
    expect(notesOf(studyOf(jumpDocument({ rate, range }), {}, { only }))).toEqual([]);
  });

  test("captured motion has no major notes, and few others", () => {
    const notes = notesOf(studyOfShot(capturedJump(), resolveSettings(registry, {}, { only })));
    expect(notes.filter(({ tier }) => tier === "major")).toEqual([]);
    expect(notes.length).toBeLessThanOrEqual(3);
  });
});
