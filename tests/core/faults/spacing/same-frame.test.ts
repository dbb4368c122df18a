import { describe, expect, test } from "vitest";
import { bipedDocument, type Curves, eased, everyFrame, notesOfCheck } from "../../../support/shots.ts";

const same = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "same-frame");

const turns: Readonly<Record<string, number>> = {
  "hips rotation.y": 20,
  "chest rotation.y": 25,
  "head rotation.y": 30,
  "upper_arm_l rotation.z": -50,
  "forearm_l rotation.y": -40,
  "upper_arm_r rotation.z": 45,
  "forearm_r rotation.y": 35,
};

/** Seven parts that turn between two frames, each shifted by its own number of frames. */
function turning(shift: (part: number) => { start: number; end: number }): Curves {
  return Object.fromEntries(
    Object.entries(turns).map(([name, angle], part) => {
      const { start, end } = shift(part);
      return [name, everyFrame(1, 72, eased(20 + start, 40 + end, 0, angle))];
    }),
  );
}

describe("same-frame", () => {
  test("finds that all parts start, and arrive, on one frame", () => {
    const notes = same(bipedDocument(turning(() => ({ start: 0, end: 0 }))));
    expect(notes).toHaveLength(1);
    const [{ frames, message }] = notes;
    expect(Math.abs(frames[0] - 20)).toBeLessThanOrEqual(2);
    expect(Math.abs(frames[1] - 40)).toBeLessThanOrEqual(2);
    expect(message).toContain("7 of the 7 moving parts start");
  });

  test("finds it where one part is a frame before the middle and the others are one after it", () => {
    const shift = (part: number) => (part === 2 ? 0 : 2);
    const [note] = same(bipedDocument(turning((part) => ({ start: shift(part), end: shift(part) }))));
    expect(note.message).toContain("7 of the 7 moving parts start");
  });

  test("finds each of several changes of pose", () => {
    const thereAndBack = Object.fromEntries(
      Object.entries(turns).map(([name, angle]): [string, [number, number][]] => [
        name,
        [
          [10, 0],
          [22, angle],
          [40, angle],
          [52, 0],
        ],
      ]),
    );
    expect(same(bipedDocument(thereAndBack, { range: [1, 72] })).map(({ frames }) => frames)).toEqual(
      expect.arrayContaining([
        [10, 22],
        [40, 52],
      ]),
    );
  });

  test("names keys of the parts on that frame", () => {
    const keyed = Object.fromEntries(
      Object.entries(turns).map(([name, angle]): [string, [number, number][]] => [
        name,
        [
          [1, 0],
          [20, 0],
          [40, angle],
          [72, angle],
        ],
      ]),
    );
    const notes = same(bipedDocument(keyed));
    expect(notes.map(({ frames }) => frames)).toEqual([[20, 40]]);
    for (const note of notes) {
      expect(note.keys.length).toBeGreaterThan(0);
      for (const key of note.keys) {
        expect(turns).toHaveProperty([`${key.node} ${key.channel}`]);
        expect(key.frame).toBe(note.frames[0]);
      }
    }
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const factor = rate === 60 ? 2.5 : 1;
    const curves = Object.fromEntries(
      Object.entries(turns).map(([name, angle]) => [
        name,
        everyFrame(1, 72 * factor, eased(20 * factor, 40 * factor, 0, angle)),
      ]),
    );
    expect(same(bipedDocument(curves, { rate }))).toHaveLength(1);
  });
});
