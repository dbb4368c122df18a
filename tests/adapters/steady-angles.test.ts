import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { steadyAngle, steadyAngles } from "../../packages/adapters/steady-angles.ts";

type Angles = readonly [number, number, number];

/** Rows of the matrix Rz(a) · Rx(b) · Ry(c). */
function turn([a, b, c]: Angles): number[] {
  const [ca, cb, cc] = [a, b, c].map((angle) => Math.cos((angle * Math.PI) / 180));
  const [sa, sb, sc] = [a, b, c].map((angle) => Math.sin((angle * Math.PI) / 180));
  return [
    ...[ca * cc - sa * sb * sc, -sa * cb, ca * sc + sa * sb * cc],
    ...[sa * cc + ca * sb * sc, ca * cb, sa * sc - ca * sb * cc],
    ...[-cb * sc, sb, cb * cc],
  ];
}

const angle = fc.integer({ min: -720_000, max: 720_000 }).map((n) => n / 1000);

describe("steadyAngles", () => {
  it("gives the same turns, no angle farther than half a circle from the one before", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(angle, angle, angle), { minLength: 2, maxLength: 8 }), (keys) => {
        const series = [0, 1, 2].map((k) => Float64Array.from(keys, (key) => key[k]));
        const [a, b, c] = series;
        steadyAngles(a, b, c);
        keys.forEach((key, i) => {
          const steady = turn([a[i], b[i], c[i]]);
          turn(key).forEach((number, k) => {
            expect(steady[k]).toBeCloseTo(number, 9);
          });
          if (i === 0) return;
          for (const angles of series) expect(Math.abs(angles[i] - angles[i - 1])).toBeLessThanOrEqual(180);
        });
      }),
    );
  });

  it("passes over keys that lack a number, and moves what they have by whole circles", () => {
    const [a, b, c] = [
      [170, 175, 178],
      [10, Number.NaN, 10],
      [20, 20, 20],
    ].map((values) => Float64Array.from(values));
    a[1] = -185;
    steadyAngles(a, b, c);
    expect([...a]).toEqual([170, 175, 178]);
    expect(b[1]).toBeNaN();
  });
});

describe("steadyAngle", () => {
  it("goes on from the last number there is, and keeps the decimals", () => {
    const angles = Float64Array.from([Number.NaN, 179.3, Number.NaN, -179.123]);
    steadyAngle(angles);
    expect([...angles]).toEqual([Number.NaN, 179.3, Number.NaN, 180.877]);
  });
});
