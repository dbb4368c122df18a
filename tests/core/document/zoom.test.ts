import fc from "fast-check";
import { expect, test } from "vitest";
import { sampleCurve, valueAt } from "../../../packages/core/curve/evaluate.ts";
import { readShot } from "../../../packages/core/document/read.ts";
import { readZoom } from "../../../packages/core/document/zoom.ts";

const camera = { id: "cam", node: "cam", verticalFieldOfView: 30 };

test("a camera without a zoom has no keys", () => {
  expect(readZoom(camera)).toEqual({ keys: null, problems: [] });
});

test("a zoom runs straight from key to key if nothing else is said", () => {
  const { keys, problems } = readZoom({
    ...camera,
    zoom: {
      keys: [
        [1, 30],
        [11, 50],
      ],
    },
  });
  expect(problems).toEqual([]);
  expect(valueAt(keys!, 6)).toBe(40);
  expect(valueAt(keys!, 0)).toBe(30);
  expect(valueAt(keys!, 99)).toBe(50);
});

test("a zoom with handles runs as a curve with the same keys does", () => {
  const value = fc.integer({ min: 1, max: 179 });
  const handle = (sign: number) =>
    fc.tuple(
      fc.integer({ min: 0, max: 9 }).map((n) => sign * n),
      value,
    );
  const interpolations = fc.constantFrom(
    "step" as const,
    "linear" as const,
    "smooth" as const,
    "bezier" as const,
  );
  fc.assert(
    fc.property(
      fc.array(fc.record({ value, in: handle(-1), out: handle(1), interpolation: interpolations }), {
        minLength: 1,
        maxLength: 5,
      }),
      interpolations,
      (list, interpolation) => {
        const keys = list.map(({ value: at, ...extras }, i): [number, number, typeof extras] => [
          1 + 10 * i,
          at,
          extras,
        ]);
        const curve = { node: "cam", channel: "translation.x", interpolation, keys };
        const text = JSON.stringify({
          format: "keyside.curves",
          version: 1,
          shot: { frameRate: 24 },
          nodes: [{ id: "cam" }],
          curves: [curve],
        });
        const frames = Float64Array.from({ length: 60 }, (_, i) => i);
        const expected = new Float64Array(60);
        sampleCurve(readShot(text).shot!.curves[0], frames, expected);
        const zoomed = new Float64Array(60);
        sampleCurve(readZoom({ ...camera, zoom: { interpolation, keys } }).keys!, frames, zoomed);
        expect(zoomed).toEqual(expected);
      },
    ),
  );
});

test("keys that cannot be are left out, and told of by their position in the document", () => {
  const keys: [number, number][] = [
    [1, 0],
    [20, 40],
    [10, 60],
    [30, 180],
    [40, -2],
  ];
  const zoom = readZoom({ ...camera, zoom: { keys } });
  expect(zoom.problems.map(({ code, path }) => `${code} ${path}`)).toEqual([
    "bad-value keys/0",
    "bad-value keys/3",
    "bad-value keys/4",
    "key-order keys/2",
  ]);
  expect([...zoom.keys!.frames]).toEqual([10, 20]);
  const ofExtent = readZoom({
    id: "cam",
    node: "cam",
    verticalExtent: 300,
    zoom: {
      keys: [
        [1, 0],
        [2, 180],
      ],
    },
  });
  expect(ofExtent.problems.map(({ path }) => path)).toEqual(["keys/0"]);
  expect([...ofExtent.keys!.values]).toEqual([180]);
  expect(readZoom({ ...camera, zoom: { keys: [[1, 0]] } }).keys).toBeNull();
});
