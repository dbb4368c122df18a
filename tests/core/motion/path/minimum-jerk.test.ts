import { describe, expect, test } from "vitest";
import {
  easedStop,
  lengthFromPeak,
  peakOverMean,
  timeOfFallingSpeed,
} from "../../../../packages/core/motion/path/minimum-jerk.ts";
import { minimumJerkSpeed } from "../../../support/minimum-jerk.ts";

describe("minimum jerk (Flash & Hogan 1985)", () => {
  test("its peak speed is 1.875 times the mean", () => {
    expect(minimumJerkSpeed(0.5)).toBe(peakOverMean);
  });

  test("the time of a falling speed is where the polynomial has it", () => {
    for (const share of [1, 0.8, 0.5, 0.1, 0.01]) {
      const t = timeOfFallingSpeed(share);
      expect(t).toBeGreaterThanOrEqual(0.5);
      expect(minimumJerkSpeed(t)).toBeCloseTo(share * peakOverMean, 12);
    }
    expect(timeOfFallingSpeed(0)).toBe(1);
  });

  test("an eased stop takes a quarter of the move from 80 % to 10 % of the peak", () => {
    // Found on a fine grid of the polynomial, apart from the closed form.
    const steps = 200_000;
    const falling = (share: number) => {
      let i = steps / 2;
      while (30 * (i / steps) ** 2 * (1 - i / steps) ** 2 > share * 1.875) i++;
      return i / steps;
    };
    expect(easedStop(1)).toBeCloseTo(falling(0.1) - falling(0.8), 4);
    expect(easedStop(12)).toBeCloseTo(12 * easedStop(1), 12);
  });

  test("the length of a move follows from its travel and its peak", () => {
    expect(lengthFromPeak(0.6, 1.5)).toBeCloseTo(0.75, 12);
    expect(lengthFromPeak(0.6, 0)).toBe(0);
  });
});
