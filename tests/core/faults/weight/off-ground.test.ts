import { describe, expect, test } from "vitest";
import type { CurveDocument, CurveSpec } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { gliding, lifted, stance } from "../../../../packages/core/faults/weight/off-ground/motions.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { ankleHeight, halfStance, standing } from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { eased, notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "off-ground");
const still = () => standing("left");

describe("off-ground", () => {
  test("says how high a foot stands, and does not blame the hips where the other one stands right", () => {
    const [note] = notes(stance(lifted(0.03))());
    expect(note.message).toContain("stands 3 cm above the surface");
    expect(note.keys.length).toBeGreaterThan(0);
    expect(note.keys.some(({ channel }) => channel === "translation.y")).toBe(false);
  });

  test("is minor where step keys have both feet up alike in poses that go on, and no floor is declared", () => {
    const [declared] = notes(gliding({})());
    expect(declared.tier).toBe("major");
    const [note] = notes(gliding({ more: { surfaces: [] } })());
    expect(note.tier).toBe("minor");
  });

  test("blames the hips where both feet hover", () => {
    // From frame 24 on the whole figure stands 4 cm higher, legs as they are.
    const keys: CurveSpec["keys"] = [
      [1, 0.88],
      [20, 0.88],
      [24, 0.92],
      [48, 0.92],
    ];
    expectHoveringHips(stance(still, {}, { "hips translation.y": keys })());
  });

  test("finds a figure that hovers over a declared floor all through the shot", () => {
    const floor = { id: "floor", normal: [0, 1, 0] as [number, number, number], height: -0.15 };
    expectHoveringHips(stance(still, { more: { surfaces: [floor] } })());
  });

  function expectHoveringHips(document: CurveDocument): void {
    const found = notes(document);
    expect(found.map(({ node }) => node).sort()).toEqual(["foot_l", "foot_r"]);
    for (const { keys } of found) expect(keys[0]).toMatchObject({ node: "hips", channel: "translation.y" });
  }

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) {
      const [note] = notes(stance(lifted(0.03), { rate, unit })());
      expect(note.measured.value).toBeCloseTo(0.03, 3);
    }
  });

  test("marks the frames in which the foot stands there, without a small step after them", () => {
    // Up 1.5 cm to frame 36; then a step onto the floor, whose top is at frame 41, and not as high as a swing.
    const step = stance((frame) => {
      const up = eased(38, 46, 0.015, 0)(frame) + 0.026 * Math.sin(Math.PI * eased(36, 46, 0, 1)(frame)) ** 2;
      return { at: [halfStance, ankleHeight + up, 0] };
    });
    const [note] = notes(step());
    expect(note.frames[0]).toBe(1);
    expect(note.frames[1]).toBeLessThan(41);
  });

  test("captured feet stand on the ground", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["off-ground"] }));
    expect(notesOf(study)).toEqual([]);
  });
});
