import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { nothing, Raster } from "../../../packages/core/staging/raster.ts";

const [width, height] = [48, 32];
const raster = new Raster(width, height);

interface Disc {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  readonly depth: number;
}
const disc = fc.record({
  x: fc.double({ min: -20, max: 70, noNaN: true }),
  y: fc.double({ min: -20, max: 50, noNaN: true }),
  radius: fc.double({ min: 0.2, max: 15, noNaN: true }),
  depth: fc.double({ min: 0.1, max: 9, noNaN: true }),
});
const flat = (discs: readonly Disc[]) =>
  Float64Array.from(discs.flatMap(({ x, y, radius, depth }) => [x, y, radius, depth]));

/** How far a point is outside of the hull of two discs: the least over the discs between them, by trying many. */
function outside(px: number, py: number, [a, b]: readonly Disc[]): number {
  let least = Infinity;
  for (let n = 0; n <= 400; n++) {
    const t = n / 400;
    const at = (k: "x" | "y" | "radius") => a[k] + t * (b[k] - a[k]);
    least = Math.min(least, Math.hypot(px - at("x"), py - at("y")) - at("radius"));
  }
  return least;
}

describe("a small picture with depth", () => {
  test("a capsule covers the places whose middle lies in it, and no other", () => {
    fc.assert(
      fc.property(disc, disc, (a, b) => {
        raster.clear();
        raster.solid(flat([a, b]), 2, 3);
        for (let y = 0; y < height; y++) {
          for (let x = 0; x < width; x++) {
            const off = outside(x + 0.5, y + 0.5, [a, b]);
            // Between two of the discs that were tried lies a little more.
            if (Math.abs(off) > 0.05) expect(raster.owner[y * width + x] === 3).toBe(off < 0);
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  test("a box covers what lies between its corners", () => {
    const corners = [
      [10, 5],
      [30, 5],
      [10, 25],
      [30, 25],
      [14, 8],
      [34, 8],
      [14, 28],
      [34, 28],
    ].map(([x, y]) => ({ x, y, radius: 0, depth: 2 }));
    raster.clear();
    raster.solid(flat(corners), 8, 0);
    // The hexagon's area: the square, and the strip by which it is shifted.
    const area = 20 * 20 + 20 * 3 + 20 * 4;
    expect(Math.abs(raster.owner.filter((owner) => owner === 0).length - area)).toBeLessThan(20);
    expect(raster.depth[15 * width + 20]).toBe(2);
  });

  test("the nearest is in front whichever is drawn first, and depth runs along a limb", () => {
    const limb = flat([
      { x: 4, y: 16, radius: 3, depth: 1 },
      { x: 44, y: 16, radius: 3, depth: 5 },
    ]);
    const board = flat([
      { x: 4, y: 16, radius: 6, depth: 3 },
      { x: 44, y: 16, radius: 6, depth: 3 },
    ]);
    for (const order of [
      [limb, board],
      [board, limb],
    ]) {
      raster.clear();
      for (const solid of order) raster.solid(solid, 2, solid === limb ? 0 : 1);
      const row = (x: number) => raster.owner[16 * width + x];
      expect([row(6), row(20), row(30), row(42)]).toEqual([0, 0, 1, 1]);
      expect(raster.depth[16 * width + 14]).toBeCloseTo(2.05, 5);
      expect(raster.owner[0]).toBe(nothing);
      expect(raster.depth[0]).toBe(Infinity);
    }
  });

  test("bits say which groups lie over a place", () => {
    raster.clear();
    const at = (x: number) => flat([{ x, y: 16, radius: 4, depth: 1 }]);
    raster.lay(at(10), 1, 1);
    raster.lay(at(14), 1, 2);
    const row = [7, 12, 17, 25].map((x) => raster.groups[16 * width + x]);
    expect(row).toEqual([1, 3, 2, 0]);
  });

  test("what cannot be placed draws nothing", () => {
    raster.clear();
    raster.solid(flat([{ x: Number.NaN, y: 1, radius: 2, depth: 1 }]), 1, 0);
    raster.solid(flat([{ x: 1e300, y: 1, radius: 2, depth: 1 }]), 1, 0);
    expect(raster.owner.every((owner) => owner === nothing)).toBe(true);
  });
});
