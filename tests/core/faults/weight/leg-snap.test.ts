import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { jumpDocument, motionDocument, standing, walkDocument } from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { type DocumentOptions, eased, notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "leg-snap");

/** Someone who stands up to a height of the hips: the legs are straight at 0.95 m. */
const risen = (height: (frame: number) => number, options: DocumentOptions = {}) =>
  motionDocument(
    {
      first: 1,
      last: 48,
      hips: (frame) => [0, height(frame), 0],
      left: () => standing("left"),
      right: () => standing("right"),
    },
    options,
  );

/** Hips that go on rising evenly after the legs are straight. */
const overreaching = (frame: number) => 0.85 + 0.0127 * Math.max(0, Math.min(frame - 12, 12));

describe("leg-snap", () => {
  test("legs that keep a bend, or ease into their length, are silent", () => {
    expect(notes(risen(eased(10, 30, 0.8, 0.93)))).toEqual([]);
    expect(notes(walkDocument())).toEqual([]);
    expect(notes(jumpDocument())).toEqual([]);
  });

  test("legs that are straight and stay straight are silent", () => {
    expect(notes(risen(() => 0.96))).toEqual([]);
  });

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

  test("names the key of the leg that straightens it in one frame", () => {
    const bent = risen(() => 0.9);
    const shin = bent.curves.find(({ node, channel }) => node === "shin_l" && channel === "rotation.x");
    const thigh = bent.curves.find(({ node, channel }) => node === "thigh_l" && channel === "rotation.x");
    const flat = (curve: typeof shin, value: (at: number) => number) => ({
      ...(curve as NonNullable<typeof shin>),
      keys: ((curve as NonNullable<typeof shin>).keys as [number, number][]).map(
        ([frame, bend]): [number, number] => (frame === 24 ? [frame, value(bend)] : [frame, bend]),
      ),
    });
    const curves = bent.curves.filter((curve) => curve !== shin && curve !== thigh);
    // For one frame the knee is straight; the thigh turns by half as much, so that the foot stays about where it is.
    const snapped = { ...bent, curves: [...curves, flat(shin, () => 0), flat(thigh, () => 0)] };
    const [note] = notes(snapped);
    expect(note).toMatchObject({ node: "shin_l", frames: [24, 24] });
    expect(note.keys[0]).toMatchObject({ node: "thigh_l", channel: "rotation.x", frame: 24 });
  });

  test("a kick in the air may snap straight", () => {
    const kick = motionDocument({
      first: 1,
      last: 48,
      hips: () => [0, 0.9, 0],
      left: () => standing("left"),
      right: (frame) => {
        const out = Math.max(0, Math.min(1, (frame - 20) / 3));
        return { at: [-0.1, 0.35 + 0.15 * out, 0.2 + 0.6 * out] };
      },
    });
    expect(notes(kick)).toEqual([]);
  });

  test.each([24, 25, "24000/1001"])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) expect(notes(risen(overreaching, { rate, unit }))).toHaveLength(2);
  });

  test("finds it at 60 frames per second", () => {
    const slower = (frame: number) => overreaching(1 + (frame - 1) / 2.5);
    const document = motionDocument(
      {
        first: 1,
        last: 119,
        hips: (frame) => [0, slower(frame), 0],
        left: () => standing("left"),
        right: () => standing("right"),
      },
      { rate: 60 },
    );
    expect(notes(document)).toHaveLength(2);
  });

  test("captured knees do not snap", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["leg-snap"] }));
    expect(notesOf(study).filter(({ tier }) => tier === "major")).toEqual([]);
  });

  test("barren documents are silent", () => expectQuietOnBarren("leg-snap"));
});
