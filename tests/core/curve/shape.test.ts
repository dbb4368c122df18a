import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { valueAt } from "../../../packages/core/curve/evaluate.ts";
import { extremaBetween } from "../../../packages/core/curve/shape.ts";
import type { CurveKeys } from "../../../packages/core/document/model.ts";
import { scalarCurve } from "../rig/pose-shot.ts";

const none = Number.NaN;
const every = ["step", "linear", "smooth", "bezier", "cubic"] as const;
const number = fc.double({ min: -5, max: 5, noNaN: true });
const handleSets = fc.array(number, { minLength: 16, maxLength: 16 });

/** Four keys with handles; on cubic segments the same numbers are slopes. */
function curveOf(mode: (typeof every)[number], values: readonly number[], numbers: readonly number[]) {
  const handles = numbers.map((it, k) => {
    if (k % 4 === 0) return mode === "cubic" ? none : -Math.abs(it) - 0.2;
    if (k % 4 === 2) return mode === "cubic" ? none : Math.abs(it) + 0.2;
    return it;
  });
  return scalarCurve([0, 4, 7, 12], values, mode, { handles });
}

/** Turning points of a segment as a list. */
function turnsOf(curve: CurveKeys, key: number) {
  const out = new Float64Array(4);
  const count = extremaBetween(curve, key, out);
  return Array.from({ length: count }, (_, k) => ({ frame: out[2 * k], value: out[2 * k + 1] }));
}

describe("turning points", () => {
  test("the peak of a cubic that leaves and reaches its keys at the same height", () => {
    // Slopes 1 and -1 over four frames: a parabola with its peak of 1 in the middle.
    const curve = scalarCurve([0, 4], [0, 0], "cubic", {
      handles: [none, none, none, 1, none, -1, none, none],
    });
    expect(turnsOf(curve, 0)).toEqual([{ frame: 2, value: 1 }]);
  });

  test("smooth, linear and step segments have none", () => {
    for (const mode of ["step", "linear", "smooth"] as const) {
      expect(turnsOf(scalarCurve([0, 4, 8], [0, 5, 1], mode), 0)).toEqual([]);
    }
  });

  test("there is none outside the keys or where two keys share a time", () => {
    const curve = scalarCurve([0, 0, 4], [0, 5, 1], "bezier");
    expect(turnsOf(curve, 0)).toEqual([]);
    expect(turnsOf(curve, 2)).toEqual([]);
    expect(turnsOf(curve, -1)).toEqual([]);
  });

  test.each(["bezier", "cubic"] as const)("%s: no sample lies beyond keys and turning points", (mode) => {
    fc.assert(
      fc.property(fc.array(number, { minLength: 4, maxLength: 4 }), handleSets, (values, handles) => {
        const curve = curveOf(mode, values, handles);
        for (let key = 0; key < 3; key++) {
          const turns = turnsOf(curve, key);
          const heights = [values[key], values[key + 1], ...turns.map((turn) => turn.value)];
          const [from, to] = [curve.frames[key], curve.frames[key + 1]];
          for (const turn of turns) {
            expect(turn.frame).toBeGreaterThanOrEqual(from);
            expect(turn.frame).toBeLessThanOrEqual(to);
          }
          for (let i = 0; i <= 50; i++) {
            const value = valueAt(curve, from + ((to - from) * i) / 50);
            expect(value).toBeLessThanOrEqual(Math.max(...heights) + 1e-9);
            expect(value).toBeGreaterThanOrEqual(Math.min(...heights) - 1e-9);
          }
        }
      }),
    );
  });
});
