import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { registry } from "../../../packages/core/faults/registry.ts";
import { ConfigError } from "../../../packages/core/settings/config.ts";
import { defaultSettings, defaultTiers, resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { type StyleName, styleNames } from "../../../packages/core/settings/styles.ts";
import { inventedChecks } from "./checks-for-tests.ts";

describe("what is in force", () => {
  test("without a choice: every check is on, with its own defaults", () => {
    const settings = defaultSettings(inventedChecks);
    expect(settings.rate).toBeNull();
    expect(settings.style).toBe("full");
    expect(settings.tiers).toEqual(defaultTiers);
    expect([...settings.checks.keys()]).toEqual(["loose-lace", "torn-hem"]);
    expect(settings.checks.get("loose-lace")).toEqual({
      on: true,
      ceiling: "major",
      values: {
        slack: { value: 0.02, unit: "m" },
        swing: { value: 20, unit: "deg" },
        beats: { value: 3, unit: "frames" },
      },
    });
  });

  test("a run's choices go before the configuration", () => {
    const config = { rate: 24, style: "snappy", checks: { "torn-hem": { on: false } } } as const;
    const settings = resolveSettings(inventedChecks, config, { rate: 30, style: "full", only: ["torn-hem"] });
    expect(settings.rate).toBe(30);
    expect(settings.style).toBe("full");
    expect(settings.checks.get("torn-hem")?.on).toBe(true);
    expect(settings.checks.get("loose-lace")?.on).toBe(false);
    expect(resolveSettings(inventedChecks, config).checks.get("torn-hem")?.on).toBe(false);
  });

  test("a check that a run skips is off as if the configuration said so, whatever else names it", () => {
    const off = resolveSettings(inventedChecks, { checks: { "torn-hem": { on: false } } });
    const skipped = resolveSettings(inventedChecks, {}, { skip: ["torn-hem"] });
    expect(skipped.checks).toEqual(off.checks);
    expect(skipped.checks.get("torn-hem")).toHaveProperty("otherwise");
    const wanted = { checks: { "torn-hem": { on: true } } };
    for (const overrides of [{}, wanted, { only: ["torn-hem", "loose-lace"] }]) {
      const { checks } = resolveSettings(inventedChecks, wanted, { ...overrides, skip: ["torn-hem"] });
      expect(checks.get("torn-hem")?.on).toBe(false);
      expect(checks.get("loose-lace")?.on).toBe(true);
    }
  });

  test("a run's choices of a check are put over the configuration's, one by one", () => {
    const metres = (value: number) => ({ value, unit: "m" }) as const;
    const config = {
      checks: {
        "loose-lace": { tier: "minor", values: { slack: metres(0.1), swing: { value: 5, unit: "deg" } } },
      },
    } as const;
    const chosen = { "loose-lace": { values: { slack: metres(0.3) } }, "torn-hem": { on: false } };
    const both = {
      checks: {
        "loose-lace": { tier: "minor", values: { slack: metres(0.3), swing: { value: 5, unit: "deg" } } },
        "torn-hem": { on: false },
      },
    } as const;
    expect(resolveSettings(inventedChecks, config, { checks: chosen })).toEqual(
      resolveSettings(inventedChecks, both),
    );
    const off = { checks: { "torn-hem": { on: false } } };
    const values = { share: { value: 0.5, unit: "share" } } as const;
    const isOn = (choice: object) =>
      resolveSettings(inventedChecks, off, { checks: { "torn-hem": choice } }).checks.get("torn-hem")?.on;
    expect(isOn({ values })).toBe(false);
    expect(isOn({ values, on: true })).toBe(true);
  });

  test("one tier moved past the other takes it along; both the wrong way round are refused", () => {
    expect(resolveSettings(inventedChecks, { tiers: { minor: 0.8 } }).tiers).toEqual({
      minor: 0.8,
      major: 0.8,
    });
    expect(resolveSettings(inventedChecks, { tiers: { major: 0.1 } }).tiers).toEqual({
      minor: 0.1,
      major: 0.1,
    });
    expect(() => resolveSettings(inventedChecks, { tiers: { minor: 0.8, major: 0.2 } })).toThrow(ConfigError);
  });

  test.each([
    [{ checks: { "lose-lace": {} } }, {}, 'Did you mean "loose-lace"?'],
    [{}, { only: ["torn-hme"] }, 'torn-hme: There is no check of this name. Did you mean "torn-hem"?'],
    [{}, { skip: ["torn-hme"] }, 'torn-hme: There is no check of this name. Did you mean "torn-hem"?'],
    [{}, { checks: { "torn-hme": { on: true } } }, 'Did you mean "torn-hem"?'],
    [
      {},
      { checks: { "torn-hem": { values: { share: { value: 2, unit: "share" } } } } },
      "2 share is above the most allowed, 1 share",
    ],
    [
      { checks: { "torn-hem": { values: { shar: { value: 1, unit: "share" } } } } },
      {},
      'Did you mean "share"?',
    ],
    [
      { checks: { "torn-hem": { values: { share: { value: 2, unit: "share" } } } } },
      {},
      "above the most allowed",
    ],
    [{ checks: { "torn-hem": { values: { share: { value: Number.NaN, unit: "share" } } } } }, {}, "finite"],
  ] as const)("%j with %j is refused", (config, overrides, message) => {
    expect(() => resolveSettings(inventedChecks, config, overrides)).toThrow(message);
  });

  test("every value within its bounds is taken, every other is refused", () => {
    fc.assert(
      fc.property(fc.double({ min: -1, max: 1, noNaN: true }), (value) => {
        const config = { checks: { "loose-lace": { values: { slack: { value, unit: "m" } } } } } as const;
        const resolve = () =>
          resolveSettings(inventedChecks, config).checks.get("loose-lace")?.values["slack"];
        if (value >= 0 && value <= 0.5) expect(resolve()).toEqual({ value, unit: "m" });
        else expect(resolve).toThrow(ConfigError);
      }),
    );
  });
});

describe("styles", () => {
  test.each(styleNames)(
    "%s says why, names settings that exist and stays within their bounds",
    (style: StyleName) => {
      for (const check of registry) {
        const change = check.styles?.[style];
        if (change === undefined) continue;
        expect(change.why, `${style}: ${check.name}`).toMatch(/^[A-Z].*\.$/);
        for (const [settingName, factor = 1] of Object.entries(change.times ?? {})) {
          const setting = check.settings[settingName];
          expect(setting, `${style}: ${check.name}.${settingName}`).toBeDefined();
          const value = setting.default * factor;
          expect(value).toBeGreaterThanOrEqual(setting.min ?? Number.NEGATIVE_INFINITY);
          expect(value).toBeLessThanOrEqual(setting.max ?? Number.POSITIVE_INFINITY);
        }
      }
    },
  );
});

test("no check names a setting as the configuration names its own switches", () => {
  for (const check of registry) {
    expect(Object.keys(check.settings), check.name).not.toContain("on");
    expect(Object.keys(check.settings), check.name).not.toContain("tier");
    expect(Object.keys(check.settings), check.name).not.toContain("why");
  }
});

describe("a style", () => {
  const of = (config: Parameters<typeof resolveSettings>[1]) => resolveSettings(registry, config).checks;

  test("moves defaults, and a written value stands as it is", () => {
    const full = of({}).get("spacing-jump")?.values["ratio"]?.value ?? 0;
    const factor = 2;
    expect(of({ style: "snappy" }).get("spacing-jump")?.values["ratio"]?.value).toBe(full * factor);
    const values = { ratio: { value: 1.7, unit: "ratio" } } as const;
    const chosen = of({ style: "snappy", checks: { "spacing-jump": { values } } });
    expect(chosen.get("spacing-jump")?.values["ratio"]?.value).toBe(1.7);
  });

  test("turns checks off, and who names one wants it", () => {
    expect(of({}).get("hard-stop")?.on).toBe(true);
    expect(of({ style: "snappy" }).get("hard-stop")?.on).toBe(false);
    expect(of({ style: "snappy", checks: { "hard-stop": { on: true } } }).get("hard-stop")?.on).toBe(true);
  });
});
