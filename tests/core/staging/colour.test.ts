import { diff } from "color-diff";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  colourFrom,
  contrastOf,
  differenceOf,
  luminanceOf,
  rednessOf,
  writtenColour,
} from "../../../packages/core/staging/colour.ts";
import { ciede2000, type Lab, labOf } from "../../support/ciede2000.ts";

/** All 34 pairs of Sharma, Wu and Dalal 2005, table 1: L, a, b of both, ΔE₀₀. */
const pairs: readonly (readonly [Lab, Lab, number])[] = [
  [[50, 2.6772, -79.7751], [50, 0, -82.7485], 2.0425],
  [[50, 3.1571, -77.2803], [50, 0, -82.7485], 2.8615],
  [[50, 2.8361, -74.02], [50, 0, -82.7485], 3.4412],
  [[50, -1.3802, -84.2814], [50, 0, -82.7485], 1],
  [[50, -1.1848, -84.8006], [50, 0, -82.7485], 1],
  [[50, -0.9009, -85.5211], [50, 0, -82.7485], 1],
  [[50, 0, 0], [50, -1, 2], 2.3669],
  [[50, -1, 2], [50, 0, 0], 2.3669],
  [[50, 2.49, -0.001], [50, -2.49, 0.0009], 7.1792],
  [[50, 2.49, -0.001], [50, -2.49, 0.001], 7.1792],
  [[50, 2.49, -0.001], [50, -2.49, 0.0011], 7.2195],
  [[50, 2.49, -0.001], [50, -2.49, 0.0012], 7.2195],
  [[50, -0.001, 2.49], [50, 0.0009, -2.49], 4.8045],
  [[50, -0.001, 2.49], [50, 0.001, -2.49], 4.8045],
  [[50, -0.001, 2.49], [50, 0.0011, -2.49], 4.7461],
  [[50, 2.5, 0], [50, 0, -2.5], 4.3065],
  [[50, 2.5, 0], [73, 25, -18], 27.1492],
  [[50, 2.5, 0], [61, -5, 29], 22.8977],
  [[50, 2.5, 0], [56, -27, -3], 31.903],
  [[50, 2.5, 0], [58, 24, 15], 19.4535],
  [[50, 2.5, 0], [50, 3.1736, 0.5854], 1],
  [[50, 2.5, 0], [50, 3.2972, 0], 1],
  [[50, 2.5, 0], [50, 1.8634, 0.5757], 1],
  [[50, 2.5, 0], [50, 3.2592, 0.335], 1],
  [[60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644],
  [[63.0109, -31.0961, -5.8663], [62.8187, -29.7946, -4.0864], 1.263],
  [[61.2901, 3.7196, -5.3901], [61.4292, 2.248, -4.962], 1.8731],
  [[35.0831, -44.1164, 3.7933], [35.0232, -40.0716, 1.5901], 1.8645],
  [[22.7233, 20.0904, -46.694], [23.0331, 14.973, -42.5619], 2.0373],
  [[36.4612, 47.858, 18.3852], [36.2715, 50.5065, 21.2231], 1.4146],
  [[90.8027, -2.0831, 1.441], [91.1528, -1.6435, 0.0447], 1.4441],
  [[90.9257, -0.5406, -0.9208], [88.6381, -0.8985, -0.7239], 1.5381],
  [[6.7747, -0.2908, -2.4247], [5.8714, -0.0985, -2.2286], 0.6377],
  [[2.0776, 0.0795, -1.135], [0.9033, -0.0636, -0.5514], 0.9082],
];

describe("CIEDE2000", () => {
  test("the library gives all 34 published differences, to the last printed digit", () => {
    expect(pairs.length).toBe(34);
    for (const [[L, a, b], [l, c, d], published] of pairs) {
      const said = diff({ L, a, b }, { L: l, a: c, b: d });
      expect(Math.abs(said - published), `${L} ${a} ${b}`).toBeLessThan(1e-4);
    }
  });

  test("the formulas written out here give them too", () => {
    for (const [one, other, published] of pairs)
      expect(Math.abs(ciede2000(one, other) - published)).toBeLessThan(1e-4);
  });

  test("of any two display colours both give the same, and the same either way round", () => {
    const colour = fc.integer({ min: 0, max: 0xffffff });
    fc.assert(
      fc.property(colour, colour, (a, b) => {
        const [p, q] = [labOf(writtenColour(a)), labOf(writtenColour(b))];
        expect(differenceOf(a, b)).toBeCloseTo(ciede2000(p, q), 1);
        expect(differenceOf(a, b)).toBeCloseTo(differenceOf(b, a), 9);
        expect(differenceOf(a, a)).toBe(0);
      }),
    );
  });
});

describe("luminance and contrast of WCAG 2.2", () => {
  // Values of two packages, in the reference values of the project: 21 is that of the standard's own text.
  test.each([
    ["#000000", "#ffffff", 21],
    ["#767676", "#ffffff", 4.542225],
    ["#777777", "#ffffff", 4.478089],
    ["#949494", "#ffffff", 3.03347],
    ["#959595", "#ffffff", 2.995346],
    ["#808080", "#ffffff", 3.94944],
    ["#ff0000", "#ffffff", 3.998477],
  ])("%s on %s has a contrast of %s", (a, b, contrast) => {
    expect(contrastOf(colourFrom(a), colourFrom(b))).toBeCloseTo(contrast, 3);
    expect(contrastOf(colourFrom(b), colourFrom(a))).toBeCloseTo(contrast, 3);
  });

  test("black has none, white all", () => {
    expect(luminanceOf(0)).toBe(0);
    expect(luminanceOf(0xffffff)).toBeCloseTo(1, 9);
  });
});

test("a saturated red is one of which four fifths are red light", () => {
  expect(rednessOf(0xff0000)).toEqual({ value: 320, isSaturated: true });
  expect(rednessOf(0xff8080).isSaturated).toBe(false);
  expect(rednessOf(0x000000)).toEqual({ value: 0, isSaturated: false });
});
