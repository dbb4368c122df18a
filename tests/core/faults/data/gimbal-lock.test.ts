import { describe, expect, test } from "vitest";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { bipedDocument, everyFrame, notesOfCheck } from "../../../support/shots.ts";

const locks = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "gimbal-lock");
/** The default order is xyz: y is the middle axis. */
const near = (middle: number, outer: number, inner: number) =>
  bipedDocument({
    "upper_arm_l rotation.y": everyFrame(1, 24, () => middle),
    "upper_arm_l rotation.x": everyFrame(1, 24, (f) => outer * f),
    "upper_arm_l rotation.z": everyFrame(1, 24, (f) => inner * f),
  });

describe("gimbal-lock", () => {
  test("finds two axes that cancel each other near lock", () => {
    const notes = locks(near(88, 5, -5));
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "upper_arm_l", frames: [1, 24] });
    expect(notes[0].keys.map((key) => key.channel)).toEqual(["rotation.x", "rotation.z"]);
    expect(notes[0].measured.value).toBeGreaterThan(3);
  });

  test("tells of a joint once, however often it comes near lock", () => {
    const often = (f: number) => (f % 16 < 8 ? 88 : 60);
    const [note, ...others] = locks(
      bipedDocument({
        "upper_arm_l rotation.y": everyFrame(1, 64, often),
        "upper_arm_l rotation.x": everyFrame(1, 64, (f) => (f < 32 ? 6 : 9) * f),
        "upper_arm_l rotation.z": everyFrame(1, 64, (f) => (f < 32 ? -6 : -9) * f),
      }),
    );
    expect(others).toEqual([]);
    expect(note.frames[0]).toBe(1);
    expect(note.frames[1]).toBeGreaterThan(50);
    expect(note.message).toContain("in 3 more stretches of frames 1 to ");
    // The later stretches swing farther: their keys are named.
    expect(note.keys[0].frame).toBeGreaterThan(30);
  });

  test("is silent away from lock, and near lock where the joint really turns or stands", () => {
    expect(locks(near(60, 5, -5))).toEqual([]);
    expect(locks(near(88, 5, 5))).toEqual([]);
    expect(locks(near(88, 0, 0))).toEqual([]);
  });

  test("follows the node's own rotation order", () => {
    const document = near(0, 5, 0);
    const upper = document.nodes.find(({ id }) => id === "upper_arm_l");
    if (upper !== undefined) upper.rotationOrder = "yxz";
    const curve = document.curves.find(({ channel }) => channel === "rotation.x");
    if (curve !== undefined) curve.keys = everyFrame(1, 24, () => 89);
    document.curves.find(({ channel }) => channel === "rotation.y")!.keys = everyFrame(1, 24, (f) => 6 * f);
    document.curves.find(({ channel }) => channel === "rotation.z")!.keys = everyFrame(1, 24, (f) => 6 * f);
    expect(locks(document)).toHaveLength(1);
  });

  test("says nothing about documents with next to nothing in them", () => expectQuietOnBarren("gimbal-lock"));
});
