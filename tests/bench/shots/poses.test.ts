import { type CurveDocument, valueAt as coreValueAt, shotOf } from "@keyside/core";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { load } from "./bodies-for-tests.ts";
import type { Interpolation, KeyedCurve } from "./types.d.ts";

const { valueAt, sampled } = await load("poses.mjs");

const interpolation = fc.constantFrom<Interpolation>("step", "linear", "smooth", "bezier");
const number = fc.double({ min: -10, max: 10, noNaN: true });
const handle = (way: 1 | -1) =>
  fc.option(
    fc
      .tuple(fc.double({ min: -1, max: 8, noNaN: true }), number)
      .map(([frames, value]) => [way * frames, value]),
    { nil: undefined },
  );
const key = fc.record(
  { value: number, in: handle(-1), out: handle(1), interpolation },
  { requiredKeys: ["value"] },
);
const curve = fc.tuple(
  interpolation,
  fc.array(key, { minLength: 1, maxLength: 8 }),
  fc.array(fc.integer({ min: 1, max: 9 })),
);

/** Handles belong to bezier segments alone: the others are left out, as a document would not have them. */
function curveOf(usual: Interpolation, keys: readonly object[], gaps: readonly number[]): KeyedCurve {
  let frame = 1;
  const placed = keys.map((one, k) => {
    frame += k === 0 ? 0 : (gaps[k] ?? 3);
    return { ...one, frame } as KeyedCurve["keys"][number];
  });
  placed.forEach((one, k) => {
    const mode = (n: number) => placed[n]?.interpolation ?? usual;
    if (one.in === undefined || k === 0 || mode(k - 1) !== "bezier") delete one.in;
    if (one.out === undefined || mode(k) !== "bezier") delete one.out;
    if (one.interpolation === undefined) delete one.interpolation;
  });
  return { joint: "ball", channel: "rotation.x", interpolation: usual, keys: placed };
}

describe("a keyed curve", () => {
  test("has the core's value at any time, in every interpolation and with any handles", () => {
    fc.assert(
      fc.property(
        curve,
        fc.array(fc.double({ min: -2, max: 60, noNaN: true })),
        ([usual, keys, gaps], times) => {
          const made = curveOf(usual, keys, gaps);
          const document: CurveDocument = {
            format: "keyside.curves",
            version: 1,
            shot: { frameRate: 24 },
            nodes: [{ id: "ball" }],
            curves: [
              {
                node: "ball",
                channel: "rotation.x",
                interpolation: usual,
                keys: made.keys.map(({ frame, value, ...extras }) => [frame, value, extras]),
              },
            ],
          };
          const own = shotOf(document).shot?.curves[0];
          if (own === undefined) throw new Error("The core gave no curve.");
          for (const time of [...times, 1, 2, 3.5]) {
            expect(valueAt(made, time)).toBeCloseTo(coreValueAt(own, time), 8);
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  test("holds before its first and behind its last key", () => {
    const one = curveOf("bezier", [{ value: 1 }, { value: 3 }], [0, 4]);
    expect([...sampled(one, -1, 3)]).toEqual([1, 1, 1]);
    expect([...sampled(one, 5, 3)]).toEqual([3, 3, 3]);
  });
});
