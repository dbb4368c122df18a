import { describe, expect, test } from "vitest";
import { nearestName } from "../../../packages/core/base/nearest.ts";
import type { Unit } from "../../../packages/core/base/quantity.ts";
import { chosenValue, UnitError } from "../../../packages/core/base/written-units.ts";

describe("values with units", () => {
  // Definitions: 1 in = 25.4 mm (international yard, 1959); 1 g = 9.80665 m/s² (CGPM 1901); settings in frames are
  // frames at 24 per second.
  test.each<[string, Unit, number, Unit]>([
    ["2 cm", "m", 0.02, "m"],
    ["2cm", "m", 0.02, "m"],
    ["1 in", "m", 0.0254, "m"],
    ["2 cm", "H", 0.02, "m"],
    ["1.5 H", "m", 1.5, "H"],
    ["0.15 H", "H", 0.15, "H"],
    ["1.5 H/s", "m/s", 1.5, "H/s"],
    ["36 km/h", "m/s", 10, "m/s"],
    ["90 deg/s", "deg/s", 90, "deg/s"],
    ["1.5707963267948966 rad/s", "deg/s", 90, "deg/s"],
    ["20 °", "deg", 20, "deg"],
    ["0.35 g", "g", 0.35, "g"],
    ["9.80665 m/s^2", "g", 1, "g"],
    ["1 g", "m/s^2", 9.80665, "m/s^2"],
    ["3 frames", "frames", 3, "frames"],
    ["1 frame", "frames", 1, "frames"],
    ["0.125 s", "frames", 3, "frames"],
    ["3 frames", "s", 0.125, "s"],
    ["200 ms", "s", 0.2, "s"],
    ["4 Hz", "Hz", 4, "Hz"],
    ["5 %", "share", 0.05, "share"],
    ["5%", "ratio", 0.05, "ratio"],
    ["2.2", "ratio", 2.2, "ratio"],
    ["-3 mm", "m", -0.003, "m"],
  ])("%s for a setting in %s", (text, declared, value, unit) => {
    const chosen = chosenValue(text, declared);
    expect(chosen.unit).toBe(unit);
    expect(chosen.value).toBeCloseTo(value, 12);
  });

  test.each<[string, Unit, string]>([
    ["2 cm", "deg", '"2 cm" is another kind of quantity: an angle is wanted, for example "20 deg".'],
    ["5 %", "m", '"5 %" is a share, but a length is wanted, for example "2 cm".'],
    ["12 furlongs", "m", '"12 furlongs" has an unknown unit, "furlongs": a length is wanted'],
    ["0.3", "m", '"0.3" has no unit: a length is wanted'],
    ["cm", "m", '"cm" is not a number with a unit'],
    ["", "m", "has no unit|not a number"],
    ["1,5 cm", "m", "is not a number with a unit"],
    ["2 cm; 3", "m", "is not a number with a unit"],
    ["1e999 m", "m", "is not a number with a unit"],
    ["3 cm", "ratio", "has a unit, but a plain number is wanted"],
    ["0.35 g", "m", "another kind"],
    ["%", "share", "is not a number"],
    ["2 m/s", "deg/s", "another kind"],
  ])("%j for a setting in %s is refused", (text, declared, message) => {
    expect(() => chosenValue(text, declared)).toThrow(UnitError);
    expect(() => chosenValue(text, declared)).toThrow(message.includes("|") ? new RegExp(message) : message);
  });
});

describe("the name that was meant", () => {
  const names = ["pop", "hitch", "hard-stop", "hard-start", "spacing-jump"];
  test.each([
    ["hard-stpo", "hard-stop"],
    ["hardstop", "hard-stop"],
    ["Hard-Start", "hard-start"],
    ["spacing-jmup", "spacing-jump"],
    ["pops", "pop"],
    ["quite-something-else", null],
    ["", null],
  ])("%j is %j", (written, meant) => {
    expect(nearestName(written, names)).toBe(meant);
  });
});
