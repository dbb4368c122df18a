import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bind, type Context } from "../../../packages/core/expressions/bind.ts";
import { compile } from "../../../packages/core/expressions/compile.ts";
import { kindInWords } from "../../../packages/core/expressions/dimension.ts";
import { ExpressionError } from "../../../packages/core/expressions/expression-error.ts";
import { series } from "../../../packages/core/expressions/series.ts";

const nowhere = { stature: 1.7, subject: -1, figure: -1 } as Context;
/** Value of an expression without series. */
const value = (text: string) => bind(compile(text, true).term, nowhere)?.(0);
const kind = (text: string) => kindInWords(compile(text, true).kind);

function fault(text: string): { message: string; column: number | null } {
  try {
    compile(text, false);
  } catch (error) {
    if (error instanceof ExpressionError) return { message: error.message, column: error.column };
    throw error;
  }
  throw new Error(`${text} was taken.`);
}

describe("units", () => {
  test.each([
    // SI: exact by definition; the inch is 25.4 mm (international yard, 1959), standard gravity 9.80665 m/s².
    ["1.2 m/s", 1.2],
    ["2 cm", 0.02],
    ["10 inch", 0.254],
    ["36 km / hour", 10],
    ["90 deg/s", Math.PI / 2],
    ["1 g", 9.80665],
    ["3 frames", 0.125],
    ["0.5 H", 0.85],
    ["2 m + 5 cm", 2.05],
    ["-30 deg", -Math.PI / 6],
    ["pi rad", Math.PI],
    ["sqrt(9 m^2)", 3],
    ["max(2 cm, 1 m, 3 mm)", 1],
    ["abs(-4 m/s^2)", 4],
    ["2^3", 8],
    ["(1 + 2) * 3", 9],
  ])("%s", (text, expected) => {
    expect(value(text)).toBeCloseTo(expected, 12);
  });

  test("numbers and units are worked out once", () => {
    expect(compile("2 cm + 1 m", false).term).toEqual({ op: "number", value: 1.02 });
  });

  test.each([
    ["speed(crate)", "a speed"],
    ["speed(crate) * 2 s", "a length"],
    ["x(a) / spacing(a)", "a plain number"],
    ["angle(a, b)", "an angle"],
    ['channel(a, "rotation.z")', "an angle"],
    ['channel(a, "scale.x")', "a plain number"],
    ["x(a) * y(a)", "a quantity in m^2"],
    ["held(a) and not planted(b)", "yes or no"],
    ["0.1 m < y(a) < 2 m", "yes or no"],
  ])("%s gives %s", (text, expected) => {
    expect(kind(text)).toBe(expected);
  });
});

test("what was compared is the side that holds a series, whichever side that is", () => {
  expect(compile("held(a) and speed(a) > 1.2 m/s", false).compared).toMatchObject({
    side: "max",
    text: "speed(a)",
  });
  expect(compile("1.2 m/s < speed(a)", false).compared).toMatchObject({ side: "max", text: "speed(a)" });
  expect(compile("height(a) < 5 cm", false).compared).toMatchObject({ side: "min", text: "height(a)" });
  expect(compile("held(a) or planted(a)", false).compared).toBeNull();
});

describe("errors name their place and what is known instead", () => {
  test.each([
    ["sped(crate) > 1 m/s", 1, 'There is no series "sped". Did you mean "speed"?'],
    ["held(crate) and sped(crate) > 1 m/s", 17, 'There is no series "sped".'],
    ["speed(crate) > 1.2 m", 16, "A speed (speed(crate)) cannot be compared with a length (1.2 m)."],
    ["speed(crate) > 1.2", 16, "A speed (speed(crate)) cannot be compared with a plain number (1.2)."],
    ["speed(crate) > 1.2 parsec_", 20, 'There is no unit "parsec_"'],
    ["speed(crate) > 2 kg", 18, 'There is no unit "kg"'],
    ["crate > 1", 1, "nodes stand in brackets, as in speed(crate)."],
    ["speed > 1 m/s", 1, "speed(node) gives its values."],
    ["speed(a, b) > 1 m/s", 1, "It is written speed(node)."],
    ["distance(a) > 1 m", 1, "It is written distance(node, node)."],
    ["speed(1) > 1 m/s", 7, "The name of a node is wanted here"],
    ["speed(x(a)) > 1 m/s", 7, "The name of a node is wanted here"],
    ['channel(a, "rotation.w") > 1 deg', 12, 'Did you mean "rotation.'],
    ["held(a) > 1", 1, "A number is wanted here; this is yes or no."],
    ["speed(a) and held(a)", 1, '"and" takes yes or no; this is a speed.'],
    ["not speed(a)", 5, '"not" takes yes or no'],
    ["speed(a) = 1 m/s", 10, "to compare, write =="],
    ["speed(a) > 5 %", 14, "write 0.05 for 5 %"],
    ["speed(subject) > 1 m/s", 7, '"subject" needs "node", "part" or "figure"'],
    ["speed(a) ^ 0.5 > 1", 12, "A power is a whole number"],
    ["sqrt(x(a)) > 1", 6, "A length has no square root."],
    ["abs(held(a)) > 1", 5, "A number is wanted here"],
    ["min(x(a)) > 1 m", 1, "Min takes two to eight values."],
    ["speed(a) >", 11, "Unexpected end of expression."],
    ["(speed(a) > 1 m/s", 18, "Parenthesis ) expected."],
    ["x(a) == held(a)", 9, "cannot be compared with yes or no"],
    ["", null, "There is no expression."],
    ["   ", null, "There is no expression."],
    ["1e400 > x(a)", 1, "is no number that can be used here"],
  ])("%s", (text, column, message) => {
    const found = fault(text);
    expect(found.message).toContain(message);
    expect(found.column).toBe(column);
  });
});

describe("nothing but the series can be reached", () => {
  test.each([
    'import("fs")',
    'require("fs")',
    "process.exit()",
    "speed.constructor",
    'speed["constructor"]',
    'speed(a).constructor("return process")()',
    "constructor(a)",
    "__proto__(a) > 1",
    "toString(a) > 1",
    "hasOwnProperty(a)",
    "valueOf(a)",
    "prototype > 1",
    "f(x) = x",
    "speed(a) = 1",
    "x = 1; x",
    "a -> a",
    "a => a",
    'eval("1")',
    'evaluate("1+1")',
    'parse("1")',
    'createUnit("foo")',
    "simplify(1)",
    "derivative(1, 2)",
    "random()",
    "ones(1000, 1000)",
    "zeros(1e9)",
    "range(1, 1e9)",
    "1:1000000000",
    "[1, 2, 3]",
    "{a: 1}",
    "{}",
    "a ? b : c",
    "a || b",
    "a && b",
    "a | b",
    "~a",
    "a << 40",
    "a >>> 1",
    "a'",
    "5!",
    "a mod b",
    "a to b",
    "a in b",
    "a xor b",
    "true",
    "null",
    "undefined",
    "NaN",
    "Infinity",
    "i",
    "e",
    "this",
    "new Date()",
    "`1`",
    "$x",
    "a\\b",
    '"speed"',
    "speed('a\\u0041') > 1 m/s",
    "/* a */",
    "# a",
    "// a",
    "speed(a)\n\n; speed(b)",
    "0x7f",
    "\u0000",
    "\u202e",
    "speed(a) > 1 m/s \u2028 x",
    "speed (constructor) . y > 1",
    "9".repeat(400),
    "map([1], f)",
    "help(speed)",
    "config({})",
    "typed(a)",
    "chain(1)",
    "speed(a)(b)",
  ])("%s", (text) => {
    const { message } = fault(text);
    expect(message).not.toMatch(/\n|Cannot read|is not a function|undefined/);
  });

  test("a node may be called anything; names are only looked up", () => {
    expect(compile('speed("constructor") > 1 m/s', false).term).toMatchObject({
      of: [
        { op: "series", of: ["constructor"] },
        { op: "number", value: 1 },
      ],
    });
  });

  test.each([
    ["brackets", `${"(".repeat(240)}1${")".repeat(240)} > x(a)`],
    ["calls", `${"abs(".repeat(100)}1${")".repeat(100)} > 1`],
    ["signs", `${"-".repeat(490)}1 > 1`],
    ["nots", `${"not ".repeat(120)}held(a)`],
    ["powers", `${"2^".repeat(240)}1 > 1`],
    ["sums", `${"1+".repeat(240)}1 > 1`],
    ["comparisons", `1${"<1".repeat(240)}`],
    ["length", `${" ".repeat(600)}1 > x(a)`],
    ["a long name", `speed(${"a".repeat(600)}) > 1 m/s`],
    ["ands", `${"held(a) and ".repeat(40)}held(a)`],
  ])("%s without end are refused or read at once", (_, text) => {
    const start = performance.now();
    try {
      compile(text, false);
    } catch (error) {
      expect(error).toBeInstanceOf(ExpressionError);
    }
    // Bounded work, not a timed test: what had no bound would take minutes.
    expect(performance.now() - start).toBeLessThan(5000);
  });

  test("any text is read or refused with a sentence", () => {
    const words = fc.constantFrom(
      ...Object.keys(series),
      "a",
      "m",
      "deg",
      "(",
      ")",
      ",",
      "+",
      "-",
      "*",
      "/",
      "^",
      "<",
      ">",
      "==",
      "and",
      "or",
      "not",
      "1",
      "2.5",
      " ",
      '"',
      "'",
      "=",
      ".",
      "[",
      "]",
      "{",
      "}",
      ";",
      "constructor",
    );
    const texts = fc.oneof(
      fc.array(words, { maxLength: 30 }).map((parts) => parts.join(" ")),
      fc.string({ maxLength: 60 }),
    );
    fc.assert(
      fc.property(texts, (text) => {
        try {
          const { term } = compile(text, false);
          expect(JSON.parse(JSON.stringify(term))).toEqual(term);
        } catch (error) {
          expect(error).toBeInstanceOf(ExpressionError);
        }
      }),
      { numRuns: 500 },
    );
  });
});
