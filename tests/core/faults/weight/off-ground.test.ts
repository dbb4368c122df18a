import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import {
  ankleHeight,
  type Foot,
  halfStance,
  jumpDocument,
  motionDocument,
  rolled,
  standing,
  walkDocument,
} from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { type DocumentOptions, eased, notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "off-ground");

/** A left foot that stands, is lifted, and comes down again at a height over the floor. */
const lifted =
  (height: number) =>
  (frame: number): Foot => {
    const up = eased(16, 22, 0, 0.15)(frame) - eased(24, 30, 0, 0.15 - height)(frame);
    return { at: [halfStance, ankleHeight + up, 0] };
  };

const stance = (left: (frame: number) => Foot, options: DocumentOptions = {}) =>
  motionDocument(
    { first: 1, last: 48, hips: () => [0, 0.88, 0], left, right: () => standing("right") },
    options,
  );

describe("off-ground", () => {
  test("feet on the ground are silent: standing, walking, jumping, on the ball", () => {
    expect(notes(stance(() => standing("left")))).toEqual([]);
    expect(notes(walkDocument())).toEqual([]);
    expect(notes(jumpDocument())).toEqual([]);
    expect(notes(stance((frame) => rolled("left", 0, eased(12, 24, 0, 40)(frame))))).toEqual([]);
    expect(notes(stance(lifted(0)))).toEqual([]);
  });

  test("finds a foot that comes to stand 3 cm over the floor", () => {
    const [note, ...others] = notes(stance(lifted(0.03)));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "foot_l", measured: { unit: "m" } });
    expect(note.measured.value).toBeCloseTo(0.03, 3);
    expect(note.message).toContain("stands 3 cm above the surface");
    expect(note.frames[0]).toBeGreaterThanOrEqual(28);
    expect(note.frames[1]).toBe(48);
    expect(note.keys.length).toBeGreaterThan(0);
  });

  test("does not blame the hips where the other foot stands right, and does where both hover", () => {
    const [note] = notes(stance(lifted(0.03)));
    expect(note.keys.some(({ channel }) => channel === "translation.y")).toBe(false);
    const hovering = stance(() => standing("left"), {});
    const curves = hovering.curves.filter(
      ({ node, channel }) => node !== "hips" || channel !== "translation.y",
    );
    // From frame 24 on the whole figure stands 4 cm higher, legs as they are.
    const raised = {
      ...hovering,
      curves: [
        ...curves,
        {
          node: "hips",
          channel: "translation.y" as const,
          keys: [
            [1, 0.88],
            [20, 0.88],
            [24, 0.92],
            [48, 0.92],
          ] as [number, number][],
        },
      ],
    };
    const found = notes(raised);
    expect(found.map(({ node }) => node).sort()).toEqual(["foot_l", "foot_r"]);
    for (const { keys } of found) expect(keys[0]).toMatchObject({ node: "hips", channel: "translation.y" });
  });

  test("finds a figure that hovers over a declared floor all through the shot", () => {
    const document = stance(() => standing("left"));
    const sunk = {
      ...document,
      surfaces: [{ id: "floor", normal: [0, 1, 0] as [number, number, number], height: -0.15 }],
    };
    const found = notes(sunk);
    expect(found.map(({ node }) => node).sort()).toEqual(["foot_l", "foot_r"]);
    for (const { keys } of found) expect(keys[0]).toMatchObject({ node: "hips", channel: "translation.y" });
  });

  test("a gap within the tolerance is not seen", () => {
    expect(notes(stance(lifted(0.015)))).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) {
      const [note] = notes(stance(lifted(0.03), { rate, unit }));
      expect(note.measured.value).toBeCloseTo(0.03, 3);
    }
  });

  test("captured feet stand on the ground", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["off-ground"] }));
    expect(notesOf(study)).toEqual([]);
  });

  test("barren documents are silent", () => expectQuietOnBarren("off-ground"));
});
