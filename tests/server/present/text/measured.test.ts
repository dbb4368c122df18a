import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Unit } from "../../../../packages/core/base/quantity.ts";
import { limitFor, measuredAgainst, valueText } from "../../../../packages/server/present/text/measured.ts";

const measured = (value: number, unit: Unit) => ({ quantity: "of it", value, unit });
const source = "from memory";

describe("a measured number beside its limit", () => {
  test("reads in the words of notes", () => {
    expect(measuredAgainst(measured(5.04, "m/s^2"), { min: 7.26, unit: "m/s^2", source })).toBe(
      "5.04 m/s² (at least 7.26)",
    );
    expect(measuredAgainst(measured(0.108, "m"), { max: 0.021, unit: "m", source })).toBe(
      "10.8 cm (at most 2.1)",
    );
    expect(measuredAgainst(measured(0.3, "share"), null)).toBe("30 %");
  });

  test("that rounds to the same is told in the digits that part them", () => {
    const limits = { min: 0.2941, unit: "share" as const, source };
    expect(measuredAgainst(measured(0.2863, "share"), limits)).toBe("28.6 % (at least 29.4)");
    expect(measuredAgainst(measured(2.3998, "frames"), { min: 2.4, unit: "frames", source })).toBe(
      "2.3998 frames (at least 2.4)",
    );
    expect(measuredAgainst(measured(0.02104, "m"), { max: 0.021, unit: "m", source })).toBe(
      "2.104 cm (at most 2.1)",
    );
  });

  test("never looks as if it stood at its limit", () => {
    const units = ["share", "frames", "m", "deg", "s", "deg/s", "m/s", "m/s^2"] as const;
    const number = fc.double({ min: 0.01, max: 1e3, noNaN: true });
    const little = fc.double({ min: 1e-3, max: 0.1, noNaN: true });
    fc.assert(
      fc.property(number, little, fc.constantFrom(...units), (value, less, unit) => {
        const limits = { min: value * (1 + less), unit, source };
        const short = measured(value, unit);
        const number = Number.parseFloat(valueText(short, limits));
        const limit = Number.parseFloat(limitFor(short, limits).slice("at least ".length));
        // Metres and centimetres may stand beside each other.
        if (unit !== "m") expect(number).toBeLessThan(limit);
        else expect(number).not.toBe(limit);
      }),
    );
  });
});
