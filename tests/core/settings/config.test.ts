import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { configJsonSchema, readConfig } from "../../../packages/core/expressions/config.ts";
import { type Config, ConfigError, rateFrom } from "../../../packages/core/settings/config.ts";
import { inventedChecks } from "./checks-for-tests.ts";

async function problemsOf(data: unknown): Promise<string> {
  try {
    await readConfig(inventedChecks, data);
  } catch (error) {
    if (error instanceof ConfigError) return error.message;
    throw error;
  }
  return "";
}

describe("reading a configuration", () => {
  test("numbers are in the declared unit, texts carry theirs", async () => {
    const config = await readConfig(inventedChecks, {
      $schema: "https://example.org/config.json",
      rate: "24000/1001",
      style: "snappy",
      tiers: { minor: 0.2 },
      failOn: "minor",
      checks: {
        "loose-lace": { slack: "0.1 H", swing: 30, beats: "0.125 s", tier: "polish" },
        "torn-hem": false,
      },
      ignore: ["**/old/**"],
    });
    expect(config).toEqual({
      rate: 24000 / 1001,
      style: "snappy",
      tiers: { minor: 0.2 },
      failOn: "minor",
      checks: {
        "loose-lace": {
          tier: "polish",
          values: {
            slack: { value: 0.1, unit: "H" },
            swing: { value: 30, unit: "deg" },
            beats: { value: 3, unit: "frames" },
          },
        },
        "torn-hem": { on: false },
      },
      ignore: ["**/old/**"],
    } satisfies Config);
  });

  test("an empty configuration chooses nothing", async () => {
    expect(await readConfig(inventedChecks, {})).toEqual({ checks: {} });
  });

  test.each<[string, unknown, string]>([
    ["a misspelt part", { cheks: {} }, 'cheks: There is no setting of this name. Did you mean "checks"?'],
    [
      "a misspelt check",
      { checks: { "lose-lace": false } },
      'checks.lose-lace: There is no check of this name. Did you mean "loose-lace"?',
    ],
    [
      "a misspelt setting",
      { checks: { "loose-lace": { slak: 1 } } },
      'checks.loose-lace.slak: There is no setting of this name. Did you mean "slack"?',
    ],
    [
      "a unit of another kind",
      { checks: { "loose-lace": { swing: "2 cm" } } },
      'checks.loose-lace.swing: "2 cm" is another kind of quantity: an angle is wanted, for example "20 deg".',
    ],
    [
      "an unknown unit",
      { checks: { "loose-lace": { slack: "2 spans" } } },
      'checks.loose-lace.slack: "2 spans" has an unknown unit, "spans"',
    ],
    [
      "a value out of bounds",
      { checks: { "loose-lace": { slack: "80 cm" } } },
      "checks.loose-lace.slack: 0.8 m is above the most allowed, 0.5 m.",
    ],
    [
      "a negative value in body heights",
      { checks: { "loose-lace": { slack: "-0.1 H" } } },
      "checks.loose-lace.slack: -0.1 H is below the least allowed, 0 H.",
    ],
    [
      "a style of another name",
      { style: "snapy" },
      'style: "snapy" is none of full, snappy, limited, twos. Did you mean "snappy"?',
    ],
    ["a style with a toString of its own", { style: { toString: 0 } }, 'style: {"toString":0} is none of'],
    ["broken as a check's tier", { checks: { "torn-hem": { tier: "broken" } } }, "checks.torn-hem.tier: "],
    ["a rate of nothing", { rate: 0 }, "rate: "],
    ["a rate in words", { rate: "film" }, "rate: A rate is a number or a fraction"],
    ["a fraction of nothing", { rate: "24/0" }, "rate: A rate is above 0"],
    ["a list for a check", { checks: { "torn-hem": [1] } }, "checks.torn-hem: "],
    ["a text for a check", { checks: { "torn-hem": "off" } }, "checks.torn-hem: "],
    [
      "a list for a setting",
      { checks: { "torn-hem": { share: [1] } } },
      "checks.torn-hem.share: [1] cannot stand here",
    ],
    ["null", null, "Expected object"],
    ["a list", [], "Expected object"],
  ])("%s is refused", async (_, data, message) => {
    expect(await problemsOf(data)).toContain(message);
  });

  test("everything that is wrong is named at once", async () => {
    const message = await problemsOf({
      checks: { "loose-lace": { slack: "2 deg", swing: 400 }, "torn-hem": { share: 2 } },
    });
    expect(message.split("\n").map((line) => line.split(":")[0])).toEqual([
      "checks.loose-lace.slack",
      "checks.loose-lace.swing",
      "checks.torn-hem.share",
    ]);
  });
});

test.each<[number | string, number | null]>([
  [24, 24],
  ["25", 25],
  ["30000/1001", 30000 / 1001],
  [" 24000 / 1001 ", 24000 / 1001],
  [0, null],
  [-24, null],
  [Number.NaN, null],
  ["1/0", null],
  ["0/5", null],
  ["-24", null],
  ["24fps", null],
  ["", null],
])("the rate %j is %j", (written, rate) => {
  expect(rateFrom(written)).toBe(rate);
});

describe("the JSON Schema of a configuration", () => {
  const validate = new Ajv2020({ strict: false }).compile(configJsonSchema(inventedChecks));

  test.each<[unknown, boolean]>([
    [{}, true],
    [{ checks: { "loose-lace": { slack: "2 cm", on: true } } }, true],
    [{ checks: { "loose-lace": false } }, true],
    [{ checks: { "loose-lace": { slack: 0.9 } } }, false],
    [{ checks: { "lose-lace": false } }, false],
    [{ rate: "24000/1001", failOn: "polish" }, true],
    [{ failOn: "heavy" }, false],
  ])("%j is valid: %j", (data, valid) => {
    expect(validate(data)).toBe(valid);
  });

  test("it tells what a setting is, its default and its source", () => {
    expect(JSON.stringify(configJsonSchema(inventedChecks))).toContain(
      "Slack. A number is in m; default 0.02. Source: common practice.",
    );
  });
});
