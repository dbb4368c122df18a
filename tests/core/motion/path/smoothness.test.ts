import { describe, expect, test } from "vitest";
import { minimumJerkSpeed } from "../../../../packages/core/motion/path/minimum-jerk.ts";
import {
  dimensionlessJerk,
  logDimensionlessJerk,
  spectralArcLength,
} from "../../../../packages/core/motion/path/smoothness.ts";

/** Speed of a minimum-jerk move of one second, first and last sample included. */
const minimumJerk = (rate: number) =>
  Float64Array.from({ length: rate + 1 }, (_, i) => minimumJerkSpeed(i / rate));

describe("smoothness (Balasubramanian and others 2015)", () => {
  const bell = Float64Array.from({ length: 200 }, (_, i) => Math.exp(-5 * (-1 + 0.01 * i) ** 2));

  test("the example in the authors' code: exp(−5t²) at 100 Hz", () => {
    expect(spectralArcLength(bell, 100)).toBeCloseTo(-1.41403, 5);
    expect(dimensionlessJerk(bell, 100)).toBeCloseTo(-335.74684, 4);
    expect(logDimensionlessJerk(bell, 100)).toBeCloseTo(-5.81636, 5);
  });

  // Computed with the authors' code.
  test.each([
    [100, -1.40583, -200.664, -5.3016],
    [120, -1.40041, -201.359, -5.3051],
    [1000, -1.40243, -204.39, -5.32],
  ])("a minimum-jerk move at %i Hz", (rate, arcLength, jerk, logJerk) => {
    expect(spectralArcLength(minimumJerk(rate), rate)).toBeCloseTo(arcLength, 5);
    expect(dimensionlessJerk(minimumJerk(rate), rate)).toBeCloseTo(jerk, 2);
    expect(logDimensionlessJerk(minimumJerk(rate), rate)).toBeCloseTo(logJerk, 4);
  });

  test("two moves back to back are less smooth than one", () => {
    const one = minimumJerk(100);
    const two = Float64Array.from([...one, ...one.subarray(1)]);
    expect(spectralArcLength(two, 100)).toBeCloseTo(-2.24455, 5);
    expect(logDimensionlessJerk(two, 100)).toBeCloseTo(-8.08427, 5);
  });

  test("a larger or slower copy of a move is as smooth", () => {
    const large = minimumJerk(100).map((speed) => 250 * speed);
    expect(spectralArcLength(large, 100)).toBeCloseTo(spectralArcLength(minimumJerk(100), 100), 10);
    expect(logDimensionlessJerk(large, 100)).toBeCloseTo(logDimensionlessJerk(minimumJerk(100), 100), 10);
  });

  test.each([[[]], [[0]], [[0, 0, 0, 0]]])("without motion there is no smoothness: %j", (series) => {
    expect(spectralArcLength(series, 24)).toBeNaN();
    expect(dimensionlessJerk(series, 24)).toBeNaN();
  });

  test("a short series gives numbers", () => {
    expect(spectralArcLength([1], 24)).toBeLessThanOrEqual(0);
    expect(dimensionlessJerk([1, 2, 1], 24)).toBeLessThan(0);
  });
});
