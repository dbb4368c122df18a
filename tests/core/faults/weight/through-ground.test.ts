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

const notes = (document: CurveDocument) => notesOfCheck(document, "through-ground");

/** A left foot that is pressed into the floor and comes up again. */
const pressed =
  (depth: number) =>
  (frame: number): Foot => {
    const down = eased(14, 20, 0, depth)(frame) - eased(24, 30, 0, depth)(frame);
    return { at: [halfStance, ankleHeight - down, 0] };
  };

const stance = (left: (frame: number) => Foot, options: DocumentOptions = {}) =>
  motionDocument(
    { first: 1, last: 48, hips: () => [0, 0.86, 0], left, right: () => standing("right") },
    options,
  );

describe("through-ground", () => {
  test("feet on the ground are silent", () => {
    expect(notes(stance(() => standing("left")))).toEqual([]);
    expect(notes(walkDocument())).toEqual([]);
    expect(notes(jumpDocument())).toEqual([]);
    expect(notes(stance((frame) => rolled("left", 0, eased(12, 24, 0, 40)(frame))))).toEqual([]);
  });

  test("finds a foot that goes 4 cm into the floor, where it is deepest", () => {
    const [note, ...others] = notes(stance(pressed(0.04)));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "foot_l", measured: { unit: "m" } });
    expect(note.measured.value).toBeCloseTo(0.04, 3);
    expect(note.message).toContain("goes 4 cm through the ground");
    // 1.25 % of 1.7 m are 2.1 cm: 53 % of the way, which minimum-jerk moves of six frames pass half way, at 17.1 and 26.9.
    expect(note.frames).toEqual([18, 26]);
    // The leg is keyed on every frame: no key of it presses the foot down alone.
    expect(["thigh_l", "shin_l", "foot_l"]).toContain(note.keys[0].node);
  });

  test("names the key that presses the body down", () => {
    const document = stance(() => standing("left"));
    const curves = document.curves.filter(
      ({ node, channel }) => node !== "hips" || channel !== "translation.y",
    );
    const keys: [number, number][] = [
      [1, 0.86],
      [18, 0.86],
      [22, 0.81],
      [26, 0.86],
      [48, 0.86],
    ];
    const found = notes({
      ...document,
      curves: [...curves, { node: "hips", channel: "translation.y", keys }],
    });
    expect(found.map(({ node }) => node).sort()).toEqual(["foot_l", "foot_r"]);
    for (const note of found) {
      expect(note.keys[0]).toMatchObject({ node: "hips", channel: "translation.y", frame: 22 });
    }
  });

  test("finds toes that point into the floor, and the key that points them", () => {
    const document = stance(() => standing("left"));
    const curves = document.curves.filter(({ node }) => node !== "toes_r");
    const keys: [number, number][] = [
      [1, 0],
      [16, 0],
      [20, 60],
      [24, 0],
      [48, 0],
    ];
    const found = notes({
      ...document,
      curves: [...curves, { node: "toes_r", channel: "rotation.x", keys }],
    });
    expect(found).toHaveLength(1);
    expect(found[0].node).toBe("foot_r");
    expect(found[0].keys[0]).toMatchObject({ node: "toes_r", channel: "rotation.x", frame: 20 });
  });

  test("a single frame, and a depth within the tolerance, are not seen", () => {
    expect(notes(stance(pressed(0.018)))).toEqual([]);
    const once = (frame: number): Foot => ({ at: [halfStance, ankleHeight - (frame === 20 ? 0.05 : 0), 0] });
    expect(notes(stance(once))).toEqual([]);
  });

  test("a figure that is sunk into a declared floor all through the shot is found", () => {
    const document = stance(() => standing("left"));
    const surfaces = [{ id: "floor", normal: [0, 1, 0] as [number, number, number], height: 0.12 }];
    const found = notes({ ...document, surfaces });
    expect(found.map(({ node }) => node).sort()).toEqual(["foot_l", "foot_r"]);
    for (const { keys } of found) expect(keys[0]).toMatchObject({ node: "hips", channel: "translation.y" });
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) {
      const [note] = notes(stance(pressed(0.04), { rate, unit }));
      expect(note.measured.value).toBeCloseTo(0.04, 3);
    }
  });

  test("captured feet stay out of the ground", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["through-ground"] }));
    expect(notesOf(study)).toEqual([]);
  });

  test("barren documents are silent", () => expectQuietOnBarren("through-ground"));
});
