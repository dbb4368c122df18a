import { describe, expect, test } from "vitest";
import { type Keyed, notesOfCheck, pointDocument } from "../../../support/shots.ts";

const notes = (check: string, keys: [number, number][]) => {
  const keyed: Keyed = { interpolation: "smooth", keys };
  return notesOfCheck(pointDocument({ "translation.x": keyed }, { range: [1, 40] }), check);
};

describe("key-off-frame", () => {
  test("names all keys between frames, and where they belong", () => {
    const frames = [1, 8, 12.4, 20, 28, 33.5, 36, 38, 40];
    const [note] = notes(
      "key-off-frame",
      frames.map((frame, i) => [frame, i]),
    );
    expect(note.tier).toBe("polish");
    expect(note.keys.map(({ frame }) => frame)).toEqual([12.4, 33.5]);
    expect(note.suggestion).toContain("(12.4 to 12)");
  });
});

describe("key-crowding", () => {
  test("names both keys, and weighs them by what they move", () => {
    const crowded = (value: number) =>
      notes("key-crowding", [
        [1, 0],
        [12, 0.2],
        [12.5, value],
        [24, 0.4],
        [32, 0.5],
        [40, 0.6],
      ])[0];
    expect(crowded(0.5).keys.map(({ frame }) => frame)).toEqual([12.5, 12]);
    expect(crowded(0.5).weight).toBeGreaterThan(crowded(0.201).weight);
  });
});

describe("idle-curve", () => {
  test("is polish, and names the key that stays", () => {
    const [note] = notes(
      "idle-curve",
      [1, 4, 9].map((frame) => [frame, 0.3]),
    );
    expect(note).toMatchObject({ tier: "polish", keys: [{ channel: "translation.x", index: 0 }] });
  });
});
