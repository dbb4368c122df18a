import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  butterworth,
  dualPassFactor,
  hampel,
  lowPassed,
  madScale,
  medianOf,
  robustSpread,
  savitzkyGolay,
  smoothed,
} from "../../../../packages/core/motion/path/smoothing.ts";

describe("Savitzky–Golay", () => {
  // Published tables (Savitzky & Golay 1964 with later corrections), exact.
  test.each([
    [5, 2, 0, 35, [-3, 12, 17, 12, -3]],
    [5, 3, 0, 35, [-3, 12, 17, 12, -3]],
    [7, 2, 0, 21, [-2, 3, 6, 7, 6, 3, -2]],
    [9, 2, 0, 231, [-21, 14, 39, 54, 59, 54, 39, 14, -21]],
    [7, 4, 0, 231, [5, -30, 75, 131, 75, -30, 5]],
    [5, 2, 1, 10, [-2, -1, 0, 1, 2]],
    [7, 2, 1, 28, [-3, -2, -1, 0, 1, 2, 3]],
    [5, 3, 1, 12, [1, -8, 0, 8, -1]],
    [7, 4, 1, 252, [22, -67, -58, 0, 58, 67, -22]],
    [5, 2, 2, 7, [2, -1, -2, -1, 2]],
    [7, 3, 2, 42, [5, 0, -3, -4, -3, 0, 5]],
  ])("%i samples, order %i, derivative %i", (length, order, derivative, divisor, table) => {
    const coefficients = savitzkyGolay(length, order, derivative);
    table.forEach((value, i) => {
      expect(coefficients[i]).toBeCloseTo(value / divisor, 12);
    });
  });

  test("keeps a cubic and gives its derivatives, at the ends as well", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -5, max: 5 }), { minLength: 4, maxLength: 4 }), (c) => {
        const dt = 0.1;
        const at = (i: number) => i * dt;
        const series = Float64Array.from(
          { length: 12 },
          (_, i) => c[0] + c[1] * at(i) + c[2] * at(i) ** 2 + c[3] * at(i) ** 3,
        );
        const value = smoothed(series, 7, 3);
        const first = smoothed(series, 7, 3, 1, dt);
        const second = smoothed(series, 7, 3, 2, dt);
        for (let i = 0; i < 12; i++) {
          expect(value[i]).toBeCloseTo(series[i], 9);
          expect(first[i]).toBeCloseTo(c[1] + 2 * c[2] * at(i) + 3 * c[3] * at(i) ** 2, 8);
          expect(second[i]).toBeCloseTo(2 * c[2] + 6 * c[3] * at(i), 7);
        }
      }),
    );
  });

  test.each([0, 1, 2, 3])("a series of %i samples gives as many numbers", (count) => {
    const series = new Float64Array(count).fill(2);
    expect([...smoothed(series, 7, 2)]).toEqual([...series].map(() => expect.closeTo(2, 12)));
    expect(smoothed(series, 7, 2, 1).every((value) => Math.abs(value) < 1e-12)).toBe(true);
  });
});

describe("medians and outliers", () => {
  test("the median ignores what is not finite", () => {
    expect(medianOf([3, 1, 2])).toBe(2);
    expect(medianOf([4, 1, 2, 3])).toBe(2.5);
    expect(medianOf([1, Number.NaN, 3, Number.POSITIVE_INFINITY])).toBe(2);
    expect(medianOf([])).toBeNaN();
  });

  test("the spread of normal data is its standard deviation", () => {
    // Quartiles of the standard normal lie at ±0.6744898 (published tables).
    expect(madScale).toBeCloseTo(1 / 0.6744897502, 8);
    expect(robustSpread([-0.6744897502, 0, 0.6744897502])).toBeCloseTo(1, 8);
    expect(robustSpread([5])).toBe(0);
  });

  test("Hampel's rule finds the spike and nothing else", () => {
    const series = Float64Array.from({ length: 30 }, (_, i) => Math.sin(i / 5));
    series[12] += 4;
    expect([...hampel(series)].flatMap((outlier, i) => (outlier === 1 ? [i] : []))).toEqual([12]);
    expect(hampel(new Float64Array(9)).some((outlier) => outlier === 1)).toBe(false);
    expect(hampel(new Float64Array(0))).toHaveLength(0);
  });
});

describe("Butterworth", () => {
  test("is widened for the dual pass: 10 Hz to 12.47 Hz, 6 Hz to 7.479028 Hz (BMC notebook; computed)", () => {
    expect(dualPassFactor).toBeCloseTo(0.802243, 6);
    expect(10 / dualPassFactor).toBeCloseTo(12.47, 2);
    expect(6 / dualPassFactor).toBeCloseTo(7.479028, 6);
  });

  test("has the published coefficients at 6 Hz of 100 Hz", () => {
    const { b, a } = butterworth(6, 100);
    [0.04105321, 0.08210643, 0.04105321].forEach((value, i) => {
      expect(b[i]).toBeCloseTo(value, 7);
    });
    [1, -1.35072142, 0.51493428].forEach((value, i) => {
      expect(a[i]).toBeCloseTo(value, 7);
    });
  });

  test("lets a slow sine pass without lag and halves the power at its cutoff", () => {
    const sine = (frequency: number) =>
      Float64Array.from({ length: 800 }, (_, i) => Math.sin((2 * Math.PI * frequency * i) / 100));
    const slow = lowPassed(sine(1), 6, 100);
    sine(1).forEach((value, i) => {
      expect(Math.abs(slow[i] - value)).toBeLessThan(0.01);
    });
    const atCutoff = lowPassed(sine(6), 6, 100).subarray(300, 500);
    let power = 0;
    for (const value of atCutoff) power += (2 * value * value) / atCutoff.length;
    // Dividing the frequency before prewarping leaves (1 / (1 + 0.4036))² = 0.5076.
    expect(power).toBeCloseTo(0.5076, 3);
  });

  test("keeps a constant, and series too short or too slow to filter", () => {
    expect(lowPassed(new Float64Array(20).fill(3), 6, 100).every((v) => Math.abs(v - 3) < 1e-12)).toBe(true);
    expect([...lowPassed(Float64Array.of(1, 5), 6, 100)]).toEqual([1, 5]);
    expect([...lowPassed(Float64Array.of(1, 5, 2), 20, 24)]).toEqual([1, 5, 2]);
    expect(lowPassed(new Float64Array(0), 6, 100)).toHaveLength(0);
  });
});
