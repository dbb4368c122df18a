import fc from "fast-check";
import { expect, test } from "vitest";
import { Clock } from "../../packages/player/clock.ts";

test("the frame that is due depends on the time alone, and stays in the range", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 300 }),
      fc.integer({ min: 1, max: 200 }),
      fc.integer({ min: -20, max: 600 }),
      fc.double({ min: 0, max: 100_000, noNaN: true }),
      fc.constantFrom(12, 24, 25, 30, 60),
      (start, length, frame, passed, rate) => {
        const clock = new Clock();
        const end = start + length - 1;
        clock.begin(frame, 1000, [start, end]);
        const due = clock.frameAt(1000 + passed, rate);
        expect(due).toBeGreaterThanOrEqual(start);
        expect(due).toBeLessThanOrEqual(end);
        // A whole round later the same frame is due again; halfway into a frame nothing is rounded the other way.
        const steady = (Math.floor((passed * rate) / 1000) + 0.5) * (1000 / rate);
        const round = (1000 * length) / rate;
        expect(clock.frameAt(1000 + steady + round, rate)).toBe(clock.frameAt(1000 + steady, rate));
        expect(clock.frameAt(1000 + steady, rate)).toBe(due);
      },
    ),
  );
});

test("a second later as many frames have passed as the rate says", () => {
  const clock = new Clock();
  clock.begin(10, 0, [0, 99]);
  expect(clock.frameAt(1000, 24)).toBe(34);
  expect(clock.frameAt(1000, 12)).toBe(22);
  expect(clock.frameAt(4000, 24)).toBe(6);
});
