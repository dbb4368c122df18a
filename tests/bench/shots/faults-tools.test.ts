import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { load } from "./bodies-for-tests.ts";
import type { Interpolation, Key, KeyedCurve } from "./types.d.ts";

const { addKnots, copyOf, cutAt, reshape } = await load("faults/tools/curve.mjs");
const { valueAt } = await load("poses.mjs");

const value = fc.double({ min: -50, max: 50, noNaN: true });
/**
 * Curves of four to nine keys, two to nine frames apart. Their handles do not reach past each other: a piece of a segment
 * whose handles do can need one that is longer than itself, and is then shortened.
 */
const curve = fc
  .tuple(
    fc.constantFrom<Interpolation>("linear", "smooth", "bezier"),
    fc.array(
      fc.record({
        gap: fc.integer({ min: 2, max: 9 }),
        value,
        rise: value,
        reach: fc.double({ min: 0.1, max: 0.5, noNaN: true }),
      }),
      {
        minLength: 4,
        maxLength: 9,
      },
    ),
  )
  .map(([interpolation, parts]): KeyedCurve => {
    let frame = 0;
    const keys = parts.map(({ gap, value, rise, reach }): Key => {
      frame += gap;
      const handles = {
        in: [-2 * reach, -rise] as [number, number],
        out: [2 * reach, rise] as [number, number],
      };
      return interpolation === "bezier" ? { frame, value, ...handles } : { frame, value };
    });
    return { joint: "hand", channel: "rotation.x", interpolation, keys };
  });
const spanOf = ({ keys }: KeyedCurve) => [keys[0].frame, keys[keys.length - 1].frame] as const;
const samples = (from: number, to: number) =>
  Array.from({ length: 4 * (to - from) + 1 }, (_, i) => from + i / 4);

/** A curve that is nearly upright takes up a step of rounding of its time: the value is one of those a moment around. */
function expectSame(value: number, curve: KeyedCurve, frame: number): void {
  const around = [frame - 1e-6, frame, frame + 1e-6].map((moment) => valueAt(curve, moment));
  expect(value).toBeGreaterThanOrEqual(Math.min(...around) - 5e-4);
  expect(value).toBeLessThanOrEqual(Math.max(...around) + 5e-4);
}

describe("keys on curves", () => {
  test("a key set on a curve changes nothing", () => {
    fc.assert(
      fc.property(curve, fc.double({ min: 0.05, max: 0.95, noNaN: true }), (before, share) => {
        const [from, to] = spanOf(before);
        const after = copyOf(before);
        cutAt(after, Math.round(from + share * (to - from)));
        for (const frame of samples(from, to)) expectSame(valueAt(after, frame), before, frame);
      }),
    );
  });

  test("straight pieces are added exactly, and nowhere else", () => {
    fc.assert(
      fc.property(curve, value, (before, by) => {
        const [from, to] = spanOf(before);
        const knots: [number, number][] = [
          [from + 1, 0],
          [from + 3, by],
          [to - 1, 0],
        ];
        const after = copyOf(before);
        addKnots(after, knots);
        const added = (frame: number) => {
          if (frame <= knots[0][0] || frame >= knots[2][0]) return 0;
          const n = frame < knots[1][0] ? 0 : 1;
          const share = (frame - knots[n][0]) / (knots[n + 1][0] - knots[n][0]);
          return knots[n][1] + share * (knots[n + 1][1] - knots[n][1]);
        };
        for (const frame of samples(from, to)) {
          expectSame(valueAt(after, frame) - added(frame), before, frame);
        }
      }),
    );
  });

  test("a stretch drawn anew has the slopes that were asked for, and the rest stays", () => {
    fc.assert(
      fc.property(curve, value, value, (before, slopeFrom, slopeTo) => {
        const [first, last] = spanOf(before);
        const [from, to] = [first + 1, last - 1];
        const after = copyOf(before);
        reshape(after, from, to, slopeFrom, slopeTo);
        const step = 1e-4;
        const slope = (frame: number, side: 1 | -1) =>
          (side * (valueAt(after, frame + side * step) - valueAt(after, frame))) / step;
        expect(slope(from, 1)).toBeCloseTo(slopeFrom, 1);
        expect(slope(to, -1)).toBeCloseTo(slopeTo, 1);
        for (const frame of [...samples(first, from), ...samples(to, last)]) {
          expectSame(valueAt(after, frame), before, frame);
        }
      }),
    );
  });

  test("a curve with a key on every frame keeps them all", () => {
    const keys = Array.from({ length: 12 }, (_, i) => ({ frame: i, value: Math.sin(i) }));
    const dense: KeyedCurve = { joint: "hand", channel: "rotation.x", interpolation: "linear", keys };
    const after = copyOf(dense);
    reshape(after, 2, 9, 0, 0);
    expect(after.keys.map(({ frame }: Key) => frame)).toEqual(keys.map(({ frame }) => frame));
    expect(after.keys[2].value).toBe(keys[2].value);
    expect(after.keys[3].value - after.keys[2].value).toBeCloseTo(
      (keys[9].value - keys[2].value) * (3 / 49 - 2 / 343),
      9,
    );
  });
});
