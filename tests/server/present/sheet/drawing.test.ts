import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { lanesOf } from "../../../../packages/server/present/sheet/draw/strip-picture.ts";
import { measuredText } from "../../../../packages/server/present/text/measured.ts";
import {
  element,
  escaped,
  meet,
  niceStep,
  short,
  through,
} from "../../../../packages/server/present/text/svg.ts";
import { unbalanced } from "./shots.ts";

describe("markup", () => {
  test("whatever a name holds, it neither opens an element nor ends an attribute", () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(escaped(text)).not.toMatch(/[<>"']/);
        const back = escaped(text)
          .replaceAll("&lt;", "<")
          .replaceAll("&gt;", ">")
          .replaceAll("&quot;", '"')
          .replaceAll("&#39;", "'")
          .replaceAll("&amp;", "&");
        expect(back).toBe(text);
      }),
    );
  });

  test("elements hold their attributes and what is in them", () => {
    expect(element("g", { class: 'a"b', x: 1.26, y: undefined }, "<i></i>")).toBe(
      '<g class="a&quot;b" x="1.3"><i></i></g>',
    );
    expect(
      through([
        [0, 1],
        [2.04, -3],
      ]),
    ).toBe("M0 1L2 -3");
    expect([short(-0.01), short(Number.NaN), short(1e9)]).toEqual(["0", "0", "1000000000"]);
  });

  test("the helper of these tests sees what is not closed", () => {
    expect(unbalanced("<p><b>x</b></p>")).toBeNull();
    expect(unbalanced("<p><b>x</p>")).not.toBeNull();
    expect(unbalanced('<p title="a > b">x')).not.toBeNull();
  });
});

describe("steps", () => {
  test("are 1, 2 or 5 times a power of ten, and not far from as many as were asked for", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
        fc.integer({ min: 2, max: 20 }),
        (span, count) => {
          const step = niceStep(span, count);
          const mantissa = step / 10 ** Math.floor(Math.log10(step) + 1e-9);
          expect([1, 2, 5, 10].some((one) => Math.abs(mantissa - one) < 1e-6)).toBe(true);
          expect(span / step).toBeLessThanOrEqual(count * 1.000001);
          expect(span / step).toBeGreaterThan(count / 2.6);
        },
      ),
    );
  });

  test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])("there is a step for a span of %d", (span) => {
    expect(niceStep(span, 5)).toBeGreaterThan(0);
  });
});

describe("lanes", () => {
  test("no two bars of a lane lie on another, and the first lane is filled first", () => {
    const interval = fc
      .tuple(fc.integer({ min: 0, max: 100 }), fc.integer({ min: 0, max: 30 }))
      .map(([from, long]) => [from, from + long] as const);
    fc.assert(
      fc.property(fc.array(interval), (intervals) => {
        const lanes = lanesOf(intervals);
        intervals.forEach(([a, b], i) => {
          for (let j = 0; j < i; j++) {
            const [c, d] = intervals[j];
            if (lanes[i] === lanes[j]) expect(b < c || a > d).toBe(true);
          }
          expect(lanes[i]).toBeLessThanOrEqual(Math.max(-1, ...lanes.slice(0, i)) + 1);
        });
      }),
    );
  });

  test("boxes meet where they share a point inside", () => {
    const box = (left: number, top: number) => ({ left, top, right: left + 10, bottom: top + 10 });
    expect(meet(box(0, 0), box(9, 9))).toBe(true);
    expect(meet(box(0, 0), box(10, 0))).toBe(false);
  });
});

describe("numbers with units", () => {
  test.each([
    [0.0054, "m", "5.4 mm"],
    [0.034, "m", "3.4 cm"],
    [1.234, "m", "1.23 m"],
    [1.5e-13, "deg", "0°"],
    [-1e-9, "deg", "0°"],
    [358.98, "deg", "359°"],
    [0.992, "ratio", "0.99"],
    [5, "frames", "5 frames"],
    [0.5, "share", "50 %"],
    [5.036, "m/s^2", "5.04 m/s²"],
    [9, "Hz", "9 Hz"],
    [0.25, "H", "0.25 body heights"],
  ] as const)("%d %s is %s", (value, unit, text) => {
    expect(measuredText(value, unit)).toBe(text);
  });
});
