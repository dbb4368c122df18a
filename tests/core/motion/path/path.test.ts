import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { arcLengths, chordOf, retraceOf } from "../../../../packages/core/motion/path/path.ts";
import {
  accelerationOfPath,
  spacingOfPath,
  velocityOfPath,
} from "../../../../packages/core/motion/path/spacing.ts";

const pathOf = (points: readonly (readonly [number, number, number])[]) => Float64Array.from(points.flat());
const arc = (radius: number, count: number, angle: number) =>
  pathOf(
    Array.from({ length: count }, (_, i) => {
      const at = (angle * i) / (count - 1);
      return [radius * Math.cos(at), 1, radius * Math.sin(at)] as const;
    }),
  );
const paths = fc
  .array(fc.double({ min: -9, max: 9, noNaN: true }), { minLength: 3, maxLength: 60 })
  .map((numbers) => Float64Array.from(numbers.slice(0, numbers.length - (numbers.length % 3))));

describe("path", () => {
  test("spacing sums to the arc length, which is no shorter than the chord", () => {
    fc.assert(
      fc.property(paths, (path) => {
        const last = path.length / 3 - 1;
        const sum = spacingOfPath(path).reduce((total, step) => total + step, 0);
        const { chord, arc: along, deviation } = chordOf(path, 0, last);
        expect(arcLengths(path, 0, last)[last]).toBeCloseTo(sum, 9);
        expect(along).toBeCloseTo(sum, 9);
        expect(chord).toBeLessThanOrEqual(sum + 1e-9);
        expect(deviation).toBeLessThanOrEqual(sum + 1e-9);
      }),
    );
  });

  test("a half circle stands one radius off its chord, and a straight line not at all", () => {
    const half = chordOf(arc(2, 181, Math.PI), 0, 180);
    expect(half.chord).toBeCloseTo(4, 12);
    expect(half.deviation).toBeCloseTo(2, 12);
    expect(half.at).toBe(90);
    expect(half.arc).toBeCloseTo(2 * Math.PI, 3);
    const line = chordOf(
      pathOf([
        [0, 0, 0],
        [1, 2, 3],
        [3, 6, 9],
      ]),
      0,
      2,
    );
    expect(line.deviation).toBeCloseTo(0, 12);
  });

  test("the way back along the same line has no distance, on an arc beside it has", () => {
    const out = [0, 1, 2, 3, 4].map((x) => [x, 0, 0] as const);
    const same = retraceOf(pathOf([...out, ...out.slice(0, 4).reverse()]), 0, 4, 8);
    expect(same.length).toBeCloseTo(4, 12);
    expect(same.distance).toBeCloseTo(0, 12);
    // A rail of steps of another length along the same line is the same line.
    const finer = retraceOf(pathOf([...out, [3.7, 0, 0], [3.1, 0, 0], [2.2, 0, 0], [1.9, 0, 0]]), 0, 4, 8);
    expect(finer.length).toBeCloseTo(2.1, 12);
    expect(finer.farthest).toBeCloseTo(0, 12);
    const beside = retraceOf(pathOf([...out, [3, 1, 0], [2, 2, 0], [1, 3, 0], [0, 4, 0]]), 0, 4, 8);
    expect(beside.distance).toBeGreaterThan(1);
  });

  test("nothing of a standing or an empty path is NaN", () => {
    for (const count of [0, 1, 2, 3]) {
      const path = new Float64Array(3 * count).fill(2);
      const last = Math.max(0, count - 1);
      const numbers = [
        ...spacingOfPath(path),
        ...velocityOfPath(path, 0.1),
        ...accelerationOfPath(path, 0.1),
        ...(count > 0 ? arcLengths(path, 0, last) : []),
        ...(count > 0 ? Object.values(chordOf(path, 0, last)) : []),
        ...Object.values(retraceOf(path, 0, 0, last)),
      ];
      expect(numbers.filter((value) => !Number.isFinite(value))).toEqual([]);
    }
  });
});

describe("derivatives of a path", () => {
  test("are exact for constant acceleration, inside", () => {
    const dt = 1 / 24;
    const fall = pathOf(Array.from({ length: 9 }, (_, i) => [i, -0.5 * 9.80665 * (i * dt) ** 2, 0] as const));
    const velocity = velocityOfPath(fall, dt);
    const acceleration = accelerationOfPath(fall, dt);
    for (let i = 1; i < 8; i++) {
      expect(velocity[3 * i]).toBeCloseTo(24, 9);
      expect(velocity[3 * i + 1]).toBeCloseTo(-9.80665 * i * dt, 9);
      expect(acceleration[3 * i + 1]).toBeCloseTo(-9.80665, 9);
    }
    expect(acceleration[1]).toBe(acceleration[4]);
  });
});
