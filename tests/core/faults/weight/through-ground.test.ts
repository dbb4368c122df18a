import { describe, expect, test } from "vitest";
import type { CurveDocument, CurveSpec } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { pressed, stance } from "../../../../packages/core/faults/weight/through-ground/examples.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { standing } from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "through-ground");
const still = () => standing("left");

describe("through-ground", () => {
  test("says how deep a foot goes, and where", () => {
    const [note] = notes(stance(pressed(0.04))());
    expect(note.message).toContain("goes 4 cm through the ground");
  });

  test("names the key that presses the body down, at both feet", () => {
    const keys: CurveSpec["keys"] = [
      [1, 0.86],
      [18, 0.86],
      [22, 0.81],
      [26, 0.86],
      [48, 0.86],
    ];
    const found = notes(stance(still, {}, { "hips translation.y": keys })());
    expect(found.map(({ node }) => node).sort()).toEqual(["foot_l", "foot_r"]);
    for (const note of found) {
      expect(note.keys[0]).toMatchObject({ node: "hips", channel: "translation.y", frame: 22 });
    }
  });

  test("a figure that is sunk into a declared floor all through the shot is found", () => {
    const floor = { id: "floor", normal: [0, 1, 0] as [number, number, number], height: 0.12 };
    const found = notes(stance(still, { more: { surfaces: [floor] } })());
    expect(found.map(({ node }) => node).sort()).toEqual(["foot_l", "foot_r"]);
    for (const { keys } of found) expect(keys[0]).toMatchObject({ node: "hips", channel: "translation.y" });
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) {
      const [note] = notes(stance(pressed(0.04), { rate, unit })());
      expect(note.measured.value).toBeCloseTo(0.04, 3);
    }
  });

  test("captured feet stay out of the ground", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["through-ground"] }));
    expect(notesOf(study)).toEqual([]);
  });
});
