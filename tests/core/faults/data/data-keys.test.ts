import { describe, expect, test } from "vitest";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { everyFrame, type Keyed, notesOfCheck, pointDocument } from "../../../support/shots.ts";

const point = (keyed: Keyed) => pointDocument({ "translation.x": keyed }, { range: [1, 40] });
const smooth = (keys: [number, number][]): Keyed => ({ interpolation: "smooth", keys });

describe("key-off-frame", () => {
  const notes = (keyed: Keyed) => notesOfCheck(point(keyed), "key-off-frame");

  test("names the keys between frames, once per curve", () => {
    const found = notes(
      smooth([
        [1, 0],
        [8, 1],
        [12.4, 2],
        [20, 3],
        [28, 4],
        [33.5, 5],
        [36, 5.5],
        [38, 5.8],
        [40, 6],
      ]),
    );
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({
      node: "point",
      tier: "polish",
      measured: { value: 0.5, unit: "frames" },
    });
    expect(found[0].keys.map(({ frame }) => frame)).toEqual([12.4, 33.5]);
    expect(found[0].suggestion).toContain("(12.4 to 12)");
  });

  test("is silent on whole frames, on rounding, and on curves sampled at another rate", () => {
    expect(
      notes(
        smooth([
          [1, 0],
          [12.001, 2],
          [40, 6],
        ]),
      ),
    ).toEqual([]);
    expect(notes(Array.from({ length: 50 }, (_, i): [number, number] => [1 + i * 0.8, i]))).toEqual([]);
  });

  test("says nothing about documents with next to nothing in them", () =>
    expectQuietOnBarren("key-off-frame"));
});

describe("key-crowding", () => {
  const notes = (keyed: Keyed) => notesOfCheck(point(keyed), "key-crowding");

  test("finds two keys within a frame, and weighs them by what they move", () => {
    const keys = (value: number): [number, number][] => [
      [1, 0],
      [12, 0.2],
      [12.5, value],
      [24, 0.4],
      [32, 0.5],
      [40, 0.6],
    ];
    const [large] = notes(smooth(keys(0.5)));
    const [small] = notes(smooth(keys(0.201)));
    expect(large.keys.map(({ frame }) => frame)).toEqual([12.5, 12]);
    expect(large.measured.value).toBeCloseTo(0.5, 9);
    expect(large.weight).toBeGreaterThan(small.weight);
  });

  test("is silent on keys a frame apart, on a step and its new value, and on dense sampling", () => {
    expect(
      notes(
        smooth([
          [1, 0],
          [12, 1],
          [13, 2],
          [40, 3],
        ]),
      ),
    ).toEqual([]);
    const step: Keyed = {
      interpolation: "linear",
      keys: [
        [1, 0],
        [12, 1, { interpolation: "step" }],
        [12.5, 2],
        [24, 2.5],
        [32, 2.8],
        [40, 3],
      ],
    };
    expect(notes(step)).toEqual([]);
    expect(notes(Array.from({ length: 80 }, (_, i): [number, number] => [1 + i * 0.49, i]))).toEqual([]);
  });

  test("says nothing about documents with next to nothing in them", () =>
    expectQuietOnBarren("key-crowding"));
});

describe("idle-curve", () => {
  const notes = (keyed: Keyed) => notesOfCheck(point(keyed), "idle-curve");

  test("finds a curve whose keys all hold the same value", () => {
    const found = notes(everyFrame(1, 12, () => 0.3));
    expect(found).toMatchObject([{ node: "point", tier: "polish", measured: { value: 12 } }]);
    expect(found[0].keys).toMatchObject([{ channel: "translation.x", index: 0 }]);
  });

  test("is silent on one or two keys, on curves that change, and on handles that lean", () => {
    expect(
      notes([
        [1, 0.3],
        [40, 0.3],
      ]),
    ).toEqual([]);
    expect(
      notes([
        [1, 0.3],
        [20, 0.3],
        [40, 0.31],
      ]),
    ).toEqual([]);
    const leaning: Keyed = {
      interpolation: "bezier",
      keys: [
        [1, 0.3, { out: [4, 0.1] }],
        [20, 0.3],
        [40, 0.3],
      ],
    };
    expect(notes(leaning)).toEqual([]);
  });

  test("says nothing about documents with next to nothing in them", () => {
    const range = [1, 24] as const;
    expect(notesOfCheck(pointDocument({ "translation.x": [] }, { range }), "idle-curve")).toEqual([]);
    expect(notesOfCheck(pointDocument({ "translation.x": [[1, 2]] }, { range }), "idle-curve")).toEqual([]);
  });
});
