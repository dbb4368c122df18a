import { describe, expect, test } from "vitest";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import {
  eased,
  notesOfCheck,
  pathDocument,
  pointDocument,
  straight,
  studyOf,
} from "../../../support/shots.ts";

const even = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "even-spacing");

describe("even-spacing", () => {
  test("names both keys of a move between two linear ones", () => {
    const [note] = even(pointDocument({ "translation.y": straight(10, 34, 1.2) }));
    expect(note.keys.map(({ frame }) => frame).sort()).toEqual([10, 34]);
    expect(note.message).toContain("an even 5 cm a frame at frames 10 to 34 (25 frames)");
  });

  test("speaks for both ends: the hard start and the hard stop of the move say no more", () => {
    const document = pointDocument({ "translation.y": straight(10, 34, 1.2) });
    const only = ["even-spacing", "hard-start", "hard-stop"];
    expect(notesOf(studyOf(document, {}, { only })).map(({ check }) => check)).toEqual(["even-spacing"]);
  });

  test("is silent on eased moves of every length", () => {
    for (let length = 3; length <= 40; length++) {
      const move = eased(10, 10 + length, 0, 0.05 * length);
      expect(even(pathDocument(1, 60, (frame) => [move(frame), 0, 0])), `${length} frames`).toEqual([]);
    }
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const perSecond = rate === 60 ? 60 : 24;
    const [from, to] = [1 + perSecond / 2, 1 + (3 * perSecond) / 2];
    const keys = straight(from, to, 1, 1 + 2 * perSecond);
    expect(even(pointDocument({ "translation.x": keys }, { rate }))).toMatchObject([{ frames: [from, to] }]);
  });
});
