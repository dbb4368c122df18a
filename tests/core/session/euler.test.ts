import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { angleBetween, eulerToQuaternion } from "../../../packages/core/base/quaternion.ts";
import { rotationOrders } from "../../../packages/core/document/schema.ts";
import { eulersNear, eulersNearWithin, nearest } from "../../../packages/core/faults/shared/posing/euler.ts";

const degrees = Math.PI / 180;
const angle = fc.double({ min: -400, max: 400, noNaN: true }).map((value) => value * degrees);
const order = fc.integer({ min: 0, max: 5 });

function turnOf(index: number, angles: ArrayLike<number>): Float64Array {
  const q = new Float64Array(4);
  eulerToQuaternion(index, angles[0], angles[1], angles[2], q, 0);
  return q;
}

describe("axis angles of a turn", () => {
  test("give the turn again, in every order", () => {
    fc.assert(
      fc.property(
        order,
        fc.tuple(angle, angle, angle),
        fc.tuple(angle, angle, angle),
        (index, angles, near) => {
          const q = turnOf(index, angles);
          expect(angleBetween(turnOf(index, eulersNear(index, q, 0, near)), 0, q, 0)).toBeLessThan(1e-6);
        },
      ),
    );
  });

  test("are those that are near, circles and all", () => {
    fc.assert(
      fc.property(order, fc.tuple(angle, angle, angle), (index, angles) => {
        const middle = "xyz".indexOf(rotationOrders[index][1]);
        // At lock itself only the sum of the outer angles is known.
        fc.pre(Math.abs(Math.cos(angles[middle])) > 1e-3);
        const found = eulersNear(index, turnOf(index, angles), 0, angles);
        for (let axis = 0; axis < 3; axis++) expect(found[axis]).toBeCloseTo(angles[axis], 6);
      }),
    );
  });

  // The rows of a published set of conversions (see the rotation tests): intrinsic XYZ by 30°, 40°, 50°.
  test("of a known quaternion are the published ones", () => {
    const q = Float64Array.of(0.36004217, 0.19662823, 0.46382691, 0.78522072);
    const found = eulersNear(rotationOrders.indexOf("xyz"), q, 0, [0, 0, 0]);
    expect([...found].map((value) => Math.round((value / degrees) * 1e4) / 1e4)).toEqual([30, 40, 50]);
  });

  test("at lock keep the outer angle where it was", () => {
    const index = rotationOrders.indexOf("zxy");
    const q = turnOf(index, [90 * degrees, 20 * degrees, 50 * degrees]);
    const found = eulersNear(index, q, 0, [90 * degrees, 0, 10 * degrees]);
    expect(found[2]).toBeCloseTo(10 * degrees, 6);
    expect(angleBetween(turnOf(index, found), 0, q, 0)).toBeLessThan(1e-6);
  });

  test("with the outer one held miss the turn by no more than is allowed", () => {
    const allowed = fc.double({ min: 0, max: 5, noNaN: true }).map((value) => value * degrees);
    fc.assert(
      fc.property(
        order,
        fc.tuple(angle, angle, angle),
        fc.tuple(angle, angle, angle),
        allowed,
        (index, angles, near, most) => {
          const q = turnOf(index, angles);
          const found = eulersNearWithin(index, q, 0, near, most);
          expect(angleBetween(turnOf(index, found), 0, q, 0)).toBeLessThan(most + 1e-6);
        },
      ),
    );
  });

  test("an angle comes within half a circle of another", () => {
    expect(nearest(-170 * degrees, 190 * degrees)).toBeCloseTo(190 * degrees, 9);
    expect(nearest(10 * degrees, 365 * degrees)).toBeCloseTo(370 * degrees, 9);
  });
});
