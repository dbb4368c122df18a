import fc from "fast-check";
import { expect, test } from "vitest";
import { codesOf } from "../../../packages/core/document/scan/codes.ts";
import { readNumberInto } from "../../../packages/core/document/scan/number.ts";

const out = new Float64Array(1);

function read(text: string): { end: number; value: number } {
  out[0] = Number.NaN;
  const end = readNumberInto(codesOf(text), text, 0, out, 0);
  return { end, value: out[0] };
}

function expectExact(text: string): void {
  const { end, value } = read(text);
  expect(end).toBe(text.length);
  expect(Object.is(value, Number(text)), `${text}: ${value} is not ${Number(text)}`).toBe(true);
}

const digits = (min: number, max: number) =>
  fc.array(fc.integer({ min: 0, max: 9 }), { minLength: min, maxLength: max }).map((list) => list.join(""));

test("reads any double as written in the fewest digits", () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (number) => {
      expectExact(Object.is(number, -0) ? "-0" : String(number));
    }),
    { numRuns: 3000 },
  );
});

test("reads decimals of any length exactly as Number does", () => {
  const whole = digits(1, 24).map((text) => text.replace(/^0+(?=\d)/, ""));
  fc.assert(
    fc.property(
      fc.boolean(),
      whole,
      digits(0, 26),
      fc.option(fc.integer({ min: -330, max: 330 })),
      (minus, a, b, e) => {
        expectExact(`${minus ? "-" : ""}${a}${b === "" ? "" : `.${b}`}${e === null ? "" : `e${e}`}`);
      },
    ),
    { numRuns: 6000 },
  );
});

test("reads captured motion, 15 to 19 digits, exactly as Number does", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 999 }), digits(12, 18), (a, b) => {
      expectExact(`${a}.${b}`);
    }),
    { numRuns: 6000 },
  );
});

// Halfway between two doubles: 2^53 + 1 and its kin, where round-half-even decides.
test.each([
  "9007199254740993",
  "9007199254740995",
  "9007199254740993.0",
  "4503599627370496.5",
  "4503599627370497.5",
  "900719925474099.25",
  "0.500000000000000055511151231257827",
  "1.00000000000000011102230246251565",
  "5e-324",
  "2.4703282292062327e-324",
  "1.7976931348623157e308",
  "1e22",
  "1e23",
  "123456789012345678",
  "0.1",
  "-0",
  "0e0",
  "1E+5",
  "12345.678901234567e-3",
])("reads %s exactly", (text) => {
  expectExact(text);
});

test.each(["", "-", ".5", "+1", "01", "-01", "1.", "1.e5", "1e", "1e+", "NaN", "x", " 1"])(
  "%j is no JSON number",
  (text) => {
    expect(read(text).end).toBe(-1);
  },
);
