import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { birdDocument } from "../../../../packages/core/faults/shared/examples/birds.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import {
  type JumpOptions,
  jump,
  jumpDocument,
  jumpWithHips,
  type SlopedKey,
} from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { type DocumentOptions, notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "lift-before-push");

const tucked = { height: 0.6, air: 14 } as const;

/** The jump's keys, with hips that leave the crouch only as the feet leave the ground, and are fast some frames later. */
function late(frames: number, options: JumpOptions = tucked): SlopedKey[] {
  const { heightKeys, takeOff, motion } = jump(options);
  const height = (frame: number) => motion.hips(frame)[1];
  const frame = takeOff + frames;
  const slope = (height(frame + 1) - height(frame - 1)) / 2;
  return [
    ...heightKeys.slice(0, 2),
    [takeOff, height(takeOff) - 0.02, 0],
    [frame, height(frame), slope],
    ...heightKeys.slice(3),
  ];
}

/** A bird that glides level and then, from a frame on, is drawn upward while its wings start to beat at another. */
function swoop(
  rise: number,
  beat: number,
  options: DocumentOptions & { declares?: boolean } = {},
): CurveDocument {
  return birdDocument(
    {
      first: 1,
      last: 60,
      // 4 m/s² upward for 12 frames at 24 per second, then on at the speed it has.
      body: (frame) => {
        const t = Math.max(0, frame - rise) / 24;
        const u = Math.min(t, 0.5);
        return [0, 2 + 2 * u * u + 4 * u * (t - u), 3 * ((frame - 1) / 24)];
      },
      wings: (frame) => (frame <= beat ? 10 : 10 + 40 * Math.sin(((frame - beat) / 8) * 2 * Math.PI)),
    },
    options,
  );
}

describe("lift-before-push", () => {
  test("legs that push until the feet leave are silent", () => {
    expect(notes(jumpDocument())).toEqual([]);
    expect(notes(jumpDocument(tucked))).toEqual([]);
    expect(notes(jumpDocument({ forward: 1.5, air: 16 }))).toEqual([]);
  });

  test.each([4, 5])(
    "finds a body that gains its speed in the %i frames after its feet have left",
    (frames) => {
      const { takeOff } = jump(tucked);
      const [note, ...others] = notes(jumpWithHips(tucked, late(frames)));
      expect(others).toEqual([]);
      expect(note.node).toBe("hips");
      expect(Math.abs(note.frames[0] - takeOff)).toBeLessThanOrEqual(1);
      expect(note.message).toContain("after its feet have left the ground");
      expect(note.keys[0]).toMatchObject({ node: "hips", channel: "translation.y" });
      expect(note.keys[0].frame).toBeGreaterThanOrEqual(takeOff - 1);
      expect(note.keys[0].frame).toBeLessThanOrEqual(takeOff + frames + 1);
    },
  );

  test("wings that lead the body are silent, and so are wings that start with it", () => {
    for (const lead of [0, 2, 3, 5]) expect(notes(swoop(28, 28 - lead)), `${lead} frames`).toEqual([]);
  });

  test.each([3, 5])("finds a body that swoops up %i frames before its wings", (early) => {
    const [note, ...others] = notes(swoop(28, 28 + early));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "body" });
    // An acceleration that sets in is seen from half a frame to a frame later.
    expect(Math.abs(note.frames[0] - 28)).toBeLessThanOrEqual(1);
    expect(note.frames[1]).toBe(28 + early);
    const sooner = Number(/start the wings (\d+) frames sooner/.exec(note.suggestion)?.[1]);
    expect(Math.abs(sooner - (early + 3))).toBeLessThanOrEqual(1);
    expect(note.keys[0].channel).toBe("rotation.z");
    expect(["wing_l", "wing_r"]).toContain(note.keys[0].node);
    expect(Math.abs(note.keys[0].frame - (28 + early))).toBeLessThanOrEqual(1);
  });

  test("wings of the body map are judged where none are declared", () => {
    expect(notes(swoop(28, 33, { declares: false }))).toHaveLength(1);
    expect(notes(swoop(28, 26, { declares: false }))).toEqual([]);
  });

  test("a bird that glides on with still wings, or beats all the time, is silent", () => {
    expect(notes(swoop(90, 95))).toEqual([]);
    expect(notes(swoop(28, 1))).toEqual([]);
  });

  test.each([24, 25, "24000/1001"])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) {
      expect(notes(jumpWithHips({ ...tucked, rate, unit }, late(4, { ...tucked, rate })))).toHaveLength(1);
      expect(notes(swoop(28, 33, { rate, unit }))).toHaveLength(1);
    }
  });

  test("a captured jump pushes first", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["lift-before-push"] }));
    expect(notesOf(study)).toEqual([]);
  });

  test("barren documents are silent", () => expectQuietOnBarren("lift-before-push"));
});
