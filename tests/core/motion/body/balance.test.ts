import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { standardGravity } from "../../../../packages/core/base/constants.ts";
import {
  balanceAt,
  convexHull,
  extrapolated,
  type GroundPoint,
  marginTo,
  requiredFriction,
  supportPolygonOf,
  zeroMomentPoint,
} from "../../../../packages/core/motion/body/balance.ts";
import { bipedDocument, type Curves, studyOf } from "../../../support/shots.ts";

const square: GroundPoint[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

describe("balance", () => {
  test("the extrapolated centre of mass (Hof and others 2005; example with g = 9.81)", () => {
    const published = (length: number) => 0.02 + 0.25 / Math.sqrt(9.81 / length);
    expect(published(1)).toBeCloseTo(0.0998189, 7);
    // Standard gravity is 0.03 % less.
    expect(extrapolated(0.02, 0.25, 1)).toBeCloseTo(0.0998189, 4);
    expect(extrapolated(0.02, 0.25, 1.116)).toBeCloseTo(0.1043214, 4);
    expect(0.15 - extrapolated(0.02, 0.25, 1)).toBeCloseTo(0.0501811, 4);
    expect(extrapolated(0.3, 0, 1)).toBe(0.3);
  });

  test("the zero-moment point, at constant height and with vertical acceleration", () => {
    // x = 0.05, z = 0.9, ẍ = 1, with standard gravity: computed from the definition.
    expect(zeroMomentPoint(0.05, 0.9, 1)).toBeCloseTo(-0.0417745, 7);
    expect(zeroMomentPoint(0.05, 0.9, 1, 2)).toBeCloseTo(-0.0262282, 7);
    expect(zeroMomentPoint(0.05, 0.9, 0, 3)).toBe(0.05);
    expect(zeroMomentPoint(0.05, 0.9, 1, -standardGravity)).toBeNaN();
  });

  // Half angles of the friction cone, atan μ: 0.42 → 22.78°, 0.50 → 26.57°, 0.60 → 30.96°.
  test.each([
    [0.42, 22.78],
    [0.5, 26.57],
    [0.6, 30.96],
  ])("friction %f holds a lean of %f°", (friction, degrees) => {
    const lean = (degrees * Math.PI) / 180;
    expect(requiredFriction(standardGravity * Math.tan(lean), 0)).toBeCloseTo(friction, 3);
  });

  test("friction at rest and in the air", () => {
    expect(requiredFriction(0, 0)).toBe(0);
    expect(requiredFriction(0, -standardGravity)).toBe(0);
    expect(requiredFriction(1, -standardGravity)).toBe(Number.POSITIVE_INFINITY);
  });

  test("margins to a square", () => {
    expect(marginTo(square, [0.5, 0.5])).toBeCloseTo(0.5, 12);
    expect(marginTo(square, [0.9, 0.5])).toBeCloseTo(0.1, 12);
    expect(marginTo(square, [1.2, 0.5])).toBeCloseTo(-0.2, 12);
    expect(marginTo(square, [2, 2])).toBeCloseTo(-Math.SQRT2, 12);
    expect(
      marginTo(
        [
          [0, 0],
          [1, 0],
        ],
        [0.5, 0.25],
      ),
    ).toBeCloseTo(-0.25, 12);
    expect(marginTo([[0, 0]], [3, 4])).toBeCloseTo(-5, 12);
    expect(marginTo([], [3, 4])).toBe(Number.NEGATIVE_INFINITY);
  });

  test("a hull holds all its points, turns one way and is the hull of itself", () => {
    const coordinate = fc.integer({ min: -5, max: 5 });
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate), { maxLength: 20 }), (points) => {
        const hull = convexHull(points);
        for (const point of points) expect(marginTo(hull, point)).toBeGreaterThanOrEqual(-1e-9);
        for (const corner of hull) expect(points).toContainEqual(corner);
        expect(convexHull(hull)).toEqual(hull);
      }),
    );
    expect(convexHull([...square, [0.5, 0.5], [0.5, 0]])).toEqual(square);
  });

  test("a biped that stands is balanced over its feet; leaning far forward it is not", () => {
    const standing = studyOf(bipedDocument({}, { range: [1, 12] }));
    const support = supportPolygonOf(standing, 0, 5);
    expect(support.length).toBeGreaterThanOrEqual(4);
    const still = balanceAt(standing, 0, 5, 0);
    expect(still.extrapolatedMargin).toBeGreaterThan(0.02);
    expect(still.zeroMomentMargin).toBeCloseTo(still.extrapolatedMargin, 9);
    expect(still.friction).toBeCloseTo(0, 9);
    const leaning = studyOf(bipedDocument({ "spine rotation.x": [[1, 80]] }, { range: [1, 12] }));
    expect(balanceAt(leaning, 0, 5, 0).extrapolatedMargin).toBeLessThan(still.extrapolatedMargin);
    // High up and on its way: feet that kept still there would stand on something.
    const flying: Curves = {
      "hips translation.y": [[1, 3]],
      "hips translation.x": [
        [1, 0],
        [12, 1],
      ],
    };
    const away = studyOf(bipedDocument(flying, { range: [1, 12] }));
    expect(supportPolygonOf(away, 0, 5)).toEqual([]);
  });
});
