import { describe, expect, test } from "vitest";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { bipedDocument, type Keyed, notesOfCheck, pointDocument } from "../../../support/shots.ts";

const wraps = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "rotation-flip");

describe("rotation-flip", () => {
  test("finds a joint that turns 350° where 10° would do, at the key after which it does", () => {
    const document = bipedDocument({
      "forearm_l rotation.y": [
        [1, -10],
        [12, -20],
        [20, 330],
        [36, 320],
      ],
    });
    const notes = wraps(document);
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "forearm_l", frames: [12, 20] });
    expect(notes[0].keys[0]).toMatchObject({ node: "forearm_l", channel: "rotation.y", frame: 20 });
    expect(notes[0].measured.value).toBeCloseTo(350, 6);
    expect(notes[0].expected.max).toBeCloseTo(10, 6);
    expect(notes[0].suggestion).toContain("take 360° off");
  });

  test("weighs a wrap between neighbouring frames lightly: only motion blur shows it", () => {
    const long = wraps(
      bipedDocument({
        "forearm_l rotation.y": [
          [1, 0],
          [12, 5],
          [20, 350],
          [30, 350],
        ],
      }),
    );
    const short = wraps(
      bipedDocument({
        "forearm_l rotation.y": [
          [1, 0],
          [12, 5],
          [13, 362],
          [30, 350],
        ],
      }),
    );
    expect(short).toHaveLength(1);
    expect(short[0].weight).toBeLessThan(long[0].weight);
    expect(short[0].tier).not.toBe("major");
  });

  test("lets a prop and a figure's root spin, but not faster than a body can", () => {
    const spin = (frames: number): Keyed => [
      [1, 0],
      [1 + frames, 360],
      [60, 360],
    ];
    expect(wraps(pointDocument({ "rotation.y": spin(24) }))).toEqual([]);
    expect(wraps(bipedDocument({ "hips rotation.y": spin(24) }))).toEqual([]);
    expect(wraps(bipedDocument({ "hips rotation.y": spin(6) }))).toHaveLength(1);
    // A joint inside a body has nowhere to spin to.
    expect(wraps(bipedDocument({ "forearm_l rotation.x": spin(24) }))).toHaveLength(1);
  });

  test("is silent on stepped keys, large turns that are the shortest way, and radians that are small", () => {
    const stepped: Keyed = {
      interpolation: "step",
      keys: [
        [1, 0],
        [12, 355],
        [24, 0],
      ],
    };
    expect(wraps(bipedDocument({ "forearm_l rotation.y": stepped }))).toEqual([]);
    expect(
      wraps(
        bipedDocument({
          "forearm_l rotation.y": [
            [1, -85],
            [12, 85],
            [24, -85],
          ],
        }),
      ),
    ).toEqual([]);
    const radians = bipedDocument(
      {
        "forearm_l rotation.y": [
          [1, 0],
          [12, 3],
          [24, 0],
        ],
      },
      { more: { space: { metresPerUnit: 1, angle: "radians" } } },
    );
    expect(wraps(radians)).toEqual([]);
  });

  test("finds it in radians", () => {
    const document = bipedDocument(
      {
        "forearm_l rotation.y": [
          [1, 0],
          [12, 6.2],
          [24, 6.2],
        ],
      },
      { more: { space: { metresPerUnit: 1, angle: "radians" } } },
    );
    expect(wraps(document)).toHaveLength(1);
  });

  test("says nothing about documents with next to nothing in them", () =>
    expectQuietOnBarren("rotation-flip"));
});
