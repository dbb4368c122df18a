import { expect, test } from "vitest";
import { inWords, numbersInWords, trimmed } from "../../../packages/core/base/number-words.ts";

test("a number that rounds to nothing is written without a sign, whichever side it comes from", () => {
  expect(numbersInWords.frames(-0.04)).toBe("0 frames");
  expect(numbersInWords.share(-0.001)).toBe("0 %");
  expect(numbersInWords.angle(-1e-6)).toBe("0°");
  expect(trimmed(-0, 2)).toBe("0");
  expect(inWords(-0.5, "m")).toBe("-50 cm");
});
