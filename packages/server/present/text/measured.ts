import { numbersInWords, type Unit, withUnit } from "@keyside/core";

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

/** Two decimals, fewer for large numbers; no trailing zeros. */
function digits(value: number): string {
  const size = Math.abs(value);
  return String(Number(value.toFixed(size >= 100 ? 0 : size >= 10 ? 1 : 2)) + 0);
}
