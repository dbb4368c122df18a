import { expect, test } from "vitest";
import { medianOf } from "../../../packages/core/base/median.ts";

test("the median ignores what is not finite", () => {
  expect(medianOf([3, 1, 2])).toBe(2);
  expect(medianOf([4, 1, 2, 3])).toBe(2.5);
  expect(medianOf([1, Number.NaN, 3, Number.POSITIVE_INFINITY])).toBe(2);
  expect(medianOf([])).toBeNaN();
});
