import { describe, expect, test } from "vitest";
import type { Shot } from "../../../../packages/core/document/model.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { impactsOf } from "../../../../packages/core/motion/body/impact.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { metresPerUnitOf } from "../../../../packages/core/rig/stature.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { capturedJump, swivelled, withKeys } from "../../../support/capture.ts";
import { bipedDocument, notesOfCheck, pathDocument } from "../../../support/shots.ts";

const pops = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "pop");
const study = (shot: Shot) => studyOf(shot, resolveSettings(registry, {}, { only: ["pop"] }));

describe("pop", () => {
  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const document = pathDocument(1, 60, (frame) => [0.02 * frame, frame === 30 ? 0.04 : 0, 0], { rate });
    expect(pops(document)).toMatchObject([{ frames: [30, 30] }]);
  });

  describe("by one key of one curve over five frames", () => {
    const keyed = (part: string, axes: string, off: number) =>
      Object.fromEntries(
        [..."xyz"].map((axis) => [
          `${part} rotation.${axis}`,
          [1, 37, 40, 43, 90]
            .filter((frame) => frame !== 40 || axes.includes(axis))
            .map((frame): [number, number] => [frame, frame === 40 && axis === "x" ? off : 0]),
        ]),
      );
    const tiers = (part: string, axes: string) =>
      pops(bipedDocument(keyed(part, axes, 12))).map(({ tier, node, frames }) => [tier, node, ...frames]);

    test("is major in the head, whose mass nothing throws about so", () => {
      expect(tiers("head", "x")).toEqual([["major", "head", 38, 42]]);
      expect(tiers("head", "xyz")).toEqual([["major", "head", 38, 42]]);
    });

    test.each(["upper_arm_l", "forearm_l", "hand_l"])(
      "is minor in %s, where the key stands by itself",
      (part) => {
        expect(tiers(part, "x")).toEqual([["minor", part, 38, 42]]);
        expect(tiers(part, "xyz")).toEqual([]);
      },
    );
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
