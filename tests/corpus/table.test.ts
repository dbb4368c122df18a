import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { corpusModule, type Row, row } from "./load.ts";

const { BrokenTable, rowsIn, textOf } = await corpusModule("table.mjs");
const { inSiUnits, rowOf } = await corpusModule("rows.mjs");

const source = { name: "pier", from: "pier.curves.json" };
const tableOf = (rows: readonly Row[]): string => textOf(source, { range: [1, 96], rate: 24, rows });

describe("a table", () => {
  test("is read back as it was written, whatever the names are", () => {
    const frame = fc.integer({ min: -100, max: 4000 }).map((n) => n / 4);
    const note = fc.record({
      check: fc.string(),
      tier: fc.constantFrom("broken", "major", "minor", "polish"),
      figure: fc.option(fc.string()),
      node: fc.option(fc.string({ unit: "grapheme" })),
      frames: fc.option(fc.tuple(frame, frame)),
      measured: fc.option(
        fc.record({ quantity: fc.string(), value: fc.double({ noNaN: true }), unit: fc.constant("deg") }),
      ),
      keys: fc.array(
        fc.record({ node: fc.string(), channel: fc.constantFrom("scale.x", "rotation.x"), frame }),
      ),
    });
    fc.assert(
      fc.property(fc.array(fc.tuple(note, fc.boolean())), (notes) => {
        const rows = notes.map(([one, waived]) => rowOf({ ...one, check: `c${one.check}` }, waived, 24));
        expect(rowsIn(tableOf(rows))).toEqual(rows);
      }),
    );
  });

  test("has one line a note, and a head that counts them by check and tier", () => {
    const lines = tableOf([row(), row({ tier: "major" }), row({ check: "hitch", waived: true })]).split("\n");
    expect(lines.filter((line) => line !== "" && !line.startsWith("#"))).toHaveLength(3);
    const head = lines.filter((line) => /^# (check|pop|hitch|all) +\w+ +\w+ +\w+ +\w+ +\w+$/.test(line));
    expect(head.map((line) => line.split(/ +/).slice(1))).toEqual([
      ["check", "broken", "major", "minor", "polish", "waived"],
      ["pop", "0", "1", "1", "0", "0"],
      ["hitch", "0", "0", "0", "0", "1"],
      ["all", "0", "1", "1", "0", "1"],
    ]);
  });

  test.each([
    "<<<<<<< ours",
    "pop  heavy  dancer  hand  40  0.1 m  way  -",
    "pop  minor  dancer  hand  4O  0.1 m  way  -",
  ])("with a line that is no note names it: %s", (line) => {
    const text = `${tableOf([row()])}${line}\n`;
    const count = text.split("\n").length - 1;
    expect(() => rowsIn(text)).toThrow(BrokenTable);
    expect(() => rowsIn(text)).toThrow(`Line ${count} is no note: ${line}`);
  });
});

describe("a row", () => {
  const note = (more: object) => ({
    check: "pop",
    tier: "minor",
    figure: null,
    node: null,
    frames: null,
    measured: null,
    keys: [],
    ...more,
  });

  test("names the first keys and counts the others", () => {
    const keys = [1, 2, 3, 4.0001, 5].map((frame) => ({ node: "arm", channel: "rotation.x", frame }));
    expect(rowOf(note({ keys }), false, 24).keys).toBe(
      "arm rotation.x 1; arm rotation.x 2; arm rotation.x 3; 2 more",
    );
    expect(rowOf(note({ keys: keys.slice(3, 4) }), false, 24).keys).toBe("arm rotation.x 4");
  });

  test("of a broken document has dashes where there is nothing", () => {
    expect(rowOf(note({ check: "bad-number", tier: "broken" }), false, 24)).toEqual(
      row({
        check: "bad-number",
        tier: "broken",
        figure: "-",
        node: "-",
        frames: null,
        value: "-",
        quantity: "-",
        keys: "-",
      }),
    );
  });

  // A degree is π/180 rad; a frame lasts 1/rate; standard gravity is 9.80665 m/s² (CGPM 1901).
  test.each([
    [180, "deg", "3.142 rad"],
    [90, "deg/s", "1.571 rad/s"],
    [5, "frames", "0.2 s"],
    [0.5, "g", "4.903 m/s^2"],
    [0.123456, "m", "0.1235 m"],
    [12345.6, "m", "12350 m"],
    [0.5, "share", "0.5 ratio"],
    [-1.2e-14, "deg", "0 rad"],
    [61.25, "kg", "61.25 kg"],
  ])("gives %f %s as %s", (value, unit, said) => {
    expect(inSiUnits({ value, unit }, 25)).toBe(said);
  });
});
