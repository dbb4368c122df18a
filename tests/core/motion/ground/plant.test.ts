import { describe, expect, test } from "vitest";
import {
  lowestCluster,
  type PlantLimits,
  plantsIn,
  standingLevel,
  standingSpeeds,
} from "../../../../packages/core/motion/ground/plant.ts";

const limits: PlantLimits = {
  deepest: 0.17,
  leaveHeight: 0.05,
  leaveSpeed: 1.2,
  enterHeight: 0.025,
  enterSpeed: 0.8,
  stillSpeed: 0.1,
  shortest: 2,
  longestGap: 1,
};

describe("plants of a point", () => {
  const high = new Float64Array(12).fill(0.3);
  const still = new Float64Array(12);

  test("low and slow is planted; high, or fast, is not", () => {
    const height = high.slice().fill(0.01, 3, 8);
    expect(plantsIn(height, still, limits)).toEqual([{ from: 3, to: 7 }]);
    expect(plantsIn(high, still, limits)).toEqual([]);
    expect(plantsIn(height, still.slice().fill(3), limits)).toEqual([]);
  });

  test("a plant lasts to the leaving limits, not only the entering ones", () => {
    const height = Float64Array.of(0.3, 0.04, 0.02, 0.02, 0.03, 0.045, 0.06, 0.3);
    const speed = Float64Array.of(2, 1, 0.5, 0.5, 0.9, 1.1, 1.1, 2);
    expect(plantsIn(height, speed, limits)).toEqual([{ from: 1, to: 5 }]);
  });

  test("a foot that passes low at speed is not planted; one that hovers still is", () => {
    const height = high.slice().fill(0.03, 3, 8);
    expect(plantsIn(height, still.slice().fill(0.9), limits)).toEqual([]);
    expect(plantsIn(height, still.slice().fill(0.02), limits)).toEqual([{ from: 3, to: 7 }]);
  });

  test("one frame off does not end a plant; one frame on makes none", () => {
    const height = high.slice().fill(0.01, 2, 9);
    height[5] = 0.2;
    expect(plantsIn(height, still, limits)).toEqual([{ from: 2, to: 8 }]);
    expect(plantsIn(high.slice().fill(0.01, 4, 5), still, limits)).toEqual([]);
  });

  test("far under the surface is not on it", () => {
    expect(plantsIn(high.slice().fill(-0.1), still, limits)).toHaveLength(1);
    expect(plantsIn(high.slice().fill(-0.5), still, limits)).toEqual([]);
  });

  test.each([0, 1, 2])("%i samples", (count) => {
    const runs = plantsIn(new Float64Array(count), new Float64Array(count), limits);
    expect(runs).toEqual(count === 0 ? [] : [{ from: 0, to: count - 1 }]);
  });
});

describe("standing speed", () => {
  test("a point that lands within a frame stands from the sample it lands on", () => {
    // Swings at 2.4 m/s, stands on samples 3 to 6, swings on: 24 samples per second.
    const x = [0, 0.1, 0.2, 0.3, 0.3, 0.3, 0.3, 0.4, 0.5];
    const speeds = standingSpeeds(Float64Array.from(x.flatMap((value) => [value, 0, 0])), 1, 1 / 24);
    expect([...speeds].map((speed) => speed < 0.1)).toEqual([
      ...[false, false, false],
      ...[true, true, true, true],
      ...[false, false],
    ]);
  });

  test.each([0, 1, 2])("%i samples that stand", (count) => {
    expect([...standingSpeeds(new Float64Array(3 * count).fill(1), 2, 1 / 24)]).toEqual(
      new Array(count).fill(0),
    );
  });
});

describe("level at which a point stands", () => {
  test("is the lowest of several, and not that of a few strays", () => {
    const heights = Float64Array.from([
      ...new Array(4).fill(-0.2),
      ...new Array(50).fill(0.1),
      ...new Array(100).fill(0.4),
    ]);
    const slow = new Float64Array(heights.length);
    expect(standingLevel(heights, slow, 0.4, 0.02)).toBe(0.1);
    expect(standingLevel(heights, slow.fill(1), 0.4, 0.02)).toBeNull();
  });

  test("of few samples", () => {
    expect(lowestCluster(Float64Array.of(0.3), 0.02)).toBe(0.3);
    expect(lowestCluster(new Float64Array(0), 0.02)).toBeNaN();
  });
});
