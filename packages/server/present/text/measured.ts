import { numbersInWords, type Unit } from "@keyside/core";

/** A number with its unit, in the words that notes use. */
export function measuredText(value: number, unit: Unit): string {
  switch (unit) {
    case "m":
      // A little under its limit, or over it, should not look as if it stood at it.
      return Math.abs(value) < 0.01 ? `${digits(value * 1000)} mm` : numbersInWords.length(value);
    case "m/s":
      return numbersInWords.speed(value);
    case "m/s^2":
      return `${digits(value)} m/s²`;
    case "deg":
      return `${digits(value)}°`;
    case "deg/s":
      return `${Math.round(value)}°/s`;
    case "s":
      return numbersInWords.seconds(value);
    case "frames":
      return numbersInWords.frames(value);
    case "share":
      return numbersInWords.share(value);
    case "ratio":
    case "count":
      return digits(value);
    case "H":
      return `${digits(value)} body heights`;
    case "H/s":
      return `${digits(value)} body heights/s`;
    default:
      return `${digits(value)} ${unit}`;
  }
}

/** Two decimals, fewer for large numbers; no trailing zeros. */
function digits(value: number): string {
  const size = Math.abs(value);
  return String(Number(value.toFixed(size >= 100 ? 0 : size >= 10 ? 1 : 2)) + 0);
}
