import { describe, expect, test } from "vitest";
import {
  type Keyed,
  notesOfCheck,
  pathDocument,
  pointDocument,
  standingFor,
} from "../../../support/shots.ts";

const hitches = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "hitch");

describe("hitch", () => {
  test.each([1, 2, 3])("tells for how long: %i frames of no travel in the middle of a move", (frames) => {
    const keys: Keyed = [
      [1, 0],
      [20, 1],
      [20 + frames, 1],
      [40 + frames, 2],
    ];
    const notes = hitches(pointDocument({ "translation.x": keys }));
    expect(notes).toMatchObject([{ frames: [21, 20 + frames] }]);
    const length = frames > 1 ? `frames 21 to ${20 + frames} (${frames} frames)` : "frame 21";
    expect(notes[0].message).toContain(`a frame at ${length}, between`);
  });

  test.each([24, 25, "24000/1001", 60])("finds a doubled frame at %s frames per second", (rate) => {
    const scale = rate === 60 ? 0.4 : 1;
    const at = (frame: number) => 0.05 * scale * standingFor(1, 30)(frame);
    expect(hitches(pathDocument(1, 60, (frame) => [at(frame), 0, 0], { rate }))).toMatchObject([
      { frames: [31, 31] },
    ]);
  });

  test("is minor at most where the halt lasts for less than half a frame of film, as a doubled frame at 100 does", () => {
    const at = (rate: number) => {
      const way = (frame: number) => 0.15 * standingFor(1, 50)(frame);
      return hitches(pathDocument(1, 99, (frame) => [way(frame), 0, 0], { rate }));
    };
    expect(at(24)).toMatchObject([{ frames: [51, 51], tier: "major" }]);
    expect(at(100)).toMatchObject([{ frames: [51, 51], tier: "minor" }]);
  });

  test("counts its frames at 24 per second: what stands for three there stands for four at 30", () => {
    const held = (frames: number) => {
      const at = (frame: number) => 0.04 * standingFor(frames, 30)(frame);
      return hitches(pathDocument(1, 60, (frame) => [at(frame), 0, 0], { rate: 30 }));
    };
    expect(held(4)).toMatchObject([{ frames: [31, 34] }]);
    expect(held(5)).toEqual([]);
  });
});
