import { describe, expect, test } from "vitest";
import type { Shot } from "../../../../packages/core/document/model.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { impactsOf } from "../../../../packages/core/motion/body/impact.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { metresPerUnitOf } from "../../../../packages/core/rig/stature.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { capturedJump, swivelled, withKeys } from "../../../support/capture.ts";
import { notesOfCheck, pathDocument } from "../../../support/shots.ts";

const pops = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "pop");
const study = (shot: Shot) => studyOf(shot, resolveSettings(registry, {}, { only: ["pop"] }));

describe("pop", () => {
  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const document = pathDocument(1, 60, (frame) => [0.02 * frame, frame === 30 ? 0.04 : 0, 0], { rate });
    expect(pops(document)).toMatchObject([{ frames: [30, 30] }]);
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
