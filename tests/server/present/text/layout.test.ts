import fc from "fast-check";
import { expect, test } from "vitest";
import { layoutFor } from "../../../../packages/server/cli/layout-for.ts";
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
  expect(painted(plain, "red", "x")).toBe("x");
  expect(painted({ width: 30, colour: true }, "red", "x")).toBe("\u001b[31mx\u001b[39m");
});
