import fc from "fast-check";
import { expect, test } from "vitest";
import { inOrder, medianOf } from "../../../packages/core/base/median.ts";

test("the median ignores what is not finite", () => {
  expect(medianOf([3, 1, 2])).toBe(2);
  expect(medianOf([4, 1, 2, 3])).toBe(2.5);
  expect(medianOf([1, Number.NaN, 3, Number.POSITIVE_INFINITY])).toBe(2);
  expect(medianOf([])).toBeNaN();
});

test("the number at a place in the order is the one that sorting gives", () => {
  const anyNumber = fc.oneof(
    fc.integer({ min: 0, max: 5 }),
    fc.double(),
    fc.constantFrom(NaN, Infinity, -Infinity),
  );
  fc.assert(
    fc.property(fc.array(anyNumber, { minLength: 1, maxLength: 40 }), fc.nat(39), (numbers, at) => {
      const place = at % numbers.length;
      const sorted = Float64Array.from(numbers).sort();
      expect(inOrder(Float64Array.from(numbers), place) + 0).toBe(sorted[place] + 0);
    }),
  );
});
