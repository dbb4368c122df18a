import { expect, test } from "vitest";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import type { ConfigurableCheck } from "../../../packages/core/settings/settings.ts";

const settings = { late: { default: 1, unit: "frames", what: "how late", source: "from memory" } } as const;
const plain: ConfigurableCheck = { name: "plain", what: "", ceiling: "minor", settings };
const young: ConfigurableCheck = { ...plain, name: "young", ripening: "no bench has a row for it" };
const isOn = (...argv: [config?: object, overrides?: object]) =>
  resolveSettings([plain, young], ...argv).checks.get("young")?.on;

test("a check that ripens runs where a configuration or a run names it, and nowhere else", () => {
  expect(isOn()).toBe(false);
  expect(isOn({ checks: { young: { on: true } } })).toBe(true);
  expect(isOn({ checks: { young: { values: { late: { value: 2, unit: "frames" } } } } })).toBe(true);
  expect(isOn({}, { only: ["young"] })).toBe(true);
  expect(isOn({}, { only: ["plain"] })).toBe(false);
  expect(isOn({ checks: { young: { on: true } } }, { skip: ["young"] })).toBe(false);
});

test("what ripens speaks for no other check while it is off", () => {
  expect(resolveSettings([plain, young]).checks.get("young")).not.toHaveProperty("otherwise");
  const off = resolveSettings([plain, young], { checks: { plain: { on: false } } });
  expect(off.checks.get("plain")).toHaveProperty("otherwise");
});
