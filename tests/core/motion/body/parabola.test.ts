import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { standardGravity } from "../../../../packages/core/base/constants.ts";
import { fitParabola } from "../../../../packages/core/motion/body/parabola.ts";

describe("falls and parabolas", () => {
  test("a parabola is fitted as it was made", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 30, noNaN: true }),
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.integer({ min: 3, max: 60 }),
        (gravity, speed, count) => {
          const dt = 1 / 24;
          const series = new Float64Array(3 * count);
          for (let i = 0; i < count; i++) {
            series[3 * i + 1] = 2 + speed * i * dt - 0.5 * gravity * (i * dt) ** 2;
          }
          const fit = fitParabola(series, 0, count - 1, dt);
          expect(fit?.gravity).toBeCloseTo(gravity, 5);
          expect(fit?.residual).toBeCloseTo(0, 8);
          const middle = ((count - 1) / 2) * dt;
          expect(fit?.speed).toBeCloseTo(speed - gravity * middle, 6);
          expect(fit?.height).toBeCloseTo(2 + speed * middle - 0.5 * gravity * middle ** 2, 8);
        },
      ),
    );
  });

  test("too few samples give no parabola, standing ones no gravity", () => {
    expect(fitParabola(new Float64Array(6), 0, 1, 0.1)).toBeNull();
    expect(fitParabola(new Float64Array(9).fill(1), 0, 2, 0.1)?.gravity).toBeCloseTo(0, 12);
    expect(standardGravity).toBe(9.80665);
  });
});
