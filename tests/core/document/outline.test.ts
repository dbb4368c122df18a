import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { edgeAxesOf, outlineFault, outlineOf } from "../../../packages/core/document/outline.ts";

const corners = (
  surface: Omit<Parameters<typeof outlineOf>[0], "id">,
  up: "x" | "y" | "z" = "y",
): number[][] | null => {
  const outline = outlineOf({ id: "one", ...surface }, up);
  if (outline === null) return null;
  return Array.from({ length: outline.length / 3 }, (_, i) => [...outline.slice(3 * i, 3 * i + 3)]);
};

describe("the outline of a surface", () => {
  test("of two corners is a rectangle, on a floor as seen from above", () => {
    const edges: [number, number][] = [
      [-60, 40],
      [60, 90],
    ];
    expect(corners({ height: 16, edges })).toEqual([
      [-60, 16, 40],
      [60, 16, 40],
      [60, 16, 90],
      [-60, 16, 90],
    ]);
    expect(corners({ height: 16, edges }, "z")?.[0]).toEqual([-60, 40, 16]);
    expect(corners({ height: 16, edges }, "x")?.[0]).toEqual([16, -60, 40]);
  });

  test("of a ceiling, whose normal points down, keeps the axes of the floor", () => {
    expect(
      corners({
        normal: [0, -2, 0],
        height: -300,
        edges: [
          [1, 2],
          [3, 4],
        ],
      })?.[0],
    ).toEqual([1, 300, 2]);
  });

  test("of a ramp lies in its plane: 3 up on 4 along, worked by hand", () => {
    // The ramp y = 0.75 z through the origin has the normal (0, 4, -3).
    const found = corners({
      normal: [0, 4, -3],
      height: 0,
      edges: [
        [0, 0],
        [10, 0],
        [10, 8],
      ],
    });
    expect(found).toEqual([
      [0, 0, 0],
      [10, 0, 0],
      [10, 6, 8],
    ]);
  });

  test("of a wall is seen along the level axis that its normal is nearest to", () => {
    const edges: [number, number][] = [
      [1, 2],
      [3, 4],
    ];
    expect(corners({ normal: [0, 0, -1], height: 50, edges })?.[0]).toEqual([1, 2, -50]);
    expect(corners({ normal: [1, 0, 0], height: 50, edges })?.[0]).toEqual([50, 1, 2]);
  });

  test.each([
    [[0, 1, 0], "y", [0, 2]],
    // At exactly 60 degrees it is still seen from above: the upward part is half of the length.
    [[0, 1, Math.sqrt(3)], "y", [0, 2]],
    [[0, 0.99, Math.sqrt(3)], "y", [0, 1]],
    // Of two level axes that are as near, the first.
    [[1, 0, 1], "y", [1, 2]],
    [[-1, 0, 1.01], "y", [0, 1]],
    [[1, 1, 0], "z", [1, 2]],
    [[0, 1, 1], "x", [0, 2]],
  ] as const)("the corners on a plane with the normal %j and up %s hold the axes %j", (normal, up, axes) => {
    expect(edgeAxesOf(normal, up)).toEqual(axes);
  });

  test("lies in its plane, and shows the corners as they are written, for any normal and any up axis", () => {
    const number = fc.integer({ min: -1000, max: 1000 });
    const normals = fc.tuple(number, number, number).filter((n) => Math.hypot(...n) > 0);
    const up = fc.constantFrom("x", "y", "z");
    fc.assert(
      fc.property(normals, number, up, (normal, height, axis) => {
        const edges: [number, number][] = [
          [-5, 2],
          [7, -3],
          [4, 9],
        ];
        const found = corners({ normal, height, edges }, axis) ?? [];
        const [a, b] = edgeAxesOf(normal, axis);
        expect(found.map((corner) => [corner[a], corner[b]])).toEqual(edges);
        for (const corner of found) {
          const along = corner.reduce((sum, x, k) => sum + x * normal[k], 0) / Math.hypot(...normal);
          expect(along).toBeCloseTo(height, 8);
        }
      }),
    );
  });

  test("is none where there are no edges, or where they or the normal cannot be used", () => {
    const edges: [number, number][] = [
      [0, 0],
      [1, 1],
    ];
    expect(corners({ height: 0 })).toBeNull();
    expect(corners({ height: 0, normal: [0, 0, 0], edges })).toBeNull();
    expect(
      corners({
        height: 0,
        edges: [
          [0, 0],
          [0, 1],
        ],
      }),
    ).toBeNull();
  });
});

describe("what is wrong with corners", () => {
  test.each([
    [
      "a triangle",
      [
        [0, 0],
        [1, 0],
        [0, 1],
      ],
      null,
    ],
    [
      "a corner on a straight side",
      [
        [0, 0],
        [1, 0],
        [2, 0],
        [0, 1],
      ],
      null,
    ],
    [
      "a horseshoe",
      [
        [0, 0],
        [9, 0],
        [9, 9],
        [6, 9],
        [6, 3],
        [3, 3],
        [3, 9],
        [0, 9],
      ],
      null,
    ],
    [
      "a bow tie",
      [
        [0, 0],
        [9, 9],
        [9, 0],
        [0, 9],
      ],
      "crossing",
    ],
    [
      "a way out and back",
      [
        [0, 0],
        [9, 0],
        [5, 0],
        [5, 5],
      ],
      "crossing",
    ],
    [
      "a corner on another side",
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 0],
        [0, 4],
      ],
      "crossing",
    ],
    [
      "two corners at one place",
      [
        [0, 0],
        [4, 0],
        [4, 0],
        [0, 4],
      ],
      "crossing",
    ],
    [
      "the first corner again at the end",
      [
        [0, 0],
        [4, 0],
        [0, 4],
        [0, 0],
      ],
      "crossing",
    ],
    [
      "one place",
      [
        [1, 1],
        [1, 1],
        [1, 1],
      ],
      "empty",
    ],
    [
      "a line",
      [
        [0, 0],
        [1, 2],
        [3, 6],
      ],
      "empty",
    ],
  ] as const)("%s", (_, list, fault) => {
    expect(outlineFault(list)).toBe(fault);
  });

  test("does not depend on where they begin, nor on which way round they run", () => {
    const corner = fc.tuple(fc.integer({ min: -4, max: 4 }), fc.integer({ min: -4, max: 4 }));
    const lists = fc.array(corner, { minLength: 3, maxLength: 7 });
    fc.assert(
      fc.property(lists, fc.nat({ max: 6 }), (list, from) => {
        const k = from % list.length;
        const turned = [...list.slice(k), ...list.slice(0, k)];
        expect(outlineFault(turned)).toBe(outlineFault(list));
        expect(outlineFault([...list].reverse())).toBe(outlineFault(list));
      }),
    );
  });
});
