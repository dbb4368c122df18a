import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { overreaching, risen } from "../../../../packages/core/faults/weight/leg-snap/examples.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { capturedJump } from "../../../support/capture.ts";
import { notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "leg-snap");

describe("leg-snap", () => {
  test("finds both knees that snap as the hips rise beyond the legs", () => {
    const found = notes(risen(overreaching));
    expect(found.map(({ node }) => node).sort()).toEqual(["shin_l", "shin_r"]);
    // The legs are at full length where the hips reach 0.95 m: between frames 19 and 20.
    for (const note of found) {
      expect(note.frames[0]).toBeGreaterThanOrEqual(19);
      expect(note.frames[0]).toBeLessThanOrEqual(21);
      expect(note.message).toMatch(/knee snaps by \d+°/);
      expect(note.measured.value).toBeGreaterThan(8);
      expect(note.keys.length).toBeGreaterThan(0);
    }
  });

  test.each([24, 25, "24000/1001"])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) expect(notes(risen(overreaching, { rate, unit }))).toHaveLength(2);
  });

  test("finds it at 60 frames per second", () => {
    const slower = (frame: number) => overreaching(1 + (frame - 1) / 2.5);
    const document = risen(slower, { rate: 60 }, { last: 119 });
    expect(notes(document)).toHaveLength(2);
  });

  test("captured knees do not snap", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["leg-snap"] }));
    expect(notesOf(study).filter(({ tier }) => tier === "major")).toEqual([]);
  });
});
