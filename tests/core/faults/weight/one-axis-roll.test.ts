import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { type Foot, motionDocument, rolled, standing, walkDocument } from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { type DocumentOptions, eased, notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "one-axis-roll");

/**
 * A lunge to the left: the right foot rolls over its ball from frame 12 to 26, turning outward by so many degrees, and
 * leaves the ground.
 * @param tremble degrees that the sole is tilted beside its roll
 */
function lunge(
  width: number,
  outward: number,
  options: DocumentOptions = {},
  tremble = (_frame: number) => 0,
): CurveDocument {
  const rise = eased(12, 26, 0, 40);
  const pitch = (frame: number) => rise(frame) + tremble(frame);
  const lift = eased(28, 36, 0, 0.2);
  const right = (frame: number): Foot => {
    const foot = rolled("right", 0, pitch(frame));
    return {
      ...foot,
      at: [-width / 2, foot.at[1] + lift(frame), foot.at[2]],
      yaw: (outward * pitch(frame)) / 40,
    };
  };
  const over = eased(10, 28, 0, 0.15);
  return motionDocument(
    {
      first: 1,
      last: 48,
      hips: (frame) => [over(frame), 0.82, 0],
      left: () => standing("left", 0, width / 2),
      right,
    },
    options,
  );
}

describe("one-axis-roll", () => {
  test("finds a hinge-like roll in a wide stance", () => {
    const [note, ...others] = notes(lunge(0.5, 0));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "foot_r", measured: { unit: "share" } });
    expect(note.measured.value).toBeLessThan(0.01);
    expect(note.message).toContain("rolls by");
    expect(note.message).toContain("50 cm wide");
    expect(note.keys[0].node).toBe("foot_r");
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

  test("a foot that turns outward as it rolls is silent", () => {
    expect(notes(lunge(0.5, 12))).toEqual([]);
  });

  test("a narrow stance is silent", () => {
    expect(notes(lunge(0.2, 0))).toEqual([]);
    expect(notes(walkDocument())).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) expect(notes(lunge(0.5, 0, { rate, unit }))).toHaveLength(1);
  });

  test("captured feet do not roll like hinges", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["one-axis-roll"] }));
    expect(notesOf(study)).toEqual([]);
  });

  test("barren documents are silent", () => expectQuietOnBarren("one-axis-roll"));
});
