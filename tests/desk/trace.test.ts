import { valueAt } from "@keyside/core";
import { expect, test } from "vitest";
import { FramesView } from "../../packages/desk/curves/frames-view.ts";
import { Trace } from "../../packages/desk/curves/trace.ts";
import { curveOf, type KeySpec } from "./curves-of.ts";

/** What a pen was told. */
function penOf() {
  const places: (readonly [number, number])[] = [];
  return {
    places,
    moveTo: (x: number, y: number) => void places.push([x, y]),
    rect: (x: number, y: number, _: number, height: number) => void places.push([x, y], [x, y + height]),
    lineTo: (x: number, y: number) => void places.push([x, y]),
  };
}

test("close by, the line goes through the curve's own values", () => {
  const curve = curveOf(
    [
      [1, 0],
      [10, 30],
      [20, 5],
    ],
    "smooth",
  );
  const view = new FramesView(1, 20);
  const trace = new Trace();
  trace.update(curve, view);
  const pen = penOf();
  trace.stroke(pen, view, 0, 10, 40);
  expect(pen.places.length).toBeGreaterThan(200);
  for (const [x, y] of pen.places) expect(40 - y / 10).toBeCloseTo(valueAt(curve, view.frameAt(x)), 6);
});

test("from far away, a single frame that sticks out is drawn to its whole height", () => {
  const keys: KeySpec[] = Array.from({ length: 4000 }, (_, frame) => [frame, frame === 1717 ? 90 : 1]);
  const curve = curveOf(keys);
  const view = new FramesView(0, 3999);
  view.resize(400);
  const trace = new Trace();
  trace.update(curve, view);
  const pen = penOf();
  trace.stroke(pen, view, 0, 1, 100);
  expect(Math.min(...pen.places.map(([, y]) => y))).toBeLessThanOrEqual(10);
  expect([trace.low, trace.high]).toEqual([1, 90]);
  // A stroke a pixel at most, the edges included.
  expect(pen.places.length).toBeLessThanOrEqual(2 * 403);
});

test("is worked out again where the curve or what is seen has changed, and takes what it has else", () => {
  const curve = curveOf([
    [1, 0],
    [9, 8],
  ]);
  const view = new FramesView(1, 9);
  const trace = new Trace();
  trace.update(curve, view);
  trace.values[0] = 77;
  trace.update(curve, view);
  expect(trace.values[0]).toBe(77);
  trace.update({ ...curve }, view);
  expect(trace.values[0]).toBe(0);
});

test("a curve without keys draws nothing", () => {
  const curve = curveOf([[1, 0]]);
  const trace = new Trace();
  const view = new FramesView(1, 9);
  const none = { ...curve, frames: new Float64Array(0), values: new Float64Array(0) };
  trace.update(none, view);
  const pen = penOf();
  trace.stroke(pen, view, 0, 1, 0);
  expect(pen.places).toEqual([]);
});
