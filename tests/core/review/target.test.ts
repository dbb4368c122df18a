import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Stroke } from "../../../packages/core/review/schema.ts";
import { targetFitOf } from "../../../packages/core/review/target.ts";
import { ballAt } from "./shots.ts";

type Vector = [number, number, number];

const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const between = (a: Vector, b: Vector, t: number): Vector => [
  a[0] + t * (b[0] - a[0]),
  a[1] + t * (b[1] - a[1]),
  a[2] + t * (b[2] - a[2]),
];

/** The same again, in the plainest way: along the line in many small steps, the nearest of which counts. */
function plainly(places: readonly Vector[], { points, plane, target }: Stroke) {
  const steps = 4000;
  const flat = (p: Vector): Vector => {
    if (plane === undefined) return p;
    const length = Math.sqrt(dot(plane.normal, plane.normal));
    const unit = plane.normal.map((n) => n / length) as Vector;
    const off = dot(minus(p, plane.origin), unit);
    return [p[0] - off * unit[0], p[1] - off * unit[1], p[2] - off * unit[2]];
  };
  const line = points.map(flat);
  const dense = line.flatMap((p, k) => {
    const next = line[k + 1];
    return next === undefined ? [p] : Array.from({ length: steps }, (_, i) => between(p, next, i / steps));
  });
  const [from = 0, to = 0] = target?.frames ?? [];
  const distances = places.flatMap((place, i) => {
    if (i + 1 < from || i + 1 > to) return [];
    const at = flat(place);
    return [Math.min(...dense.map((p) => Math.sqrt(dot(minus(p, at), minus(p, at)))))];
  });
  const longest = Math.max(
    ...line.slice(1).map((p, k) => Math.sqrt(dot(minus(p, line[k] as Vector), minus(p, line[k] as Vector)))),
  );
  return {
    mean: distances.reduce((sum, one) => sum + one, 0) / distances.length,
    largest: Math.max(...distances),
    tolerance: longest / steps + 1e-9,
  };
}

const number = fc.integer({ min: -200, max: 200 }).map((n) => n / 100);
const vector = fc.tuple(number, number, number) as fc.Arbitrary<Vector>;
const normal = vector.filter((v) => Math.hypot(...v) > 0.2);

describe("the distance of a path from its target", () => {
  test("is that of a plain recomputation, in the plane of the stroke and in space", () => {
    fc.assert(
      fc.property(
        fc.array(vector, { minLength: 12, maxLength: 12 }),
        fc.array(vector, { minLength: 2, maxLength: 5 }),
        fc.option(fc.record({ origin: vector, normal }), { nil: undefined }),
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 6, max: 12 }),
        (places, points, plane, from, to) => {
          const stroke: Stroke = { frame: 1, points, plane, target: { node: "ball", frames: [from, to] } };
          const fit = targetFitOf(ballAt(places).study, stroke);
          const { mean, largest, tolerance } = plainly(places, stroke);
          expect(Math.abs((fit?.mean ?? Number.NaN) - mean)).toBeLessThanOrEqual(tolerance);
          expect(Math.abs((fit?.largest ?? Number.NaN) - largest)).toBeLessThanOrEqual(tolerance);
        },
      ),
      { numRuns: 40 },
    );
  });

  // A ball that goes 1 m to the right in 10 frames, 5 cm above a line of the same length; it waits two frames first.
  const places = Array.from(
    { length: 21 },
    (_, i): Vector => [Math.min(1, Math.max(0, (i - 6) / 10)), 0.05, 3],
  );
  const line: Stroke = {
    frame: 5,
    plane: { origin: [0, 0, 0], normal: [0, 0, 2] },
    points: [
      [0, 0, 0],
      [0.4, 0, 0],
      [1, 0, 0],
    ],
    target: { node: "ball", frames: [5, 15] },
  };

  test("leaves out the depth of which a drawn line says nothing, and tells how late the part is at either end", () => {
    const fit = targetFitOf(ballAt(places).study, line);
    expect(fit).toMatchObject({ node: "ball", frames: [5, 15], late: [-4, 2] });
    expect(fit?.mean).toBeCloseTo(0.05, 9);
    expect(fit?.largest).toBeCloseTo(0.05, 9);
    expect(fit?.covered).toBeCloseTo(0.8, 9);
  });

  test("is nothing for a stroke that is no target, a part that is not there, and frames that are not judged", () => {
    const { study } = ballAt(places);
    expect(targetFitOf(study, { ...line, target: undefined })).toBe(null);
    expect(targetFitOf(study, { ...line, target: { node: "bell", frames: [5, 15] } })).toBe(null);
    expect(targetFitOf(study, { ...line, target: { node: "ball", frames: [50, 60] } })).toBe(null);
  });

  test("is that of a point where the line is one, and of space where its plane has no normal", () => {
    const { study } = ballAt(places);
    const dot: Stroke = { ...line, plane: { origin: [0, 0, 0], normal: [0, 0, 0] }, points: [[1, 0.05, 2]] };
    expect(targetFitOf(study, { ...dot, target: { node: "ball", frames: [17, 18] } })).toMatchObject({
      mean: 1,
      largest: 1,
      covered: 0,
    });
  });
});
