import { describe, expect, test } from "vitest";
import { findStrokes, strokesOf } from "../../../../packages/core/motion/path/strokes.ts";
import { eased, pathDocument, studyOf, type Vector } from "../../../support/shots.ts";

const strokes = (path: (frame: number) => Vector) => strokesOf(studyOf(pathDocument(1, 90, path)), 0);
/** Grid indices of frames: documents start at frame 1. */
const near = (frame: number) => expect.closeTo(frame - 1, -0.5);

describe("strokes", () => {
  test("end where a path turns back", () => {
    const out = (frame: number) => eased(10, 30, 0, 1)(frame) - eased(30, 50, 0, 1)(frame);
    expect(strokes((frame) => [out(frame), 0, 0])).toEqual([
      { from: near(10), to: near(30) },
      { from: near(30), to: near(50) },
    ]);
  });

  test("end where it rests, so that where it had been before does not matter", () => {
    // To the side, a rest, then out and back square to it.
    const path = (frame: number): Vector => [
      eased(5, 20, 0, 1)(frame),
      eased(40, 55, 0, 0.5)(frame) - eased(55, 70, 0, 0.5)(frame),
      0,
    ];
    expect(strokes(path)).toEqual([
      { from: near(5), to: near(20) },
      { from: near(40), to: near(55) },
      { from: near(55), to: near(70) },
    ]);
  });

  test("leave out what is shorter than 0.08 body heights, and paths that never move", () => {
    expect(strokes((frame) => [eased(10, 30, 0, 0.1)(frame), 0, 0])).toEqual([]);
    expect(strokes(() => [1, 2, 3])).toEqual([]);
    expect(findStrokes(new Float64Array(30), 0)).toEqual([]);
    expect(findStrokes(new Float64Array(0), 1)).toEqual([]);
  });
});
