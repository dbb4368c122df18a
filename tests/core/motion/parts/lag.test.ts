import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bestLag, correlationAt, vertexOf } from "../../../../packages/core/motion/parts/lag.ts";

const wave = (shift: number, count = 80) =>
  Float64Array.from({ length: count }, (_, i) => Math.exp(-(((i - 40 - shift) / 6) ** 2)));

describe("lag", () => {
  test("finds by how many samples one series runs behind another, and fractions of one", () => {
    for (const shift of [-5, -2.5, -0.25, 0, 0.4, 1, 3.7, 6]) {
      const { lag, correlation } = bestLag(wave(0), wave(shift), 10);
      expect(Math.abs(lag - shift)).toBeLessThan(0.05);
      expect(correlation).toBeGreaterThan(0.98);
    }
  });

  test("scale and offset do not matter; the sign only by magnitude", () => {
    const scaled = wave(2).map((value) => 7 - 3 * value);
    expect(bestLag(wave(0), scaled, 10, "magnitude").lag).toBeCloseTo(2, 2);
    expect(bestLag(wave(0), scaled, 10, "magnitude").correlation).toBeCloseTo(-1, 6);
    expect(correlationAt(wave(0), scaled, 2)).toBeCloseTo(-1, 6);
  });

  test("is never out of −1 to 1", () => {
    const series = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { maxLength: 12 });
    fc.assert(
      fc.property(series, series, fc.integer({ min: -12, max: 12 }), (a, b, lag) => {
        const correlation = correlationAt(a, b, lag);
        expect(Math.abs(correlation)).toBeLessThanOrEqual(1);
        expect(correlation).toBeCloseTo(correlationAt(b, a, -lag), 9);
      }),
    );
  });

  test.each([[[]], [[1]], [[1, 2]], [[4, 4, 4, 4]], [[0.1, 0.1, 0.1, 0.1, 0.1, 0.1]]])(
    "without motion there is no lag: %j",
    (series) => {
      expect(bestLag(series, series, 5)).toEqual({ lag: 0, correlation: 0 });
    },
  );

  test("the vertex of a parabola", () => {
    const parabola = (x: number) => 3 - (x - 0.3) ** 2;
    expect(vertexOf(parabola(-1), parabola(0), parabola(1))).toBeCloseTo(0.3, 12);
    expect(vertexOf(1, 1, 1)).toBe(0);
    expect(vertexOf(2, 1, 2)).toBe(0);
  });
});
