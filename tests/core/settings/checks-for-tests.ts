import type { Check } from "../../../packages/core/faults/check.ts";
import type { Setting } from "../../../packages/core/settings/settings.ts";

/** Two invented checks, so that tests of settings do not hang on what the real ones declare. */
export const inventedChecks: readonly Check[] = [
  inventedCheck("loose-lace", {
    slack: { default: 0.02, unit: "m", what: "Slack.", source: "common practice", min: 0, max: 0.5 },
    swing: { default: 20, unit: "deg", what: "Swing.", source: "common practice", min: 0, max: 180 },
    beats: { default: 3, unit: "frames", what: "Beats.", source: "common practice", min: 1 },
  }),
  inventedCheck("torn-hem", {
    share: { default: 0.25, unit: "share", what: "Share.", source: "common practice", min: 0, max: 1 },
  }),
];

function inventedCheck(name: string, settings: Record<string, Setting>): Check {
  return {
    name,
    title: name,
    family: "spacing",
    scope: "shot",
    ceiling: "major",
    what: `Finds a ${name}.`,
    why: "Invented.",
    computes: "Nothing.",
    fix: "Nothing.",
    notAFault: [],
    limits: [],
    sources: [],
    since: "0.1.0",
    settings,
    find: () => [],
    word: () => ({ message: "", suggestion: "" }),
  };
}
