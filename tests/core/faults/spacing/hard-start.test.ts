import { describe, expect, test } from "vitest";
import {
  eased,
  type Keyed,
  notesOfCheck,
  pathDocument,
  pointDocument,
  stepping,
} from "../../../support/shots.ts";

const starts = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "hard-start");

describe("hard-start", () => {
  test("finds one that begins at seven tenths of its speed, and not one that is soft from there", () => {
    // Steps in centimetres a frame: a fast part, after it a slower one, and rest within a frame, or over six.
    const fast = [0.2, 1, 2.4, 3.8, 4.8, 5, 5, 4.9, 4.7, 4.3, 3.9, 3.6, 3.5, 3.5];
    const along = (steps: readonly number[]) => {
      const gone = stepping(8, steps.toReversed());
      return pathDocument(1, steps.length + 24, (frame) => [gone(frame) / 100, 0, 0]);
    };
    expect(starts(along(fast))).toHaveLength(1);
    expect(starts(along([...fast, 3, 2.3, 1.5, 0.8, 0.3, 0.1]))).toEqual([]);
  });

  test("is the mirror of a hard stop", () => {
    const half = eased(10, 34, 0, 1);
    const forward = (frame: number) => half(Math.min(frame, 22));
    const stop = notesOfCheck(
      pathDocument(1, 60, (frame) => [forward(frame), 0, 0]),
      "hard-stop",
    );
    const start = starts(pathDocument(1, 60, (frame) => [forward(61 - frame), 0, 0]));
    expect(start.map(({ frames }) => frames[0])).toEqual(stop.map(({ frames }) => 61 - frames[1]));
    expect(start[0].measured.value).toBeCloseTo(stop[0].measured.value, 9);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same start at %s frames per second", (rate) => {
    const perSecond = rate === 60 ? 60 : 24;
    const at = (seconds: number) => Math.round(seconds * perSecond);
    const keys: Keyed = [
      [0, 0],
      [at(0.5), 0],
      [at(1.5), 1],
      [at(2.5), 1],
    ];
    const [note] = starts(pointDocument({ "translation.x": keys }, { rate }));
    expect(note.frames[0]).toBe(at(0.5));
    expect(note.message).toContain(`within 1 frame of rest at frame ${at(0.5)}`);
  });
});
