import { describe, expect, test } from "vitest";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { bipedDocument, type Keyed, notesOfCheck, pointDocument } from "../../../support/shots.ts";

const overshoots = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "overshoot");

/** A hold between two keys whose handles lean, in metres per third of the segment. */
const leaning = (lean: number): Keyed => ({
  interpolation: "bezier",
  keys: [
    [1, 0.5, { out: [8, lean] }],
    [25, 0.5, { in: [-8, lean] }],
  ],
});

describe("overshoot", () => {
  test("finds a hold that breathes, and measures it at its extreme", () => {
    const notes = overshoots(pointDocument({ "translation.y": leaning(0.04) }));
    expect(notes).toHaveLength(1);
    // A cubic from 0 to 0 with both handles at 0.04 reaches 3/4 of it, half way (Bernstein form).
    expect(notes[0].measured.value).toBeCloseTo(0.03, 6);
    expect(notes[0].frames).toEqual([13, 13]);
    expect(notes[0].keys.map(({ frame }) => frame)).toEqual([1, 25]);
    expect(notes[0].message).toContain("in a hold");
  });

  test("lets a small settle past a pose be, but not a large one", () => {
    const settle = (lean: number): Keyed => ({
      interpolation: "bezier",
      keys: [
        [1, 0, { out: [4, 0] }],
        [13, 1, { in: [-4, lean] }],
      ],
    });
    expect(overshoots(pointDocument({ "translation.x": settle(0.1) }))).toEqual([]);
    expect(overshoots(pointDocument({ "translation.x": settle(0.9) }))).toHaveLength(1);
  });

  test("turns angles into what hangs on the joint", () => {
    const document = bipedDocument({
      "upper_arm_l rotation.z": {
        interpolation: "bezier",
        keys: [
          [1, -60, { out: [8, 8] }],
          [25, -60, { in: [-8, 8] }],
        ],
      },
    });
    const notes = overshoots(document);
    expect(notes).toHaveLength(1);
    // 6° of an arm of 0.28 + 0.25 + 0.09 m.
    expect(notes[0].measured.value).toBeCloseTo((6 * Math.PI * 0.62) / 180, 3);
  });

  test("is silent on linear, smooth and stepped curves and on level handles", () => {
    for (const interpolation of ["linear", "smooth", "step"] as const) {
      expect(
        overshoots(
          pointDocument({
            "translation.y": {
              interpolation,
              keys: [
                [1, 0],
                [9, 1],
                [17, 1],
                [25, 0],
              ],
            },
          }),
        ),
      ).toEqual([]);
    }
    expect(overshoots(pointDocument({ "translation.y": leaning(0) }))).toEqual([]);
  });

  test("works in cubic curves and in any unit", () => {
    const cubic: Keyed = {
      interpolation: "cubic",
      keys: [
        [1, 0, { out: 0.02 }],
        [25, 0, { in: -0.02 }],
      ],
    };
    for (const unit of [1, 0.01]) {
      const notes = overshoots(pointDocument({ "translation.y": cubic }, { unit }));
      expect(notes).toHaveLength(1);
      // Hermite slopes ± m over a span h meet at m·h/4 half way: 0.02 · 24 / 4.
      expect(notes[0].measured.value).toBeCloseTo(0.12, 6);
    }
  });

  test("says nothing about documents with next to nothing in them", () => expectQuietOnBarren("overshoot"));
});
