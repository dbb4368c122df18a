import type { ReportedNote, Unit } from "@keyside/core";
import { numbersInWords, withUnit } from "@keyside/core/internal";

/** A number with its unit, in the words that notes use. */
export function measuredText(value: number, unit: Unit): string {
  switch (unit) {
    case "m":
      // A little under its limit, or over it, should not look as if it stood at it.
      return Math.abs(value) < 0.01 ? `${digits(value * 1000)} mm` : numbersInWords.length(value);
    case "m/s":
      return numbersInWords.speed(value);
    case "deg/s":
      return withUnit(String(Math.round(value)), unit);
    case "s":
      return numbersInWords.seconds(value);
    case "frames":
      return numbersInWords.frames(value);
    case "share":
      return numbersInWords.share(value);
    default:
      return withUnit(digits(value), unit);
  }
}

/** What a number should have been: "at most 4°", "7.3 to 13.2 m/s²"; empty where that is not known. */
function limitText({ min, max }: ReportedExpected, words: Words): string {
  if (min !== undefined && max !== undefined) return `${words(min)} to ${words(max)}`;
  if (min !== undefined) return `at least ${words(min)}`;
  return max === undefined ? "" : `at most ${words(max)}`;
}

/** A number that was measured, in as many digits as tell it from the limit that it passed. */
export function valueText(measured: ReportedMeasured, expected: ReportedExpected | null): string {
  return wordsFor(measured, expected)(measured.value);
}

/** What a measured number should have been; of two limits, the one that it passed. */
export function limitFor(measured: ReportedMeasured, expected: ReportedExpected | null): string {
  if (expected === null) return "";
  const limit = limitText(passed(measured.value, expected), wordsFor(measured, expected));
  // A unit that both have is said once; signs such as ° stay with their number.
  const [said = ""] = / .*$/.exec(valueText(measured, expected)) ?? [];
  return said !== "" && limit.endsWith(said) ? limit.slice(0, -said.length) : limit;
}

/** A measured number beside what it should have been: "5.04 m/s² (at least 7.26)". */
export function measuredAgainst(measured: ReportedMeasured, expected: ReportedExpected | null): string {
  const limit = limitFor(measured, expected);
  return `${valueText(measured, expected)}${limit === "" ? "" : ` (${limit})`}`;
}

type Words = (value: number) => string;

/** "29 %, at least 29" would make a reader doubt: where both round to the same, both get the digits that part them. */
function wordsFor({ value, unit: name }: ReportedMeasured, expected: ReportedExpected | null): Words {
  const unit = name as Unit;
  const usual: Words = (number) => measuredText(number, unit);
  const { min, max } = expected === null ? {} : passed(value, expected);
  const limit = min ?? max;
  if (limit === undefined || limit === value || usual(limit) !== usual(value)) return usual;
  const sign = usual(value).replace(/^-?[\d.]+/, "");
  const scale = scaleOf(sign);
  for (let decimals = 1; decimals <= 6; decimals++) {
    const text = (number: number) => (number * scale).toFixed(decimals);
    if (text(limit) !== text(value)) return (number) => Number(text(number)) + sign;
  }
  return usual;
}

/** How many of what stands in words make one of a number's own unit. */
function scaleOf(sign: string): number {
  return { " %": 100, " cm": 100, " mm": 1000 }[sign] ?? 1;
}

function passed(value: number, { min, max, ...rest }: ReportedExpected): ReportedExpected {
  if (min !== undefined && value < min) return { min, ...rest };
  return max !== undefined && value > max ? { max, ...rest } : { min, max, ...rest };
}

type ReportedMeasured = NonNullable<ReportedNote["measured"]>;
type ReportedExpected = NonNullable<ReportedNote["expected"]>;

/** Two decimals, fewer for large numbers; no trailing zeros. */
function digits(value: number): string {
  const size = Math.abs(value);
  return String(Number(value.toFixed(size >= 100 ? 0 : size >= 10 ? 1 : 2)) + 0);
}
