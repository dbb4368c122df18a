import { describe, expect, test } from "vitest";
import type { Shot } from "../../../../packages/core/document/model.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { impactsOf } from "../../../../packages/core/motion/body/impact.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { metresPerUnitOf } from "../../../../packages/core/rig/stature.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { capturedJump, swivelled, withKeys } from "../../../support/capture.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import {
  bipedDocument,
  chainDocument,
  eased,
  everyFrame,
  type Keyed,
  notesOfCheck,
  pathDocument,
  pointDocument,
} from "../../../support/shots.ts";

const pops = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "pop");
const study = (shot: Shot) => studyOf(shot, resolveSettings(registry, {}, { only: ["pop"] }));

describe("pop", () => {
  test.each([1, 2])("finds a point that is 3 cm off its path for %i frames", (frames) => {
    const off = (frame: number) => (frame >= 20 && frame < 20 + frames ? 0.03 : 0);
    const notes = pops(pathDocument(1, 48, (frame) => [0.03 * frame, off(frame), 0]));
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "point", frames: [20, 19 + frames] });
    expect(notes[0].keys[0]).toMatchObject({ channel: "translation.y" });
    expect(notes[0].measured.value).toBeCloseTo(0.03, 9);
  });

  test("names the one key of a sparse curve that makes the pop", () => {
    const keys: Keyed = [
      [1, 0],
      [23, 0],
      [24, 0.04],
      [25, 0],
      [48, 0],
    ];
    const [note, ...others] = pops(pointDocument({ "translation.x": keys }));
    expect(others).toEqual([]);
    expect(note.keys[0]).toMatchObject({ frame: 24, index: 2 });
    expect(note.keys[0].share).toBeCloseTo(1, 6);
  });

  test("a tip that pops because of its shoulder is noted at the shoulder", () => {
    const document = chainDocument(3, {
      "joint_1 rotation.z": everyFrame(1, 48, (frame) => eased(4, 44, 0, 60)(frame) + (frame === 26 ? 8 : 0)),
      "joint_2 rotation.z": everyFrame(1, 48, (frame) => eased(6, 46, 0, 30)(frame)),
    });
    const notes = pops(document);
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "joint_1", frames: [26, 26] });
    expect(notes[0].keys[0]).toMatchObject({ node: "joint_1", channel: "rotation.z", frame: 26 });
  });

  test("is silent on arcs, stops, starts, bounces and step keys", () => {
    expect(
      pops(pathDocument(1, 48, (frame) => [Math.cos(frame / 8), Math.sin(frame / 8), 0.02 * frame])),
    ).toEqual([]);
    const stop = (frame: number) => 0.05 * Math.min(frame, 24);
    expect(pops(pathDocument(1, 48, (frame) => [stop(frame), 0, 0]))).toEqual([]);
    expect(pops(pathDocument(1, 48, (frame) => [stop(49 - frame), 0, 0]))).toEqual([]);
    const bounce = (frame: number) => Math.abs(1.2 - 0.05 * frame);
    expect(pops(pathDocument(1, 48, (frame) => [0.03 * frame, bounce(frame), 0]))).toEqual([]);
    const twos: Keyed = {
      interpolation: "step",
      keys: Array.from({ length: 24 }, (_, i): [number, number] => [1 + 2 * i, Math.sin(i / 6)]),
    };
    expect(pops(pointDocument({ "translation.x": twos }))).toEqual([]);
  });

  test("finds a pose that pops among poses on twos", () => {
    const twos: Keyed = {
      interpolation: "step",
      keys: Array.from({ length: 24 }, (_, i): [number, number] => [
        1 + 2 * i,
        Math.sin(i / 6) + (i === 12 ? 0.15 : 0),
      ]),
    };
    expect(pops(pointDocument({ "translation.x": twos }))).toMatchObject([{ frames: [25, 25] }]);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const document = pathDocument(1, 60, (frame) => [0.02 * frame, frame === 30 ? 0.04 : 0, 0], { rate });
    expect(pops(document)).toMatchObject([{ frames: [30, 30] }]);
  });

  test.each([{ unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same whatever the unit: %o",
    (scale) => {
      const rise = (frame: number) => eased(5, 40, 0.8, 0.95)(frame) + (frame === 22 ? 0.03 : 0);
      const notes = pops(bipedDocument({ "hips translation.y": everyFrame(1, 48, rise) }, scale));
      expect(notes).toMatchObject([{ node: "hips", frames: [22, 22] }]);
    },
  );

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("pop");
  });

  describe("in captured motion at 24 frames per second", () => {
    const shot = capturedJump();
    const plain = study(shot);
    const clean = notesOf(plain);
    const unit = metresPerUnitOf(plain);
    // Someone crouches, jumps and lands; frames on the ground, at take-off and in the air.
    const frames = [8, 12, 16, 20, 22, 24, 35];
    const at = (changed: Shot, frame: number) =>
      notesOf(study(changed)).filter((note) => note.frames[0] <= frame && note.frames[1] >= frame);

    test("says next to nothing of the motion itself", () => {
      expect(clean.filter(({ tier }) => tier === "major")).toEqual([]);
      expect(clean.length).toBeLessThanOrEqual(1);
    });

    test.each(frames)("3 cm up for a frame at %i are found at the hips, whose key it is", (frame) => {
      const changed = withKeys(shot, "Hips", frame, (channel, value) =>
        channel === "translation.y" ? value + 0.03 / unit : value,
      );
      const [note] = at(changed, frame);
      expect(note).toMatchObject({ node: "Hips", frames: [frame, frame] });
      expect(note.keys[0]).toMatchObject({ node: "Hips", channel: "translation.y", frame });
    });

    test.each(frames)("a knee that swivels by 15° for a frame at %i is found at the thigh", (frame) => {
      const changed = swivelled(shot, plain, { upper: "LeftUpLeg", end: "LeftFoot" }, frame, 15);
      const notes = at(changed, frame).filter(({ node }) => node === "LeftUpLeg");
      expect(notes).toHaveLength(1);
      expect(notes[0].keys[0]).toMatchObject({ node: "LeftUpLeg", frame });
    });

    test("is silent within the impact of the landing", () => {
      const impacts = impactsOf(plain, 0);
      const landing = impacts.indexOf(1) + 1 + shot.range[0];
      expect(impacts[landing - shot.range[0]]).toBe(1);
      const changed = withKeys(shot, "Hips", landing, (channel, value) =>
        channel === "translation.y" ? value + 0.03 / unit : value,
      );
      expect(at(changed, landing)).toEqual([]);
    });
  });
});
