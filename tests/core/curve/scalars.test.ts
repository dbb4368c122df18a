import fc from "fast-check";
import { LinearInterpolant } from "three";
import { describe, expect, test } from "vitest";
import { sampleCurve, sampleCurveWithout, valueAt } from "../../../packages/core/curve/evaluate.ts";
import type { Curve } from "../../../packages/core/document/model.ts";
import { scalarCurve } from "../rig/pose-shot.ts";

const none = Number.NaN;

function samples(curve: Curve, times: readonly number[]): number[] {
  const out = new Float64Array(curve.width * times.length);
  sampleCurve(curve, Float64Array.from(times), out);
  return [...out];
}

/** One bezier segment over ten frames from 0 to 1 with CSS control points. */
function cssCurve(x1: number, y1: number, x2: number, y2: number): Curve {
  const handles = [none, none, 10 * x1, y1, 10 * (x2 - 1), y2 - 1, none, none];
  return scalarCurve([0, 10], [0, 1], "bezier", { handles });
}

describe("bezier segments", () => {
  // Control points: CSS Easing Functions Level 1 (W3C). Values: the cubic solved in high precision, to 12 digits.
  test.each([
    [
      "ease",
      [0.25, 0.1, 0.25, 1],
      [0.094796305716, 0.408510591355, 0.802403387585, 0.960458978349, 0.994316477485],
    ],
    [
      "ease-in",
      [0.42, 0, 1, 1],
      [0.0170266096516, 0.0934646507188, 0.315356812573, 0.621861869175, 0.839427845762],
    ],
    [
      "ease-out",
      [0, 0, 0.58, 1],
      [0.160572154238, 0.378138130825, 0.684643187427, 0.906535349281, 0.982973390348],
    ],
    [
      "ease-in-out",
      [0.42, 0, 0.58, 1],
      [0.0197224535483, 0.129161931047, 0.5, 0.870838068953, 0.980277546452],
    ],
    [
      "overshoot",
      [0.34, 1.56, 0.64, 1],
      [0.403933041979, 0.816289198692, 1.08740067022, 1.05964685996, 1.01261557915],
    ],
  ] as [string, [number, number, number, number], number[]][])("%s", (_, points, expected) => {
    const actual = samples(cssCurve(...points), [1, 2.5, 5, 7.5, 9]);
    expected.forEach((value, i) => {
      expect(Math.abs(actual[i] - value) / Math.abs(value)).toBeLessThan(5e-12);
    });
  });

  test("time is solved to 1e-12 for any handles, and runs forward", () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(share, share, (x1, x2) => {
        // With y1 = x1 and y2 = x2 the value is the time itself.
        const times = Array.from({ length: 41 }, (_, i) => i / 4);
        const actual = samples(cssCurve(x1, x1, x2, x2), times);
        times.forEach((time, i) => {
          expect(Math.abs(actual[i] - time / 10)).toBeLessThan(1e-12);
        });
      }),
    );
  });

  test.each([
    [0, 0],
    [0, 1],
    [1, 0],
    [1, 1],
    [1e-300, 1],
    [1 / 3, 2 / 3],
  ])("upright handles %d, %d: monotone from key to key", (x1, x2) => {
    const times = Array.from({ length: 1001 }, (_, i) => i / 100);
    const actual = samples(cssCurve(x1, 0, x2, 1), times);
    expect(actual[0]).toBe(0);
    expect(actual[1000]).toBe(1);
    for (let i = 1; i <= 1000; i++) expect(actual[i] >= actual[i - 1] - 1e-12).toBe(true);
  });

  test("a handle past the neighbouring key is shortened along its own direction", () => {
    const long = scalarCurve([0, 10], [0, 1], "bezier", { handles: [none, none, 25, 5, -40, 4, none, none] });
    const short = scalarCurve([0, 10], [0, 1], "bezier", {
      handles: [none, none, 10, 2, -10, 1, none, none],
    });
    expect(samples(long, [1, 5, 9])).toEqual(samples(short, [1, 5, 9]));
  });

  test("a handle that points back in time is stood upright", () => {
    const back = scalarCurve([0, 10], [0, 1], "bezier", { handles: [none, none, -3, 5, 4, 4, none, none] });
    const upright = scalarCurve([0, 10], [0, 1], "bezier", { handles: [none, none, 0, 5, 0, 4, none, none] });
    expect(samples(back, [1, 5, 9])).toEqual(samples(upright, [1, 5, 9]));
  });

  test("handles that are left out are those of smooth", () => {
    const frames = [0, 3, 7, 8, 20];
    const values = [0, 4, 5, 11, 12];
    const times = Array.from({ length: 81 }, (_, i) => i / 4);
    const smooth = samples(scalarCurve(frames, values, "smooth"), times);
    const bezier = samples(scalarCurve(frames, values, "bezier"), times);
    const empty = samples(scalarCurve(frames, values, "bezier", { handles: Array(20).fill(none) }), times);
    smooth.forEach((value, i) => {
      expect(bezier[i]).toBeCloseTo(value, 12);
      expect(empty[i]).toBeCloseTo(value, 12);
    });
  });
});

describe("cubic segments: glTF 2.0 Appendix C", () => {
  test("the worked value v = 0 → 1, out slope 1, in slope 0, two frames: 0.75 half way", () => {
    const curve = scalarCurve([0, 2], [0, 1], "cubic", {
      handles: [none, none, none, 1, none, 0, none, none],
    });
    expect(valueAt(curve, 1)).toBe(0.75);
  });

  test("random keys and slopes against the published formula", () => {
    const number = fc.double({ min: -100, max: 100, noNaN: true });
    const span = fc.double({ min: 0.1, max: 50, noNaN: true });
    fc.assert(
      fc.property(
        number,
        number,
        number,
        number,
        span,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (v, w, b, a, td, t) => {
          const curve = scalarCurve([7, 7 + td], [v, w], "cubic", {
            handles: [none, none, none, b, none, a, none, none],
          });
          const time = 7 + t * td;
          const u = (time - 7) / (7 + td - 7);
          const u2 = u * u;
          const u3 = u2 * u;
          const expected =
            (2 * u3 - 3 * u2 + 1) * v +
            td * (u3 - 2 * u2 + u) * b +
            (-2 * u3 + 3 * u2) * w +
            td * (u3 - u2) * a;
          expect(Math.abs(valueAt(curve, time) - expected)).toBeLessThan(
            1e-9 * (1 + Math.abs(v) + Math.abs(w) + 50 * td),
          );
        },
      ),
    );
  });
});

describe("linear and step segments", () => {
  test("linear agrees with three's LinearInterpolant", () => {
    const frames = [0, 1, 2.5, 7, 8];
    const values = [3, -4, 10, 10, 0];
    const reference = new LinearInterpolant(
      Float64Array.from(frames),
      Float64Array.from(values),
      1,
      new Float64Array(1),
    );
    const curve = scalarCurve(frames, values, "linear");
    for (let time = -1; time <= 9; time += 0.13) {
      expect(valueAt(curve, time)).toBeCloseTo(reference.evaluate(time)[0], 12);
    }
  });

  test("step holds until just before the next key", () => {
    const curve = scalarCurve([0, 4, 8], [1, 2, 3], "step");
    expect(samples(curve, [0, 3.999, 4, 7.999, 8, 9])).toEqual([1, 1, 2, 2, 3, 3]);
  });

  test("each segment runs as its first key says", () => {
    const curve = scalarCurve([0, 4, 8], [0, 4, 8], "linear", { modes: ["step", "linear", "step"] });
    expect(samples(curve, [2, 6])).toEqual([0, 6]);
  });

  test("between equal keys the value is theirs to the last digit", () => {
    for (const mode of ["linear", "smooth"] as const) {
      const curve = scalarCurve([0, 7], [0.1, 0.1], mode);
      expect(new Set(samples(curve, [0, 1.1, 2.3, 3.7, 5.9, 7]))).toEqual(new Set([0.1]));
    }
  });
});

const anyKeys = fc
  .array(
    fc.tuple(fc.double({ min: 0.01, max: 9, noNaN: true }), fc.double({ min: -1e3, max: 1e3, noNaN: true })),
    {
      minLength: 2,
      maxLength: 12,
    },
  )
  .map((keys) => {
    let frame = 0;
    return { frames: keys.map(([span]) => (frame += span)), values: keys.map(([, value]) => value) };
  });

describe("smooth segments", () => {
  test("never leave the band of their two keys, and never turn back inside it", () => {
    fc.assert(
      fc.property(anyKeys, ({ frames, values }) => {
        const curve = scalarCurve(frames, values, "smooth");
        for (let key = 0; key + 1 < frames.length; key++) {
          const span = frames[key + 1] - frames[key];
          const inside = samples(
            curve,
            Array.from({ length: 33 }, (_, i) => frames[key] + (span * i) / 33),
          );
          inside.push(values[key + 1]);
          const sign = Math.sign(values[key + 1] - values[key]);
          const slack = 1e-12 * 1e3;
          for (let i = 0; i < inside.length; i++) {
            expect(inside[i] >= Math.min(values[key], values[key + 1])).toBe(true);
            expect(inside[i] <= Math.max(values[key], values[key + 1])).toBe(true);
            if (i > 0) expect(sign * (inside[i] - inside[i - 1])).toBeGreaterThanOrEqual(-slack);
          }
        }
      }),
    );
  });

  test("Steffen's slope at an inner key, the ends flat because the curve holds there", () => {
    // Spans 1 and 2, slopes 2 and 1: parabola (2·2 + 1·1) / 3 = 5/3, within twice the flatter slope.
    const curve = scalarCurve([0, 1, 3], [0, 2, 4], "smooth");
    // Hermite at u = 1/2: (v0 + v1)/2 + span·(m0 - m1)/8.
    expect(valueAt(curve, 0.5)).toBeCloseTo(1 - 5 / 3 / 8, 14);
    expect(valueAt(curve, 2)).toBeCloseTo(3 + (2 * (5 / 3)) / 8, 14);
  });

  test("two keys ease out of the hold before them and into the one after", () => {
    const curve = scalarCurve([0, 4], [0, 1], "smooth");
    expect(samples(curve, [1, 2, 3])).toEqual([5 / 32, 0.5, 27 / 32]);
  });
});

describe("keys taken out", () => {
  const modes = fc.constantFrom("step", "linear", "smooth", "bezier", "cubic" as const);
  test("the same as a copy without these keys", () => {
    fc.assert(
      fc.property(
        anyKeys,
        fc.array(modes, { minLength: 12, maxLength: 12 }),
        fc.array(fc.oneof(fc.constant(none), fc.double({ min: -5, max: 5, noNaN: true })), {
          minLength: 48,
          maxLength: 48,
        }),
        fc.nat(11),
        fc.nat(11),
        ({ frames, values }, kinds, handles, a, b) => {
          const count = frames.length;
          const first = Math.min(a, b) % count;
          const last = Math.min(count - 1, first + (b % 4));
          const build = (kept: number[]) =>
            scalarCurve(
              kept.map((key) => frames[key]),
              kept.map((key) => values[key]),
              "linear",
              {
                modes: kept.map((key) => kinds[key]),
                handles: kept.flatMap((key) => handles.slice(4 * key, 4 * key + 4)),
              },
            );
          const all = frames.map((_, key) => key);
          const rest = all.filter((key) => key < first || key > last);
          const times = Float64Array.from(
            [...frames, ...Array.from({ length: 60 }, (_, i) => i * 2 + 0.3)].sort((x, y) => x - y),
          );
          const actual = new Float64Array(times.length);
          const expected = new Float64Array(times.length);
          sampleCurveWithout(build(all), first, last, times, actual);
          sampleCurve(build(rest), times, expected);
          expect(actual).toEqual(expected);
        },
      ),
      { numRuns: 300 },
    );
  });

  test("keys on every sample, and a gap among them", () => {
    const frames = Array.from({ length: 30 }, (_, i) => i);
    const curve = scalarCurve(
      frames,
      frames.map((frame) => frame * frame),
      "linear",
    );
    const out = new Float64Array(30);
    sampleCurveWithout(curve, 10, 12, Float64Array.from(frames), out);
    const expected = frames.map((frame) => frame * frame);
    for (let frame = 10; frame <= 12; frame++) expected[frame] = 81 + ((169 - 81) * (frame - 9)) / 4;
    expect([...out]).toEqual(expected);
  });

  test("an empty run takes nothing out", () => {
    const curve = scalarCurve([0, 1], [1, 2], "linear");
    const out = new Float64Array(2);
    sampleCurveWithout(curve, 1, 0, Float64Array.of(0, 1), out);
    expect([...out]).toEqual([1, 2]);
  });
});

describe("degenerate curves", () => {
  const every = ["step", "linear", "smooth", "bezier", "cubic"] as const;

  test.each(every)("%s: one key holds everywhere, no key gives NaN", (mode) => {
    expect(samples(scalarCurve([5], [2], mode), [0, 5, 9])).toEqual([2, 2, 2]);
    expect(samples(scalarCurve([], [], mode), [0, 5])).toEqual([none, none]);
    const out = new Float64Array(2);
    sampleCurveWithout(scalarCurve([1, 2], [1, 2], mode), 0, 1, Float64Array.of(0, 1), out);
    expect([...out]).toEqual([none, none]);
  });

  test.each(every)("%s: before the first and after the last key the curve holds", (mode) => {
    expect(samples(scalarCurve([5, 9], [2, 3], mode), [-100, 4.999, 5, 9, 9.001, 100])).toEqual([
      2, 2, 2, 3, 3, 3,
    ]);
  });

  test.each(every)("%s: at a key's own time the value is the key's", (mode) => {
    fc.assert(
      fc.property(anyKeys, ({ frames, values }) => {
        expect(samples(scalarCurve(frames, values, mode), frames)).toEqual(values);
        frames.forEach((frame, key) => {
          expect(valueAt(scalarCurve(frames, values, mode), frame)).toBe(values[key]);
        });
      }),
      { numRuns: 30 },
    );
  });

  test.each(every)("%s: of keys that share a time the last one counts", (mode) => {
    const curve = scalarCurve([0, 4, 4, 4, 8], [0, 1, 2, 3, 4], mode);
    const actual = samples(curve, [0, 3.9999999, 4, 4.0000001, 8]);
    expect(actual[2]).toBe(3);
    expect(actual[1]).toBeLessThanOrEqual(1.0000001);
    expect(actual[3]).toBeCloseTo(3, 4);
    expect(samples(scalarCurve([2, 2], [5, 6], mode), [1, 2, 3])).toEqual([5, 6, 6]);
  });

  test.each(every)("%s: huge values and times do not throw", (mode) => {
    const curve = scalarCurve([-1e300, 0, 1e300], [1e300, -1e300, 1e300], mode, {
      handles: [none, none, 1e300, 1e300, -1e300, 1e300, 0, -1e300, 0, 0, none, none],
    });
    expect(samples(curve, [-1e300, -5e299, 0, 1, 1e300])[2]).toBe(-1e300);
  });

  test.each(every)("%s: keys that are not finite do not throw", (mode) => {
    const curve = scalarCurve([0, 1, 2], [0, Number.POSITIVE_INFINITY, none], mode);
    expect(samples(curve, [0, 0.5, 1, 1.5, 2])).toHaveLength(5);
  });

  test.each(every)("%s: times that are no numbers hold the value", (mode) => {
    expect(samples(scalarCurve([0, none, 2], [1, 5, 9], mode), [0, 1, 1.5])).toEqual([1, 1, 1]);
    expect(samples(scalarCurve([0, 2], [1, 9], mode), [none, 2])).toEqual([1, 9]);
    expect(samples(scalarCurve([none], [3], mode), [0, 1])).toEqual([3, 3]);
  });

  test("dense integer keys with doubled ones are read alike by either path", () => {
    const frames = [0, 1, 2, 2, 3, 4, 5, 5, 5];
    const values = [0, 1, 2, 20, 3, 4, 5, 6, 7];
    expect(samples(scalarCurve(frames, values, "linear"), [0, 1, 2, 3, 4, 5])).toEqual([0, 1, 20, 3, 4, 7]);
  });
});
