import { deflateRawSync } from "node:zlib";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Motion } from "../../packages/player/motion.ts";
import { fromBytes, toBytes } from "../../packages/player/packed.ts";
import { posesAfter, posesOf } from "../../packages/player/unpack.ts";

const grain = 0.0003;
const lengths = fc.double({ min: -5000, max: 5000, noNaN: true });
const series = fc
  .record({ count: fc.integer({ min: 1, max: 40 }), series: fc.integer({ min: 0, max: 5 }) })
  .chain(({ count, series }) =>
    fc.record({
      count: fc.constant(count),
      values: fc.array(lengths, { minLength: count * series, maxLength: count * series }),
    }),
  );
const packed = (values: Float64Array, count: number) =>
  deflateRawSync(toBytes(values, count, grain)).toString("base64");

describe("packed series", () => {
  test("are what they were, to half a grain", () => {
    fc.assert(
      fc.property(series, ({ count, values }) => {
        const bytes = toBytes(Float64Array.from(values), count, grain);
        const back = fromBytes(bytes, values.length, count, grain);
        // Numbers of 32 bits hold 5000 to 0.0003.
        values.forEach((value, i) => {
          expect(Math.abs(back[i] - value)).toBeLessThan(grain / 2 + 3e-4);
        });
      }),
    );
  });

  test("an even way costs a byte a number, once it goes", () => {
    const even = Float64Array.from({ length: 1000 }, (_, i) => 3 + 0.021 * i);
    expect(toBytes(even, 1000, grain).length).toBeLessThan(1010);
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY, 1e6])("%s is refused", (value) => {
    expect(() => toBytes(Float64Array.of(1, value), 2, grain)).toThrow("cannot be packed");
  });

  test("bytes that break off, or go on, are refused", () => {
    const bytes = toBytes(Float64Array.of(1, 2, 3, 4), 4, grain);
    expect(() => fromBytes(bytes.subarray(0, -1), 4, 4, grain)).toThrow("breaks off");
    expect(() => fromBytes(bytes, 3, 3, grain)).toThrow("more than");
  });
});

describe("poses", () => {
  const count = 5;
  const places = Float64Array.from({ length: 2 * 3 * count }, (_, i) => Math.sin(i) * 2);
  const motion = { poses: packed(places, count), points: 2, count, grain } as Motion;

  test("are unpacked from what is packed", async () => {
    const { at } = await posesOf(motion);
    for (let i = 0; i < places.length; i++) expect(at[i]).toBeCloseTo(places[i], 3);
  });

  test("after a fix differ where it says so, by what it says", async () => {
    const before = await posesOf(motion);
    const moves = Float64Array.from({ length: 3 * 2 }, (_, i) => 0.1 * (i + 1));
    const fix = { title: "", points: [1], from: 2, to: 3, moves: packed(moves, 2) };
    const { at } = await posesAfter(before, fix, grain);
    for (let axis = 0; axis < 3; axis++) {
      for (let i = 0; i < count; i++) {
        const isMoved = i >= 2 && i <= 3;
        const by = isMoved ? moves[2 * axis + i - 2] : 0;
        expect(at[(3 + axis) * count + i] - before.at[(3 + axis) * count + i]).toBeCloseTo(by, 3);
        expect(at[axis * count + i]).toBe(before.at[axis * count + i]);
      }
    }
  });

  test("that are no deflate stream are refused", async () => {
    await expect(posesOf({ ...motion, poses: "AAAA" })).rejects.toThrow();
  });
});
