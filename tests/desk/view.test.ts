import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { FramesView, margin } from "../../packages/desk/curves/frames-view.ts";
import { axisText, scaleFor, stepOf, valueAtY, yOf } from "../../packages/desk/curves/scale.ts";

describe("the frames that are seen", () => {
  test("all of them to begin with, the first and last a margin from the edges", () => {
    const view = new FramesView(1, 101);
    view.resize(500);
    expect(view.xOf(1)).toBe(margin);
    expect(view.xOf(101)).toBeCloseTo(500 - margin);
    expect(view.frameAt(view.xOf(37))).toBeCloseTo(37);
  });

  test("property: however it is moved, frames and pixels belong together and what is seen stays within bounds", () => {
    const move = fc.oneof(
      fc.tuple(
        fc.constant("zoom" as const),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.integer({ min: -50, max: 400 }),
      ),
      fc.tuple(fc.constant("pan" as const), fc.integer({ min: -500, max: 500 }), fc.constant(0)),
      fc.tuple(
        fc.constant("show" as const),
        fc.integer({ min: -50, max: 400 }),
        fc.integer({ min: -50, max: 400 }),
      ),
      fc.tuple(fc.constant("reveal" as const), fc.integer({ min: 1, max: 300 }), fc.constant(0)),
    );
    fc.assert(
      fc.property(fc.array(move, { maxLength: 20 }), (moves) => {
        const view = new FramesView(1, 300);
        view.resize(700);
        for (const [kind, a, b] of moves) {
          if (kind === "zoom") view.zoom(a, b);
          else if (kind === "pan") view.pan(a);
          else if (kind === "show") view.show(Math.min(a, b), Math.max(a, b));
          else {
            view.reveal(a);
            expect(view.first).toBeLessThanOrEqual(a + 1e-9);
            expect(view.last).toBeGreaterThanOrEqual(a - 1e-9);
          }
          expect(view.first).toBeGreaterThanOrEqual(1 - 1e-9);
          expect(view.last).toBeLessThanOrEqual(300 + 1e-9);
          expect(view.last - view.first).toBeGreaterThanOrEqual(4 - 1e-9);
          expect(view.frameAt(view.xOf(120))).toBeCloseTo(120, 6);
        }
      }),
    );
  });

  test("zooming leaves the frame under the hand where it is", () => {
    const view = new FramesView(0, 1000);
    const x = view.xOf(400);
    view.zoom(3, 400);
    expect(view.xOf(400)).toBeCloseTo(x);
    view.zoom(1 / 3, 400);
    expect([view.first, view.last]).toEqual([expect.closeTo(0), expect.closeTo(1000)]);
  });

  test("a change is counted once, what changes nothing is not", () => {
    const view = new FramesView(0, 100);
    const before = view.changes;
    view.pan(-5);
    view.showAll();
    view.bound(0, 100);
    expect(view.changes).toBe(before);
    view.bound(0, 120);
    expect(view.changes).toBe(before + 1);
    expect(view.last).toBe(120);
  });
});

describe("numbers beside a drawing", () => {
  test.each([
    [0.03, 40, 0, 2],
    [0.5, 40, 0, 20],
    [0.0004, 50, 0, 0.02],
    [0.01, 50, 1, 1],
    [1, 60, 1, 100],
  ])("units a pixel %d, %d pixels apart, not below %d: every %d", (each, apart, least, step) => {
    expect(stepOf(each, apart, least)).toBeCloseTo(step, 12);
  });

  test("have the digits that their distance needs, and no minus nought", () => {
    expect(axisText(0.30000000000000004, 0.1)).toBe("0.3");
    expect(axisText(-20, 20)).toBe("−20");
    expect(axisText(-1e-15, 0.5)).toBe("0.0");
  });

  test("a still curve lies in the middle of a scale that does not blow up its noise", () => {
    const scale = { low: 0, high: 0 };
    scaleFor(5, 5, 1, scale);
    expect((scale.low + scale.high) / 2).toBeCloseTo(5);
    expect(scale.high - scale.low).toBeGreaterThanOrEqual(1);
    expect(valueAtY(scale, 200, yOf(scale, 200, 5.25))).toBeCloseTo(5.25);
    expect(yOf(scale, 200, scale.high)).toBe(0);
  });
});
