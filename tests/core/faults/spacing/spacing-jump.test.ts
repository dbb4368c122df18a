import { describe, expect, test } from "vitest";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { eased, notesOfCheck, pathDocument, pointDocument, studyOf } from "../../../support/shots.ts";

const jumps = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "spacing-jump");

describe("spacing-jump", () => {
  test("is silent on every ease: the minimum-jerk move of 3 to 30 frames starts and stops over several", () => {
    for (let length = 3; length <= 30; length++) {
      const move = eased(10, 10 + length, 0, 0.08 * length);
      expect(jumps(pathDocument(1, 50, (frame) => [move(frame), 0, 0])), `${length} frames`).toEqual([]);
    }
  });

  test("leaves what a hard stop says to the hard stop", () => {
    const document = pointDocument({
      "translation.x": [
        [1, 0],
        [20, 1],
        [24, 1.02],
        [44, 1.02],
      ],
    });
    expect(jumps(document)).toMatchObject([{ frames: [20, 20] }]);
    const both = notesOf(studyOf(document, {}, { only: ["hard-stop", "spacing-jump"] }));
    expect(both.map(({ check }) => check)).toEqual(["hard-stop"]);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const scale = rate === 60 ? 0.4 : 1;
    const way = (frame: number) => scale * (0.07 * Math.min(frame, 30) + 0.02 * Math.max(0, frame - 30));
    expect(jumps(pathDocument(1, 60, (frame) => [way(frame), 0, 0], { rate }))).toMatchObject([
      { frames: [30, 30] },
    ]);
  });
});
