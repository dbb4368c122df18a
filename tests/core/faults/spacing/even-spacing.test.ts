import { describe, expect, test } from "vitest";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { walkDocument } from "../../../support/bodies.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import {
  bipedDocument,
  eased,
  type Keyed,
  notesOfCheck,
  pathDocument,
  pointDocument,
  studyOf,
} from "../../../support/shots.ts";

const even = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "even-spacing");

/** From rest to rest on a straight line of the graph. */
const linear = (from: number, to: number, value: number): [number, number][] => [
  [1, 0],
  [from, 0],
  [to, value],
  [60, value],
];

describe("even-spacing", () => {
  test("finds a move between two linear keys, and names them", () => {
    const [note, ...others] = even(pointDocument({ "translation.y": linear(10, 34, 1.2) }));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "point", frames: [10, 34] });
    expect(note.keys.map(({ frame }) => frame).sort()).toEqual([10, 34]);
    expect(note.message).toContain("an even 5 cm a frame for 24 frames");
    expect(note.measured.value).toBeCloseTo(0, 9);
  });

  test("finds a head that turns evenly", () => {
    const [note, ...others] = even(bipedDocument({ "head rotation.y": linear(12, 28, 64) }));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "head", frames: [12, 28] });
    expect(note.keys[0]).toMatchObject({ node: "head", channel: "rotation.y" });
    expect(note.message).toContain("turns an even 4° a frame for 16 frames");
  });

  test("speaks for both ends: the hard start and the hard stop of the move say no more", () => {
    const document = pointDocument({ "translation.y": linear(10, 34, 1.2) });
    const only = ["even-spacing", "hard-start", "hard-stop"];
    expect(notesOf(studyOf(document, {}, { only })).map(({ check }) => check)).toEqual(["even-spacing"]);
  });

  test("is silent on eased moves of every length, and on a move that eases on one side", () => {
    for (let length = 3; length <= 40; length++) {
      const move = eased(10, 10 + length, 0, 0.05 * length);
      expect(even(pathDocument(1, 60, (frame) => [move(frame), 0, 0])), `${length} frames`).toEqual([]);
    }
    const half: Keyed = {
      interpolation: "bezier",
      keys: [
        [1, 0, { interpolation: "linear" }],
        [10, 0, { out: [10, 0] }],
        [40, 1, { in: [-6, -0.4], interpolation: "linear" }],
        [60, 1],
      ],
    };
    expect(even(pointDocument({ "translation.x": half }))).toEqual([]);
    expect(even(walkDocument())).toEqual([]);
  });

  test("is silent on a short move", () => {
    expect(even(pointDocument({ "translation.x": linear(10, 14, 0.3) }))).toEqual([]);
  });

  test("is silent on a ball in flight, on a wheel and on a constant drive", () => {
    // Thrown at 9 m/s and caught after half a second: the sum of an even way and a fall.
    const ball = (frame: number): [number, number, number] => {
      const t = Math.min(12, Math.max(0, frame - 10)) / 24;
      return [9 * t, 1.5 + 2.45 * t - 4.903325 * t * t, 0];
    };
    expect(even(pathDocument(1, 60, ball))).toEqual([]);
    expect(
      even(
        bipedDocument({
          "head rotation.x": [
            [1, 0],
            [60, 0],
          ],
        }),
      ),
    ).toEqual([]);
    const wheel = bipedDocument({ "hand_l rotation.x": linear(10, 40, 720) });
    expect(even(wheel)).toEqual([]);
    const drive: Keyed = [
      [1, 0],
      [60, 3],
    ];
    expect(even(pointDocument({ "translation.x": drive }))).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const perSecond = rate === 60 ? 60 : 24;
    const keys: [number, number][] = [
      [0, 0],
      [perSecond / 2, 0],
      [(3 * perSecond) / 2, 1],
      [2 * perSecond, 1],
    ];
    const notes = even(pointDocument({ "translation.x": keys }, { rate }));
    expect(notes).toMatchObject([{ frames: [perSecond / 2, (3 * perSecond) / 2] }]);
  });

  test.each([{ unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same whatever the unit: %o",
    (scale) => {
      const document = bipedDocument({ "upper_arm_r rotation.z": linear(10, 30, 60) }, scale);
      expect(even(document)).toMatchObject([{ node: "upper_arm_r", frames: [10, 30] }]);
    },
  );

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("even-spacing");
  });
});
