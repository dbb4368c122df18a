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
function limitText({ min, max, unit: name }: ReportedExpected): string {
  const unit = name as Unit;
  if (min !== undefined && max !== undefined)
    return `${measuredText(min, unit)} to ${measuredText(max, unit)}`;
  if (min !== undefined) return `at least ${measuredText(min, unit)}`;
  return max === undefined ? "" : `at most ${measuredText(max, unit)}`;
}

/** A number that was measured. */
export function valueText({ value, unit }: ReportedMeasured): string {
  return measuredText(value, unit as Unit);
}

/** What a measured number should have been; of two limits, the one that it passed. */
export function limitFor(measured: ReportedMeasured, expected: ReportedExpected | null): string {
  if (expected === null) return "";
  const limit = limitText(passed(measured.value, expected));
  // A unit that both have is said once; signs such as ° stay with their number.
  const [said = ""] = / .*$/.exec(valueText(measured)) ?? [];
  return said !== "" && limit.endsWith(said) ? limit.slice(0, -said.length) : limit;
}

/** A measured number beside what it should have been: "5.04 m/s² (at least 7.26)". */
export function measuredAgainst(measured: ReportedMeasured, expected: ReportedExpected | null): string {
  const limit = limitFor(measured, expected);
  return `${valueText(measured)}${limit === "" ? "" : ` (${limit})`}`;
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
