import fc from "fast-check";
import { expect, test } from "vitest";
import {
  fourthDifferences,
  mostOff,
  offCourse,
} from "../../../../packages/core/faults/spacing/pop/off-course.ts";

test("a stretch is no farther off its course than its fourth differences allow", () => {
  const number = fc.double({ min: -10, max: 10, noNaN: true });
  const anyPath = fc.array(number, { minLength: 45, maxLength: 45 });
  fc.assert(
    fc.property(anyPath, fc.integer({ min: 3, max: 9 }), fc.nat(20), (numbers, length, where) => {
      const path = Float64Array.from(numbers);
      const count = path.length / 3;
      const at = 2 + Math.min(where, count - length - 4);
      const bends = new Float64Array(count);
      fourthDifferences(path, bends);
      const most = Math.max(...bends.subarray(at, at + length));
      expect(offCourse(path, at, length) ** 2).toBeLessThanOrEqual(mostOff(length) * most);
    }),
    { numRuns: 1000 },
  );
});

test("that is no more than it takes: a quartic is off by all of it", () => {
  const path = Float64Array.from({ length: 90 }, (_, k) => (k % 3 === 0 ? (k / 3) ** 4 : 0));
  const bends = new Float64Array(30);
  fourthDifferences(path, bends);
  for (const length of [3, 5, 8])
    expect(offCourse(path, 10, length) ** 2 / (mostOff(length) * bends[12])).toBeCloseTo(1 / 1.01, 6);
});
