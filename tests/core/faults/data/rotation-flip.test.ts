import { describe, expect, test } from "vitest";
import { bipedDocument, notesOfCheck } from "../../../support/shots.ts";

const flips = (keys: [number, number][]) =>
  notesOfCheck(bipedDocument({ "forearm_l rotation.y": keys }), "rotation-flip");

describe("rotation-flip", () => {
  test("says how far the joint would have to turn, and which turns to take off", () => {
    const [note] = flips([
      [1, -10],
      [12, -20],
      [20, 330],
      [36, 320],
    ]);
    expect(note.expected.max).toBeCloseTo(10, 6);
    expect(note.suggestion).toContain("take 360° off");
  });

  test("weighs a flip between neighbouring frames lightly: only motion blur shows it", () => {
    const [long] = flips([
      [1, 0],
      [12, 5],
      [20, 350],
      [30, 350],
    ]);
    const [short] = flips([
      [1, 0],
      [12, 5],
      [13, 362],
      [30, 350],
    ]);
    expect(short.weight).toBeLessThan(long.weight);
    expect(short.tier).not.toBe("major");
  });
});
