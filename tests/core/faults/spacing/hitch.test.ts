import { describe, expect, test } from "vitest";
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

const hitches = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "hitch");

/** A frame number that stands still for some frames from one on, and goes on where it stood. */
const standing = (frame: number, from: number, frames: number) =>
  frame <= from ? frame : Math.max(from, frame - frames);

describe("hitch", () => {
  test.each([1, 2, 3])("finds %i frames of no travel in the middle of a move", (frames) => {
    const keys: Keyed = [
      [1, 0],
      [20, 1],
      [20 + frames, 1],
      [40 + frames, 2],
    ];
    const notes = hitches(pointDocument({ "translation.x": keys }));
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "point", frames: [21, 20 + frames] });
    expect([20, 20 + frames]).toContain(notes[0].keys[0].frame);
    expect(notes[0].message).toContain(`for ${frames} frame${frames > 1 ? "s" : ""}`);
  });

  test("finds a hitch in a turning head, and in the arc of a forearm at its shoulder's key", () => {
    const head = bipedDocument({
      "head rotation.y": everyFrame(1, 48, (frame) => eased(6, 40, 0, 80)(standing(frame, 22, 1))),
    });
    expect(hitches(head)).toMatchObject([{ node: "head", frames: [23, 23] }]);
    const arm = chainDocument(2, {
      "joint_1 rotation.y": everyFrame(1, 48, (frame) => 2.5 * standing(frame, 25, 2)),
      "joint_2 rotation.z": everyFrame(1, 48, (frame) => 0.2 * frame),
    });
    const notes = hitches(arm);
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "joint_1", frames: [26, 27] });
    expect(notes[0].keys[0]).toMatchObject({ node: "joint_1", channel: "rotation.y" });
  });

  /** A point that goes these steps, in millimetres a frame, after 12 frames of rest. */
  const going = (...steps: number[]) =>
    pathDocument(1, 48, (frame) => [
      steps.slice(0, Math.max(0, frame - 12)).reduce((sum, step) => sum + step / 1000, 0),
      0,
      0,
    ]);

  test("finds one in a strong ease, whose steps double from before it to after it", () => {
    const notes = hitches(going(4, 10, 20, 31, 41, 4, 70, 69, 64, 53, 40, 28, 17, 9, 4, 1));
    expect(notes).toMatchObject([{ node: "point", frames: [18, 18] }]);
    expect(hitches(going(4, 10, 20, 31, 41, 55, 65, 69, 64, 53, 40, 28, 17, 9, 4, 1))).toEqual([]);
  });

  test("is silent where one eased move ends and the next one begins, and where steps lurch", () => {
    expect(hitches(going(4, 18, 30, 36, 36, 30, 18, 2, 16, 30, 36, 36, 30, 18, 4))).toEqual([]);
    expect(hitches(going(20, 42, 25, 20, 22, 50, 5, 48, 20, 24, 20, 44, 22, 18, 20, 8))).toEqual([]);
  });

  test("a doubled frame is a hitch and not a pop", () => {
    const document = pathDocument(1, 48, (frame) => {
      const shown = frame === 24 ? 23 : frame;
      return [0.04 * shown, 0.2 * Math.sin(0.1 * shown), 0];
    });
    expect(hitches(document)).toMatchObject([{ frames: [24, 24] }]);
  });

  test("a hold of more than three frames is one that was meant", () => {
    const keys: Keyed = [
      [1, 0],
      [20, 1],
      [24, 1],
      [44, 2],
    ];
    expect(hitches(pointDocument({ "translation.x": keys }))).toEqual([]);
  });

  test("is silent on a turn-round, an even move, a slow-down with an ease, and slow motion", () => {
    const back: Keyed = [
      [1, 0],
      [20, 1],
      [21, 1],
      [40, 0],
    ];
    expect(hitches(pointDocument({ "translation.x": back }))).toEqual([]);
    const swing = (frame: number) => 0.4 * Math.sin((2 * Math.PI * frame) / 16);
    expect(hitches(pathDocument(1, 60, (frame) => [swing(frame), 0, 0]))).toEqual([]);
    expect(hitches(pathDocument(1, 60, (frame) => [0.05 * frame, 0, 0]))).toEqual([]);
    const slower = (frame: number) => 0.05 * frame + 0.3 * Math.sin((2 * Math.PI * frame) / 38);
    expect(hitches(pathDocument(1, 60, (frame) => [slower(frame), 0, 0]))).toEqual([]);
    const slow = (frame: number) => 0.004 * standing(frame, 20, 1);
    expect(hitches(pathDocument(1, 60, (frame) => [slow(frame), 0, 0]))).toEqual([]);
  });

  test("is silent on motion on twos and on a step key that holds", () => {
    const twos: Keyed = {
      interpolation: "step",
      keys: Array.from({ length: 24 }, (_, i): [number, number] => [1 + 2 * i, 0.08 * i]),
    };
    expect(hitches(pointDocument({ "translation.x": twos }))).toEqual([]);
    const held: Keyed = [
      [1, 0],
      [20, 1, { interpolation: "step" }],
      [22, 1],
      [42, 2],
    ];
    expect(hitches(pointDocument({ "translation.x": held }))).toEqual([]);
  });

  test("is silent where a contact begins", () => {
    const curves = {
      "upper_arm_l rotation.z": everyFrame(1, 48, (frame) => -2 * standing(frame, 20, 1)),
    };
    expect(hitches(bipedDocument(curves))).toHaveLength(1);
    const contacts = [{ node: "hand_l", frames: [20, 21] as [number, number] }];
    expect(hitches(bipedDocument(curves, { more: { contacts } }))).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds a doubled frame at %s frames per second", (rate) => {
    const scale = rate === 60 ? 0.4 : 1;
    const document = pathDocument(1, 60, (frame) => [0.05 * scale * standing(frame, 30, 1), 0, 0], { rate });
    expect(hitches(document)).toMatchObject([{ frames: [31, 31] }]);
  });

  test.each([{ unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same whatever the unit: %o",
    (scale) => {
      const curves = {
        "hips translation.y": everyFrame(1, 48, () => 0.95),
        "upper_arm_l rotation.y": everyFrame(1, 48, (frame) => -2.5 * standing(frame, 25, 1)),
      };
      expect(hitches(bipedDocument(curves, scale))).toMatchObject([
        { node: "upper_arm_l", frames: [26, 26] },
      ]);
    },
  );

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("hitch");
  });
});
