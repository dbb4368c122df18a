import { sampleCurve } from "@keyside/core/curves";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { HandleDrag, KeyDrag } from "../../packages/desk/curves/drag.ts";
import { type HandlePlace, placeOfHandle } from "../../packages/desk/curves/handles.ts";
import { addition, handleFrom, removals, runAs, withHandles } from "../../packages/desk/curves/key-edits.ts";
import { keyAt } from "../../packages/desk/curves/picked.ts";
import { curveOf, edited, type KeySpec } from "./curves-of.ts";

const keys: readonly KeySpec[] = [
  [1, 0],
  [8, 30],
  [15, -10],
  [24, 12],
];
const frames = (curve: { frames: Float64Array }) => [...curve.frames];
/** Values of a curve at many frames. */
function sampled(curve: Parameters<typeof sampleCurve>[0]): Float64Array {
  const times = Float64Array.from({ length: 400 }, (_, i) => 1 + i * 0.0577);
  const out = new Float64Array(400);
  sampleCurve(curve, times, out);
  return out;
}
function expectSame(a: Float64Array, b: Float64Array, digits: number): void {
  expect(Math.max(...a.map((value, i) => Math.abs(value - b[i])))).toBeLessThan(10 ** -digits);
}

describe("dragging keys", () => {
  test("moves by whole frames, in value as far as the hand goes", () => {
    const curve = curveOf(keys);
    const drag = new KeyDrag([{ curve, key: 1 }]);
    drag.to(2.4, 5.5);
    const after = edited(curve, drag.whole());
    expect(frames(after)).toEqual([1, 10, 15, 24]);
    expect(after.values[1]).toBe(35.5);
    expect(drag.picks).toEqual([{ name: "arm rotation.x", frame: 10 }]);
  });

  test("a key off the frames comes onto one", () => {
    const curve = curveOf([
      [1, 0],
      [8.4, 3],
      [20, 1],
    ]);
    const drag = new KeyDrag([{ curve, key: 1 }]);
    drag.to(1.1, 0);
    expect(frames(edited(curve, drag.whole()))).toEqual([1, 10, 20]);
    // What is dragged back to where it was changes nothing.
    drag.to(0, 0);
    expect(drag.whole()).toEqual([]);
  });

  test("stops a frame before its neighbour, on a whole frame", () => {
    const curve = curveOf([
      [1, 0],
      [8, 3],
      [12.5, 1],
    ]);
    const drag = new KeyDrag([{ curve, key: 1 }]);
    drag.to(50, 0);
    expect(frames(edited(curve, drag.whole()))).toEqual([1, 11, 12.5]);
    drag.to(-50, 0);
    expect(frames(edited(curve, drag.whole()))).toEqual([1, 2, 12.5]);
  });

  test("keys that are dragged together keep their distances; those of another kind follow in time alone", () => {
    const curve = curveOf(keys);
    const place = curveOf(keys, "linear", "translation.y");
    const drag = new KeyDrag([
      { curve, key: 2 },
      { curve: place, key: 1 },
      { curve, key: 1 },
    ]);
    drag.to(3, 4);
    expect(
      frames(
        edited(
          curve,
          drag.whole().filter(({ channel }) => channel === "rotation.x"),
        ),
      ),
    ).toEqual([1, 11, 18, 24]);
    const [moved] = drag.whole().filter(({ channel }) => channel === "translation.y");
    expect(moved).toEqual({ kind: "move", node: "arm", channel: "translation.y", frame: 8, toFrame: 11 });
  });

  test("property: what is taken on the way leads where the whole leads, whatever the way", () => {
    const step = fc.tuple(
      fc.double({ min: -30, max: 30, noNaN: true }),
      fc.double({ min: -9, max: 9, noNaN: true }),
    );
    fc.assert(
      fc.property(
        fc.array(step, { minLength: 1, maxLength: 12 }),
        fc.subarray([0, 1, 2, 3], { minLength: 1 }),
        (way, which) => {
          const curve = curveOf(keys, "smooth");
          const drag = new KeyDrag(which.map((key) => ({ curve, key })));
          let now = curve;
          for (const [time, value] of way) {
            drag.to(time, value);
            now = edited(now, drag.take());
          }
          const whole = edited(curve, drag.whole());
          expect(frames(now)).toEqual(frames(whole));
          expect([...now.values]).toEqual([...whole.values]);
          expect(drag.take()).toEqual([]);
          // In order, a frame apart, and whole.
          const all = frames(now);
          expect(all.slice(1).every((frame, i) => frame - all[i] >= 1)).toBe(true);
          expect(all.every(Number.isInteger)).toBe(true);
        },
      ),
    );
  });
});

describe("handles", () => {
  const place: HandlePlace = { frame: 0, value: 0, isOwn: false };

  test.each(["bezier", "cubic"] as const)("%s: stand where they were pulled to", (mode) => {
    const curve = curveOf(keys, mode);
    const drag = new HandleDrag(curve, 1, "out");
    expect(placeOfHandle(curve, 1, "out", place)).toBe(true);
    expect(place.isOwn).toBe(false);
    const from = { ...place };
    drag.to(1, 6, false);
    const after = edited(curve, drag.whole());
    placeOfHandle(after, 1, "out", place);
    expect(place.isOwn).toBe(true);
    // A cubic handle is a slope: it stands a third of the segment away, on the line through the hand.
    const slope = (from.value + 6 - 30) / (from.frame + 1 - 8);
    if (mode === "bezier")
      expect(place).toMatchObject({
        frame: expect.closeTo(from.frame + 1, 4),
        value: expect.closeTo(from.value + 6, 4),
      });
    else expect((place.value - 30) / (place.frame - 8)).toBeCloseTo(slope, 4);
  });

  test("cannot be pulled across their key, nor past the next one", () => {
    const curve = curveOf(keys, "bezier");
    const drag = new HandleDrag(curve, 1, "out");
    drag.to(-50, 0, false);
    expect(handleFrom(edited(curve, drag.whole()), 1, "out")?.[0]).toBe(0);
    drag.to(50, 0, false);
    expect(handleFrom(edited(curve, drag.whole()), 1, "out")?.[0]).toBe(7);
  });

  test("in line, the other one turns with it and stays as long as it was", () => {
    const curve = curveOf(keys, "bezier");
    const drag = new HandleDrag(curve, 1, "out");
    drag.to(0, 7, true);
    const after = edited(curve, drag.whole());
    const [inRun, inRise] = handleFrom(after, 1, "in") ?? [0, 0];
    const [outRun, outRise] = handleFrom(after, 1, "out") ?? [0, 0];
    expect(inRun).toBeCloseTo(-7 / 3, 4);
    expect(inRise / inRun).toBeCloseTo(outRise / outRun, 3);
  });

  test("there are none on other segments, until the key is given some; a smooth curve keeps its shape then", () => {
    const curve = curveOf(keys, "smooth");
    expect(handleFrom(curve, 1, "out")).toBeNull();
    const after = edited(curve, withHandles(curve, 1));
    expect(handleFrom(after, 1, "in")).not.toBeNull();
    expect(handleFrom(after, 1, "out")).not.toBeNull();
    expectSame(sampled(after), sampled(curve), 9);
  });
});

describe("adding and taking keys", () => {
  test.each([
    ["step", 6],
    ["linear", 4],
    ["bezier", 4],
    ["cubic", 4],
  ] as const)("a key that is added on a %s curve leaves its shape", (mode, digits) => {
    const drawn = keys.map(
      ([frame, value], i): KeySpec =>
        mode === "bezier" && i > 0 ? [frame, value, { in: [-4, 3], out: [2.5, 6] }] : [frame, value],
    );
    const curve = curveOf(drawn, mode);
    for (const frame of [0, 5, 11, 20, 30]) {
      const after = edited(curve, addition(curve, frame));
      expect(keyAt(after, frame)).toBeGreaterThanOrEqual(0);
      expect(after.frames.length).toBe(5);
      expectSame(sampled(after), sampled(curve), digits);
    }
  });

  test("no second key comes onto a frame", () => {
    expect(addition(curveOf(keys), 8)).toEqual([]);
  });

  test("a key added where the segment runs otherwise than the curve runs on so", () => {
    const curve = curveOf([
      [1, 0, { interpolation: "step" }],
      [9, 4],
    ]);
    expect(edited(curve, addition(curve, 5)).modes[1]).toBe(curve.modes[0]);
  });

  test("quaternions get a key on their way", () => {
    const curve = curveOf(
      [
        [1, [0, 0, 0, 1] as never],
        [3, [0, 0, 1, 0] as never],
      ],
      "linear",
      "rotation",
    );
    const after = edited(curve, addition(curve, 2));
    const half = Math.SQRT1_2;
    expect([...after.values.subarray(4, 8)].map(Math.abs)).toEqual([
      0,
      0,
      expect.closeTo(half),
      expect.closeTo(half),
    ]);
  });

  test("what is taken out goes, and no more than that", () => {
    const curve = curveOf(keys);
    expect(
      frames(
        edited(
          curve,
          removals([
            { curve, key: 1 },
            { curve, key: 3 },
          ]),
        ),
      ),
    ).toEqual([1, 15]);
  });

  test("a segment runs as it is told to; where it does already, nothing is edited", () => {
    const curve = curveOf(keys);
    expect(runAs([{ curve, key: 1 }], "linear")).toEqual([]);
    const after = edited(curve, runAs([{ curve, key: 1 }], "step"));
    expect([...after.modes]).toEqual([1, 0, 1, 1]);
  });
});
