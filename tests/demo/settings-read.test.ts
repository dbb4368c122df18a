import { readFileSync } from "node:fs";
import {
  defaultSettings,
  readShot,
  registry,
  type Study,
  studyOf,
  subjectCount,
  valuesOf,
} from "@keyside/core";
import { expect, test } from "vitest";
import { demoModule } from "./load.ts";

const module = await demoModule("provocations/index.mjs");
const provocations: readonly { readonly check: string; readonly shot: string }[] = module.provocations;
const settings = defaultSettings(registry);

/** What no demo shot comes to: the checks' own tests do. */
const elsewhere: Readonly<Record<string, readonly string[]>> = {
  "hang-time": ["residual", "thing"],
  "lift-before-push": ["strike"],
  "lone-arm": ["launch", "throw"],
  "no-anticipation": ["blow", "windUp"],
  "no-load": ["power", "shift", "answer"],
  twinning: ["together"],
};

const study = (text: string): Study => {
  const { shot } = readShot(text);
  if (shot === null) throw new Error("the shot cannot be read");
  return studyOf(shot, settings);
};
const demo = ["jetty_0040_v1", "quay_0070_v1", "steps_0110_v1"].map((name) =>
  study(readFileSync(new URL(`../../demo/shots/${name}.curves.json`, import.meta.url), "utf8")),
);

test.each(registry.map((check) => [check.name, check] as const))(
  "%s reads each of its settings",
  (name, check) => {
    const unread = new Set(Object.keys(check.settings));
    const provoked = provocations
      .filter((one) => one.check === name)
      .map((one) => study(module.provokedText(one)));
    for (const one of [...provoked, ...demo]) {
      for (let subject = 0; subject < subjectCount(one, check) && unread.size > 0; subject++) {
        const values = new Proxy(valuesOf(one, check, subject) as Record<string, number>, {
          get(target, key) {
            unread.delete(String(key));
            return target[String(key)];
          },
        });
        check.find(one, subject, values as never);
      }
    }
    expect([...unread]).toEqual(elsewhere[name] ?? []);
  },
);
