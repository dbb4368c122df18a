import { describe, expect, test } from "vitest";
import { jumpDocument, walkDocument } from "../../../support/bodies.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { bipedDocument, type Curves, eased, everyFrame, notesOfCheck } from "../../../support/shots.ts";

const same = (document: Parameters<typeof notesOfCheck>[0], config = {}) =>
  notesOfCheck(document, "same-frame", config);

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
    expect(notes).toHaveLength(2);
    const [start, arrival] = [...notes].sort((a, b) => a.frames[0] - b.frames[0]);
    expect(Math.abs(start.frames[0] - 20)).toBeLessThanOrEqual(2);
    expect(Math.abs(arrival.frames[0] - 40)).toBeLessThanOrEqual(2);
    expect(start.message).toContain("7 of the 7 moving parts start");
    expect(arrival.message).toContain("7 of the 7 moving parts arrive");
  });

  test("finds it however unlike the sizes of the moves are", () => {
    // A small move passes a floor of speed later than a large one; both have a tenth of their own peak at one time.
    const sizes = [8, 12, 20, -110, -80, 100, 60];
    const curves = Object.keys(turns).map((name, part) => [
      name,
      everyFrame(1, 72, eased(20, 52, 0, sizes[part])),
    ]);
    const notes = same(bipedDocument(Object.fromEntries(curves)));
    expect(notes).toHaveLength(2);
    expect(notes.map(({ message }) => message).join()).toMatch(
      /of the \d moving parts start.*arrive|arrive.*start/,
    );
  });

  test("finds it where one part is a frame before the middle and the others are one after it", () => {
    const shift = (part: number) => (part === 2 ? 0 : 2);
    const notes = same(bipedDocument(turning((part) => ({ start: shift(part), end: shift(part) }))));
    const [start] = [...notes].sort((a, b) => a.frames[0] - b.frames[0]);
    expect(start.message).toContain("7 of the 7 moving parts start");
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
    expect(notes.map(({ frames }) => frames[0]).sort()).toEqual([20, 40]);
    for (const note of notes) {
      expect(note.keys.length).toBeGreaterThan(0);
      for (const key of note.keys) {
        expect(turns).toHaveProperty([`${key.node} ${key.channel}`]);
        expect(key.frame).toBe(note.frames[0]);
      }
    }
  });

  test("tells the start from the arrival: parts that start together and arrive one after the other", () => {
    const notes = same(bipedDocument(turning((part) => ({ start: 0, end: 3 * part }))));
    expect(notes).toHaveLength(1);
    expect(notes[0].message).toContain("start within a frame");
  });

  test("is silent where parts lead and follow by two frames", () => {
    expect(same(bipedDocument(turning((part) => ({ start: 2 * part, end: 2 * part }))))).toEqual([]);
  });

  test("is silent on four parts, on a walk, and on legs that only follow the hips of a jump", () => {
    const few = turning(() => ({ start: 0, end: 0 }));
    const four = Object.fromEntries(Object.entries(few).slice(0, 4));
    expect(same(bipedDocument(four))).toEqual([]);
    expect(
      same(bipedDocument(four), {
        checks: { "same-frame": { values: { parts: { value: 4, unit: "count" } } } },
      }),
    ).toHaveLength(2);
    expect(same(walkDocument())).toEqual([]);
    expect(same(jumpDocument())).toEqual([]);
  });

  test("is silent on poses that are blocked on step keys", () => {
    const blocked = Object.fromEntries(
      Object.entries(turns).map(([name, angle]) => [
        name,
        {
          interpolation: "step" as const,
          keys: Array.from({ length: 6 }, (_, i): [number, number] => [1 + 12 * i, (i % 3) * angle]),
        },
      ]),
    );
    expect(same(bipedDocument(blocked, { range: [1, 72] }))).toEqual([]);
  });

  test("is silent at the start and the end of the range", () => {
    expect(
      same(
        bipedDocument(
          turning(() => ({ start: 0, end: 0 })),
          { range: [24, 36] },
        ),
      ),
    ).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const factor = rate === 60 ? 2.5 : 1;
    const curves = Object.fromEntries(
      Object.entries(turns).map(([name, angle]) => [
        name,
        everyFrame(1, 72 * factor, eased(20 * factor, 40 * factor, 0, angle)),
      ]),
    );
    expect(same(bipedDocument(curves, { rate }))).toHaveLength(2);
  });

  test.each([{ unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same whatever the unit: %o",
    (scale) => {
      expect(
        same(
          bipedDocument(
            turning(() => ({ start: 0, end: 0 })),
            scale,
          ),
        ),
      ).toHaveLength(2);
    },
  );

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("same-frame");
  });
});
