import fc from "fast-check";
import { Euler, Matrix3, Quaternion, Vector3 } from "three";
import { OBB } from "three/examples/jsm/math/OBB.js";
import { describe, expect, test } from "vitest";
import {
  depthBetween,
  depthUnder,
  type Hull,
  heightOver,
  wayOut,
} from "../../../packages/core/staging/depth.ts";

/** How deep solids are in each other, against a general 3D library and by going apart along the way that is told. */

type Point = readonly [number, number, number];

const pathOf = (point: Point) => Float64Array.from(point);
const hull = (radius: number, ...points: Point[]): Hull => ({ radius, paths: points.map(pathOf) });

interface Box {
  readonly centre: Point;
  readonly size: Point;
  readonly turn: Point;
}

/** The corners in the order of their bits, as shapes have them. */
function boxHull({ centre, size, turn }: Box): Hull {
  const quaternion = new Quaternion().setFromEuler(new Euler(...turn));
  return hull(
    0,
    ...Array.from({ length: 8 }, (_, k): Point => {
      const [x, y, z] = size.map((length, axis) => ((k >> axis) & 1 ? 0.5 : -0.5) * length);
      return new Vector3(x, y, z)
        .applyQuaternion(quaternion)
        .add(new Vector3(...centre))
        .toArray() as Point;
    }),
  );
}

function obb({ centre, size, turn }: Box): OBB {
  const [x, y, z] = size;
  const rotation = new Matrix3();
  const quaternion = new Quaternion().setFromEuler(new Euler(...turn));
  const axes = [new Vector3(1, 0, 0), new Vector3(0, 1, 0), new Vector3(0, 0, 1)].map((axis) =>
    axis.applyQuaternion(quaternion),
  );
  rotation.set(
    ...(axes.map(({ x }) => x) as unknown as Point),
    ...(axes.map(({ y }) => y) as unknown as Point),
    ...(axes.map(({ z }) => z) as unknown as Point),
  );
  return new OBB(new Vector3(...centre), new Vector3(x / 2, y / 2, z / 2), rotation);
}

const shifted = (one: Hull, by: number): Hull => ({
  radius: one.radius,
  paths: one.paths.map((path) => path.map((value, k) => value + by * wayOut[k])),
});

const near = fc.double({ min: -1, max: 1, noNaN: true });
const length = fc.double({ min: 0.05, max: 1.2, noNaN: true });
const point = fc.tuple(near, near, near);
const boxes = fc.record({
  centre: point,
  size: fc.tuple(length, length, length),
  turn: fc.tuple(near, near, near).map((turn) => turn.map((angle) => 3 * angle) as unknown as Point),
});
const capsules = fc.tuple(fc.double({ min: 0.01, max: 0.4, noNaN: true }), point, point);
const hulls = fc.oneof(
  boxes.map(boxHull),
  capsules.map(([radius, a, b]) => hull(radius, a, b)),
  capsules.map(([radius, a]) => hull(radius, a)),
);

describe("depth of solids in each other", () => {
  test("boxes meet where a general 3D library says so", () => {
    fc.assert(
      fc.property(boxes, boxes, (a, b) => {
        const depth = depthBetween(boxHull(a), boxHull(b), 0);
        // At the touch of edges rounding decides.
        fc.pre(Math.abs(depth) > 1e-6);
        expect(depth > 0).toBe(obb(a).intersectsOBB(obb(b)));
      }),
    );
  });

  test("boxes meet capsules and balls where the library's nearest point is within the radius", () => {
    fc.assert(
      fc.property(boxes, capsules, (box, [radius, at]) => {
        const depth = depthBetween(hull(radius, at), boxHull(box), 0);
        const nearest = obb(box).clampPoint(new Vector3(...at), new Vector3());
        const gap = nearest.distanceTo(new Vector3(...at));
        if (gap > 1e-9 && depth > Number.NEGATIVE_INFINITY) expect(depth).toBeCloseTo(radius - gap, 9);
        if (gap <= 1e-9) expect(depth).toBeGreaterThanOrEqual(radius - 1e-9);
      }),
    );
  });

  test("two capsules are as deep as their radii are more than the distance of their middles", () => {
    expect(
      depthBetween(hull(0.1, [0, 0, 0], [1, 0, 0]), hull(0.05, [0.5, 0.12, -1], [0.5, 0.12, 1]), 0),
    ).toBeCloseTo(0.03, 12);
    expect([...wayOut]).toEqual([0, -1, 0]);
    // Along each other, and end to end.
    expect(
      depthBetween(hull(0.1, [0, 0, 0], [1, 0, 0]), hull(0.1, [0.3, 0.15, 0], [2, 0.15, 0]), 0),
    ).toBeCloseTo(0.05, 12);
    expect(depthBetween(hull(0.1, [0, 0, 0], [1, 0, 0]), hull(0.1, [1.15, 0, 0], [2, 0, 0]), 0)).toBeCloseTo(
      0.05,
      12,
    );
  });

  test("by the way that is told the first leaves the second, and by less of it does not", () => {
    fc.assert(
      fc.property(hulls, hulls, (a, b) => {
        const depth = depthBetween(a, b, 0);
        fc.pre(depth > 1e-3);
        expect(Math.hypot(...wayOut)).toBeCloseTo(1, 9);
        const [apart, within] = [shifted(a, depth + 1e-6), shifted(a, 0.9 * depth)];
        expect(depthBetween(apart, b, 0)).toBeLessThan(1e-5);
        expect(depthBetween(within, b, 0)).toBeGreaterThan(0);
      }),
    );
  });

  test("is the same from either side, with the way turned round", () => {
    fc.assert(
      fc.property(hulls, hulls, (a, b) => {
        const depth = depthBetween(a, b, 0);
        fc.pre(depth > 1e-3);
        expect(depthBetween(b, a, 0)).toBeCloseTo(depth, 4);
      }),
    );
  });

  test("under a plane the lowest point counts, over it the highest", () => {
    const box = boxHull({ centre: [0, 0.4, 0], size: [1, 1, 1], turn: [0, 0, 0] });
    expect(depthUnder(box, [0, 1, 0], 0, 0)).toBeCloseTo(0.1, 12);
    expect(heightOver(box, [0, 1, 0], 0, 0)).toBeCloseTo(0.9, 12);
    expect(depthUnder(hull(0.2, [0, 0.5, 0]), [0, 1, 0], 0, 0)).toBeCloseTo(-0.3, 12);
  });
});
