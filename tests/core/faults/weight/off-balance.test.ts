import { describe, expect, test } from "vitest";
import { shotOf } from "../../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { offBalanceExamples } from "../../../../packages/core/faults/weight/off-balance/examples.ts";
import { leaning, stance } from "../../../../packages/core/faults/weight/off-balance/motions.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { ankleHeight, motionDocument, standing } from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { eased, notesOfCheck, type Vector } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "off-balance");

describe("off-balance", () => {
  test("is no major note of a body without legs: what it weighs where is not known", () => {
    const post = offBalanceExamples.faulty.find(({ title }) => title.startsWith("a body on one foot"));
    const document = post?.motion() as CurveDocument;
    // It leans by 30° instead of 12°, so that it is held farther out than any sole is long.
    const curves = document.curves.map((curve) => ({
      ...curve,
      keys: curve.keys.map(([frame, value]) => [frame, 2.5 * (value as number)] as [number, number]),
    }));
    const figures = [{ id: "crane", stature: 1.2, parts: { root: "foot" } }];
    const [note] = notes({ ...document, curves, figures });
    expect(note).toMatchObject({ node: "foot", tier: "minor" });
    expect(note.measured.value).toBeGreaterThan(0.25);
  });

  test("finds a body that is held in front of its toes, and the key that holds it there", () => {
    const document = stance(() => [0, 0.86, 0]);
    const curves = document.curves.filter(
      ({ node, channel }) => node !== "hips" || channel !== "translation.z",
    );
    const held = stance(leaning(0.36));
    const legs = held.curves.filter(({ node }) => node !== "hips");
    const keys: [number, number][] = [
      [1, 0],
      [10, 0],
      [34, 0.36],
      [60, 0.36],
      [61, 0],
    ];
    const own = curves.filter(({ node }) => node === "hips");
    const [note, ...others] = notes({
      ...held,
      curves: [...legs, ...own, { node: "hips", channel: "translation.z", keys }],
    });
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "hips", measured: { unit: "m" } });
    expect(note.frames[0]).toBeGreaterThanOrEqual(24);
    expect(note.frames[1]).toBe(60);
    expect(note.message).toContain("outside its feet");
    expect(note.keys[0]).toMatchObject({ node: "hips", channel: "translation.z" });
  });

  describe("marks the whole lean", () => {
    const sideways = (way: number, sway = 0) => {
      const [out, back] = [eased(10, 26, 0, way), eased(50, 66, 0, way)];
      const hips = (frame: number): Vector => {
        const in_ = sway * (eased(32, 37, 0, 1)(frame) - eased(39, 44, 0, 1)(frame));
        return [out(frame) - back(frame) - in_, 0.8, 0];
      };
      return motionDocument({
        first: 1,
        last: 75,
        hips,
        left: () => standing("left"),
        right: () => standing("right"),
      });
    };

    test("and tells how far out it is held, not how far it is thrown on the way there and back", () => {
      const feet = { left: () => standing("left"), right: () => standing("right") };
      const [held] = notes(motionDocument({ first: 1, last: 75, hips: () => [0.45, 0.8, 0], ...feet }));
      const [leans] = notes(sideways(0.45));
      expect(leans.measured.value).toBeCloseTo(held.measured.value, 3);
    });

    test("out and back alike: a course that is the same backwards is marked as long before its middle as after", () => {
      const [note, ...others] = notes(sideways(0.34));
      expect(others).toEqual([]);
      // The middle is frame 38. A body that falls outwards is no fault before it slows: half way out, frame 18.
      expect(note.frames[0] + note.frames[1]).toBe(2 * 38);
      expect(note.frames[0]).toBeGreaterThanOrEqual(18);
      expect(note.frames[0]).toBeLessThanOrEqual(21);
    });

    test("as one, though for some frames the body sways back to where the points that are judged are hardly outside", () => {
      const found = notes(sideways(0.34, 0.05));
      expect(found).toHaveLength(1);
      expect(found[0].frames[0] + found[0].frames[1]).toBe(2 * 38);
    });
  });

  test("finds a body that sways where its feet cannot hold it, though its motion takes it back again and again", () => {
    // The soles end 0.19 m ahead of the ankles. The mass sways by 3 cm about a point farther ahead, in 17 frames: on its
    // way back the extrapolated centre of mass is over the soles, which nothing but the ground before them could cause.
    const sway = (frame: number): Vector => [0, 0.86, 0.28 + 0.03 * Math.sin((2 * Math.PI * frame) / 17)];
    const [note, ...others] = notes(stance(sway));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "hips" });
    // The same sway over the middle of the soles.
    expect(notes(stance((frame) => [0, 0.86, sway(frame)[2] - 0.25]))).toEqual([]);
  });

  test("finds a body that is held to the side of one foot", () => {
    // The right foot is in the air; the hips stay between the feet, 0.3 m beside the left one.
    const document = motionDocument({
      first: 1,
      last: 60,
      hips: () => [0, 0.86, 0],
      left: () => standing("left", 0, 0.3),
      right: () => ({ at: [-0.15, ankleHeight + 0.2, 0] }),
    });
    const [note] = notes(document);
    expect(note.node).toBe("hips");
    expect(note.measured.value).toBeGreaterThan(0.15);
    expect(note.suggestion).toContain("left foot");
  });

  test("tells of a lean beside a foot that hovers, and of the hover as well", () => {
    const document = motionDocument({
      first: 1,
      last: 60,
      hips: (frame) => [eased(10, 26, 0, 0.4)(frame), 0.8, 0],
      left: () => standing("left"),
      right: () => ({ at: [-0.1, ankleHeight + 0.05, 0] }),
    });
    const { shot } = shotOf(document);
    const found = shot === null ? [] : notesOf(studyOf(shot, resolveSettings(registry)));
    const checks = found.flatMap(({ check, also = [] }) => [check, ...also.map((other) => other.check)]);
    expect(checks).toContain("off-ground");
    expect(checks).toContain("off-balance");
  });

  test("says of a stop that no sole can grip that it is one", () => {
    const stop = offBalanceExamples.faulty[1].motion();
    expect(notes(stop)[0].message).toContain("harder than its soles can grip");
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) expect(notes(stance(leaning(0.36), { rate, unit }))).toHaveLength(1);
  });

  test("a captured jump keeps its balance", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["off-balance"] }));
    expect(notesOf(study)).toEqual([]);
  });
});
