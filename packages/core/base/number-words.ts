import { degreesPerRadian } from "./constants.ts";
import { type Unit, units } from "./quantity.ts";

/** How numbers are written in notes; every number of a message goes through one of these. */
export const numbersInWords = {
  frames: (count: number) => plural(trimmed(count, 1), "frame"),
  length(metres: number): string {
    const size = Math.abs(metres);
    if (size < 0.01) return `${trimmed(metres * 1000, size < 0.001 ? 1 : 0)} mm`;
    if (size < 1) return `${trimmed(metres * 100, 1)} cm`;
    return `${trimmed(metres, 2)} m`;
  },
  speed: (metresPerSecond: number) =>
    `${trimmed(metresPerSecond, Math.abs(metresPerSecond) < 1 ? 2 : 1)} m/s`,
  angle: (radians: number) => `${trimmed(radians * degreesPerRadian, Math.abs(radians) < 0.1 ? 1 : 0)}°`,
  angularSpeed: (radiansPerSecond: number) => `${trimmed(radiansPerSecond * degreesPerRadian, 0)}°/s`,
  seconds: (seconds: number) => `${trimmed(seconds, 2)} s`,
  times: (factor: number) => `${trimmed(factor, factor < 10 ? 1 : 0)} times`,
  share: (share: number) => `${trimmed(share * 100, 0)} %`,
};

/** A number with at most so many decimals and no trailing zeros. */
export function trimmed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const short = decimals === 0 ? text : text.replace(/\.?0+$/, "");
  // A little less than nothing is nothing.
  return short === "-0" ? "0" : short;
}

function plural(count: string, word: string): string {
  return count === "1" ? `1 ${word}` : `${count} ${word}s`;
}

/** A number in a unit, as it stands behind `digits`: "3 frames", "1 frame", "20°", "2.4 m/s²". */
export function withUnit(digits: string, unit: Unit): string {
  return unit === "frames" ? plural(digits, "frame") : digits + units[unit].sign;
}

/** A value in working units (metres, radians, seconds), as notes write what is measured in a unit. */
export function inWords(value: number, unit: Unit): string {
  switch (unit) {
    case "m":
      return numbersInWords.length(value);
    case "m/s":
      return numbersInWords.speed(value);
    case "deg":
      return numbersInWords.angle(value);
    case "deg/s":
      return numbersInWords.angularSpeed(value);
    case "s":
      return numbersInWords.seconds(value);
    default:
      return withUnit(String(Number((value / units[unit].factor).toPrecision(3))), unit);
  }
}
