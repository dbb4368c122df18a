import fc from "fast-check";
import { expect, test } from "vitest";
import { layoutFor, progressPlaceFor } from "../../../../packages/server/cli/layout-for.ts";
import { painted, wrapped } from "../../../../packages/server/present/text/layout.ts";

const plain = { width: 30, colour: false };

test("lines are broken at spaces, and a label stands in front of the first", () => {
  expect(wrapped(plain, "The left hand leaves its path for two frames.", "      ", "  why ")).toBe(
    "  why The left hand leaves its\n      path for two frames.",
  );
});

test("wrapping loses no word and passes the width only for a word that is longer", () => {
  fc.assert(
    fc.property(
      fc.array(fc.stringMatching(/^[a-z]{1,40}$/)),
      fc.integer({ min: 10, max: 60 }),
      (words, width) => {
        const lines = wrapped({ width, colour: false }, words.join("  "), "  ").split("\n");
        expect(lines.flatMap((line) => line.split(" ").filter((word) => word !== ""))).toEqual(words);
        for (const line of lines) if (line.length > width) expect(line.trim()).not.toContain(" ");
      },
    ),
  );
});

test("colour only for a terminal whose user has not asked for none", () => {
  const io = { columns: 300, env: {} } as Parameters<typeof layoutFor>[0];
  expect(layoutFor({ ...io, isTTY: true })).toEqual({ width: 110, colour: true });
  expect(layoutFor({ ...io, isTTY: false }).colour).toBe(false);
  expect(layoutFor({ ...io, isTTY: true, env: { NO_COLOR: "1" } }).colour).toBe(false);
  // https://no-color.org: an empty value asks for nothing.
  expect(layoutFor({ ...io, isTTY: true, env: { NO_COLOR: "" } }).colour).toBe(true);
  expect(layoutFor({ ...io, isTTY: true, env: { TERM: "dumb" } }).colour).toBe(false);
  expect(painted(plain, "red", "x")).toBe("x");
  expect(painted({ width: 30, colour: true }, "red", "x")).toBe("\u001b[31mx\u001b[39m");
});

test.each([
  ["1", true],
  ["3", true],
  ["true", true],
  ["0", false],
  ["false", false],
])("FORCE_COLOR=%s goes before all else", (value, colour) => {
  const env = { FORCE_COLOR: value, NO_COLOR: "1", TERM: "dumb" };
  for (const isTTY of [true, false]) {
    const io = { columns: 80, env, isTTY } as unknown as Parameters<typeof layoutFor>[0];
    expect(layoutFor(io).colour).toBe(colour);
  }
});

test("an empty FORCE_COLOR asks for nothing", () => {
  const io = { columns: 80, env: { FORCE_COLOR: "" } } as unknown as Parameters<typeof layoutFor>[0];
  expect(layoutFor({ ...io, isTTY: true }).colour).toBe(true);
  expect(layoutFor({ ...io, isTTY: false }).colour).toBe(false);
});

test("a dumb terminal gets lines of progress and no bar", () => {
  const io = { columns: 80, stderrIsTTY: true } as Parameters<typeof progressPlaceFor>[0];
  expect(progressPlaceFor({ ...io, env: { TERM: "dumb" } }).isTTY).toBe(false);
  expect(progressPlaceFor({ ...io, env: { TERM: "xterm", FORCE_COLOR: "1" } }).isTTY).toBe(true);
  expect(progressPlaceFor({ ...io, env: { FORCE_COLOR: "1" }, stderrIsTTY: false }).isTTY).toBe(false);
});
