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
  standing,
  walkDocument,
} from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { type DocumentOptions, eased, notesOfCheck, type Vector } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "off-balance");

const stance = (
  hips: (frame: number) => Vector,
  options: DocumentOptions = {},
  left: (frame: number) => Foot = () => standing("left"),
) => motionDocument({ first: 1, last: 60, hips, left, right: () => standing("right") }, options);

/** Hips that go forward by so many metres between frames 10 and 34, and stay there. */
const leaning =
  (way: number) =>
  (frame: number): Vector => [0, 0.86, eased(10, 34, 0, way)(frame)];

describe("off-balance", () => {
  test("standing, swaying, walking and jumping are silent", () => {
    expect(notes(stance(() => [0, 0.9, 0]))).toEqual([]);
    expect(notes(stance((frame) => [0.05 * Math.sin(frame / 8), 0.9, 0.04 * Math.sin(frame / 7)]))).toEqual(
      [],
    );
    expect(notes(walkDocument())).toEqual([]);
    expect(notes(walkDocument({ stepFrames: 9, stepLength: 0.6 }))).toEqual([]);
    expect(notes(jumpDocument({ forward: 1 }))).toEqual([]);
  });

  test("a lean within the feet is silent", () => {
    // The toes end 0.21 m in front of the ankles.
    expect(notes(stance(leaning(0.2)))).toEqual([]);
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

  test("a step that comes in time is no fault", () => {
    // From frame 36 on the left foot is on its way, and lands under the body at frame 40.
    const left = (frame: number): Foot => {
      const t = Math.min(1, Math.max(0, (frame - 26) / 10));
      return { at: [halfStance, ankleHeight + 0.1 * Math.sin(Math.PI * t) ** 2, 0.5 * t * t * (3 - 2 * t)] };
    };
    expect(notes(stance(leaning(0.34), {}, left))).toEqual([]);
  });

  test("a declared contact of a hand holds", () => {
    const document = stance(leaning(0.36));
    const contacts = [{ node: "hand_l", with: "rail", frames: [1, 60] as [number, number] }];
    // The hand reaches over to where the body leans: it stands in front of it.
    const reaching = {
      ...document,
      curves: [
        ...document.curves,
        {
          node: "upper_arm_l",
          channel: "rotation.y" as const,
          keys: [
            [1, -80],
            [60, -80],
          ] as [number, number][],
        },
      ],
    };
    expect(notes({ ...reaching, contacts })).toEqual([]);
  });

  test("a body that sits may have a seat", () => {
    const sitting = motionDocument({
      first: 1,
      last: 60,
      hips: () => [0, 0.5, -0.4],
      left: () => standing("left"),
      right: () => standing("right"),
    });
    expect(notes(sitting)).toEqual([]);
  });

  describe("of a body that stops on its feet", () => {
    const stopping = (friction: number, time = 0.5) => {
      // From full speed at frame 30 to nothing, by default at frame 42; the feet slide along, standing on the ground.
      const start = 30;
      const speed = friction * 9.80665 * time;
      const path = (frame: number) => {
        const t = Math.min(time, Math.max(0, (frame - start) / 24));
        return speed * (Math.min(frame, start) / 24 + t - (t * t) / (2 * time));
      };
      const document = motionDocument({
        first: 1,
        last: 60,
        hips: (frame) => [0, 0.86, path(frame)],
        left: (frame) => standing("left", path(frame)),
        right: (frame) => standing("right", path(frame)),
      });
      const contacts = ["foot_l", "toes_l", "foot_r", "toes_r"].map((node) => ({
        node,
        with: "floor",
        slides: true,
        frames: [1, 60] as [number, number],
      }));
      return notes({ ...document, contacts }).filter(({ message }) =>
        message.includes("harder than its soles can grip"),
      );
    };

    // Luo & Stefanyshyn 2011: more traction than 0.82 is of no use to sprinters.
    test.each([0.85, 0.95, 1.5])("finds a friction of %s, which nobody makes use of", (friction) => {
      const [note, ...others] = stopping(friction);
      expect(others).toEqual([]);
      expect(note.measured).toMatchObject({ quantity: "required friction", unit: "ratio" });
      expect(note.measured.value).toBeCloseTo(friction, 2);
      expect(note.expected).toMatchObject({ max: 0.82 });
    });

    test("finds a stop from 3 m/s within four frames, 18 m/s²", () => {
      expect(stopping(18 / 9.80665, 4 / 24)).toHaveLength(1);
    });

    // Fino & Lockhart 2014: fast turns while walking use 0.54. A sprint in a bend of 6 m at 6 m/s uses 0.61, by v² / (r g).
    test.each([0.2, 0.54, 0.61, 0.8])("leaves a friction of %s be", (friction) => {
      expect(stopping(friction)).toEqual([]);
    });
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) expect(notes(stance(leaning(0.36), { rate, unit }))).toHaveLength(1);
  });

  test("a captured jump keeps its balance", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["off-balance"] }));
    expect(notesOf(study)).toEqual([]);
  });

  test("barren documents are silent", () => expectQuietOnBarren("off-balance"));
});
