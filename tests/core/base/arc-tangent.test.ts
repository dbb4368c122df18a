import fc from "fast-check";
import { expect, test } from "vitest";
import { arcTangent } from "../../../packages/core/base/arc-tangent.ts";

const side = fc.double({ min: 0, max: 1e12, noNaN: true });

test("agrees with the arc tangent of the language to the last place or two", () => {
  fc.assert(
    fc.property(side, side, (y, x) => {
      const expected = Math.atan2(y, x);
      expect(Math.abs(arcTangent(y, x) - expected)).toBeLessThanOrEqual(4 * Number.EPSILON * expected);
    }),
    { numRuns: 2000 },
  );
});

test.each([
  ["nothing over nothing", 0, 0],
  ["along the first axis", 0, 3],
  ["along the second axis", 3, 0],
  ["just below the border of the polynomial", 0.4375 - 1e-12, 1],
  ["at its border", 7, 16],
  ["the smallest numbers", 5e-324, 5e-324],
])("%s", (_, y, x) => expect(arcTangent(y, x)).toBeCloseTo(Math.atan2(y, x), 15));
