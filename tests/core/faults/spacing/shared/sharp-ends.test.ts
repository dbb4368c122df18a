import { describe, expect, test } from "vitest";
import { sharpEnd } from "../../../../../packages/core/faults/spacing/shared/sharp-ends.ts";
import { easedStop } from "../../../../../packages/core/motion/path/minimum-jerk.ts";

/** Steps of a move from rest to rest over 60 poses, by the share of the way gone at a share of its time. */
function endOf(gone: (share: number) => number, direction: 1 | -1) {
  const steps = new Float64Array(81);
  for (let i = 1; i <= 60; i++) steps[10 + i] = gone(i / 60) - gone((i - 1) / 60);
  const move = { from: 10, peak: 40, to: 70, peakSpeed: 1, travel: 1, startsAtRest: true, endsAtRest: true };
  return sharpEnd(steps, move, direction, 1e-6, 100);
}

describe("sharp ends", () => {
  test.each([1, -1] as const)(
    "smooth keys are as sharp from half of the speed as all through (%i)",
    (way) => {
      const end = endOf((t) => t * t * (3 - 2 * t), way);
      // A parabola of speed is at 80 % of its peak at 0.2764 of its length, and at 10 % at 0.0257.
      expect(end?.takes).toBeCloseTo(60 * (0.27639 - 0.02566), 0);
    },
  );

  test("a minimum-jerk move takes what is asked of it", () => {
    const end = endOf((t) => t ** 3 * (10 - 15 * t + 6 * t * t), -1);
    expect(end?.takes).toBeCloseTo(easedStop(60), 0);
    // The way up to where the other end is at half of its speed is left out, 8 % of the travel.
    expect(end?.eased).toBeCloseTo(0.92 * easedStop(60), 0);
  });

  test("an end that is soft to half of its speed and then breaks off is as sharp as its last part", () => {
    const steps = new Float64Array([0, 0.2, 0.6, 1, 1, 1, 0.95, 0.9, 0.85, 0.75, 0.65, 0.55, 0, 0, 0]);
    const move = { from: 0, peak: 3, to: 12, peakSpeed: 1, travel: 8, startsAtRest: true, endsAtRest: true };
    const end = sharpEnd(steps, move, -1, 1e-6, 100);
    expect(end?.takes).toBeLessThan(2);
    expect(end?.fast).toBe(11);
  });

  test("rest is where the speed falls under a tenth of the peak, not where all creeping ends", () => {
    const steps = new Float64Array([0, 0.2, 0.6, 1, 1, 1, 1, 0.6, 0.3, 0.09, 0.06, 0.03, 0, 0]);
    const move = { from: 0, peak: 3, to: 11, peakSpeed: 1, travel: 5, startsAtRest: true, endsAtRest: true };
    expect(sharpEnd(steps, move, -1, 1e-6, 100)?.rest).toBe(8);
    const start = { ...move, from: 1, to: 12 };
    expect(sharpEnd(steps.slice().reverse(), start, 1, 1e-6, 100)?.rest).toBe(4);
  });

  test("a move that has slowed to a third, and keeps that, ends from there; with an ease behind it as a whole", () => {
    const rush = [0, 0.2, 0.6, 1, 1, 0.7, 0.35, 0.35, 0.34, 0.35, 0.34];
    const move = { from: 0, peak: 3, to: 10, peakSpeed: 1, travel: 5, startsAtRest: true, endsAtRest: true };
    const end = sharpEnd(new Float64Array([...rush, 0, 0, 0]), move, -1, 1e-6, 100);
    expect(end).toMatchObject({ peak: 0.35, rest: 10, fast: 10 });
    expect(end?.most).toBeLessThan(1);
    // A step at full speed, then rest: from 80 % to 10 % of it.
    expect(end?.takes).toBeCloseTo(0.7, 1);
    const eased = new Float64Array([...rush, 0.25, 0.12, 0.06, 0, 0]);
    expect(sharpEnd(eased, { ...move, to: 12 }, -1, 1e-6, 100)?.most).toBe(Number.POSITIVE_INFINITY);
    // What creeps on beyond is no rest of so slow a part.
    const creeping = new Float64Array([...rush, 0.05, 0.05, 0.05]);
    expect(sharpEnd(creeping, move, -1, 1e-6, 100)?.most).toBe(Number.POSITIVE_INFINITY);
  });
});
