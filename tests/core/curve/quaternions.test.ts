import fc from "fast-check";
import { Quaternion, Vector3 } from "three";
import { describe, expect, test } from "vitest";
import { sampleCurve, sampleCurveWithout, valueAt } from "../../../packages/core/curve/evaluate.ts";
import type { Curve } from "../../../packages/core/document/model.ts";
import { quaternionCurve, scalarCurve } from "../rig/pose-shot.ts";
import { anyQuaternion } from "../rig/random-shot.ts";

const none = Number.NaN;

function samples(curve: Curve, times: readonly number[]): Quaternion[] {
  const out = new Float64Array(4 * times.length);
  sampleCurve(curve, Float64Array.from(times), out);
  return times.map((_, i) => new Quaternion().fromArray(out, 4 * i));
}

function at(curve: Curve, time: number): Quaternion {
  return samples(curve, [time])[0];
}

/** Largest difference of two quaternions' numbers, whichever sign the second stands with. */
function apart(a: Quaternion, b: Quaternion): number {
  const sign = a.dot(b) < 0 ? -1 : 1;
  return Math.max(...a.toArray().map((part, k) => Math.abs(part - sign * b.toArray()[k])));
}

const aroundX = (angle: number) => [Math.sin(angle / 2), 0, 0, Math.cos(angle / 2)];

describe("linear", () => {
  test("agrees with three's slerp, whichever sign the keys have", () => {
    fc.assert(
      fc.property(anyQuaternion, anyQuaternion, fc.double({ min: 0, max: 1, noNaN: true }), (a, b, u) => {
        const first = new Quaternion(...a);
        const second = new Quaternion(...b);
        // Half a turn apart either way is the shortest.
        fc.pre(Math.abs(first.dot(second)) > 1e-3);
        const actual = at(quaternionCurve([2, 12], [...a, ...b]), 2 + 10 * u);
        expect(apart(actual, first.clone().slerp(second, (2 + 10 * u - 2) / 10))).toBeLessThan(1e-9);
      }),
    );
  });

  test("a third of a quarter turn is 30 degrees", () => {
    const curve = quaternionCurve([0, 3], [...aroundX(0), ...aroundX(Math.PI / 2)]);
    expect(apart(at(curve, 1), new Quaternion().fromArray(aroundX(Math.PI / 6)))).toBeLessThan(1e-15);
  });

  test("tiny turns keep their digits", () => {
    const curve = quaternionCurve([0, 2], [0, 0, 0, 1, 1e-12, 0, 0, 1]);
    expect(at(curve, 1).x).toBeCloseTo(5e-13, 24);
  });
});

describe("cubic: glTF 2.0 Appendix C", () => {
  test("against the published formula, brought to length 1 after", () => {
    const slope = fc.tuple(
      ...Array.from({ length: 4 }, () => fc.double({ min: -0.2, max: 0.2, noNaN: true })),
    );
    fc.assert(
      fc.property(
        anyQuaternion,
        anyQuaternion,
        slope,
        slope,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (v, w, b, a, t) => {
          const td = 6;
          const handles = [...Array(4).fill(none), ...b, ...a, ...Array(4).fill(none)];
          const curve = quaternionCurve([0, td], [...v, ...w], "cubic", { handles });
          const u = (t * td) / td;
          const numbers = v.map(
            (_, k) =>
              (2 * u ** 3 - 3 * u ** 2 + 1) * v[k] +
              td * (u ** 3 - 2 * u ** 2 + u) * b[k] +
              (-2 * u ** 3 + 3 * u ** 2) * w[k] +
              td * (u ** 3 - u ** 2) * a[k],
          );
          fc.pre(Math.hypot(...numbers) > 0.05);
          const expected = new Quaternion().fromArray(numbers).normalize();
          expect(apart(at(curve, t * td), expected)).toBeLessThan(1e-12);
        },
      ),
    );
  });
});

describe("smooth", () => {
  test("turns about one axis come out as smooth scalar keys of the angle", () => {
    const frames = [0, 4, 6, 11];
    const angles = [0, 1.2, 1.5, 0.2];
    const turns = quaternionCurve(frames, angles.flatMap(aroundX), "smooth");
    const scalars = scalarCurve(frames, angles, "smooth");
    for (let time = 0; time <= 11; time += 0.31) {
      const expected = new Quaternion().fromArray(aroundX(valueAt(scalars, time)));
      expect(apart(at(turns, time), expected)).toBeLessThan(1e-12);
    }
  });

  test("does not depend on the choice of axes, nor on the keys' signs", () => {
    const keys = fc.array(anyQuaternion, { minLength: 4, maxLength: 4 });
    fc.assert(
      fc.property(keys, anyQuaternion, anyQuaternion, (list, left, right) => {
        const turns = list.map((key) => new Quaternion(...key));
        for (let k = 1; k < 4; k++) fc.pre(Math.abs(turns[k].dot(turns[k - 1])) > 0.05);
        const l = new Quaternion(...left);
        const r = new Quaternion(...right);
        const moved = turns.map((turn, k) => {
          const product = l.clone().multiply(turn).multiply(r);
          return product.toArray().map((part) => (k % 2 === 0 ? part : -part));
        });
        const plain = quaternionCurve([0, 3, 5, 9], list.flat(), "smooth");
        const other = quaternionCurve([0, 3, 5, 9], moved.flat(), "smooth");
        for (const time of [1, 3.7, 4.4, 7]) {
          expect(apart(at(other, time), l.clone().multiply(at(plain, time)).multiply(r))).toBeLessThan(1e-9);
        }
      }),
      { numRuns: 50 },
    );
  });

  test("angular velocity has no jump at a key", () => {
    const turns = [
      new Quaternion(),
      new Quaternion().setFromAxisAngle(new Vector3(0, 0.6, 0.8), 0.9),
      new Quaternion().setFromAxisAngle(new Vector3(0.36, 0.48, 0.8), 1.7),
      new Quaternion().setFromAxisAngle(new Vector3(1, 0, 0), 2),
    ];
    const curve = quaternionCurve(
      [0, 3, 5, 9],
      turns.flatMap((turn) => turn.toArray()),
      "smooth",
    );
    const rate = (time: number, step: number) => {
      const change = at(curve, time)
        .invert()
        .multiply(at(curve, time + step));
      return new Vector3(change.x, change.y, change.z).multiplyScalar((2 * Math.sign(change.w)) / step);
    };
    for (const time of [0, 3, 5, 9]) {
      expect(rate(time, 1e-5).distanceTo(rate(time, -1e-5))).toBeLessThan(1e-4);
    }
    expect(rate(3, 1e-5).length()).toBeGreaterThan(0.1);
  });
});

describe("degenerate keys", () => {
  const every = ["step", "linear", "smooth", "bezier", "cubic"] as const;
  const keys = [...aroundX(0.3), ...aroundX(1), ...aroundX(2)];

  test.each(every)("%s: at a key the key's turn, outside a hold", (mode) => {
    const curve = quaternionCurve([2, 4, 4.5], keys, mode);
    samples(curve, [2, 4, 4.5]).forEach((turn, k) => {
      expect(apart(turn, new Quaternion().fromArray(keys, 4 * k))).toBeLessThan(1e-15);
    });
    expect(at(curve, -5).toArray()).toEqual(at(curve, 2).toArray());
    expect(at(curve, 50).toArray()).toEqual(at(curve, 4.5).toArray());
  });

  test.each(every)("%s: every sample has length 1", (mode) => {
    const curve = quaternionCurve(
      [0, 3, 9],
      keys.map((part) => part * 1.7),
      mode,
    );
    for (let time = -1; time < 10; time += 0.4) expect(at(curve, time).length()).toBeCloseTo(1, 14);
  });

  test.each(every)("%s: one key, doubled keys, a zero quaternion, opposite keys", (mode) => {
    expect(at(quaternionCurve([3], aroundX(1), mode), 0).toArray()).toEqual(aroundX(1));
    expect(
      apart(
        at(quaternionCurve([3, 3], [...aroundX(1), ...aroundX(2)], mode), 3),
        new Quaternion().fromArray(aroundX(2)),
      ),
    ).toBeLessThan(1e-15);
    expect(at(quaternionCurve([0, 2], [0, 0, 0, 0, 0, 0, 0, 1], mode), 0).toArray()).toEqual([0, 0, 0, 1]);
    expect(at(quaternionCurve([0, 2], [1, 0, 0, 0, 0, 0, 0, 1], mode), 1).length()).toBeCloseTo(1, 14);
    expect(at(quaternionCurve([], [], mode), 1).toArray()).toEqual([none, none, none, none]);
  });

  test.each(every)("%s: keys taken out, as in a copy without them", (mode) => {
    const frames = [0, 2, 3, 7, 8];
    const values = [0.1, 0.9, 1.5, 1, 2.2].map(aroundX);
    const times = Float64Array.from({ length: 40 }, (_, i) => i / 4 - 0.5);
    const out = new Float64Array(160);
    const expected = new Float64Array(160);
    sampleCurveWithout(quaternionCurve(frames, values.flat(), mode), 1, 2, times, out);
    sampleCurve(quaternionCurve([0, 7, 8], [values[0], values[3], values[4]].flat(), mode), times, expected);
    expect(out).toEqual(expected);
  });
});
