import { type Tier, tiers } from "@keyside/core";
import type { ReportWriter } from "./writer.ts";

/**
 * The report as JSON; its schema is `reportSchema`.
 * @param lightest lightest tier that is written
 */
export function jsonWriter(version: string, lightest: Tier): ReportWriter {
  const last = tiers.indexOf(lightest);
  let isFirst = true;
  return {
    start: () => `{\n  "tool": ${JSON.stringify({ name: "keyside", version })},\n  "shots": [`,
    shot(shot) {
      const notes = shot.notes.filter(({ tier }) => tiers.indexOf(tier) <= last);
      const text = `${isFirst ? "\n" : ",\n"}${indented({ ...shot, notes }, 4)}`;
      isFirst = false;
      return text;
    },
    end(errors) {
      const shotsEnd = isFirst ? "]" : "\n  ]";
      return `${shotsEnd},\n  "errors": ${indented(errors, 2).trimStart()}\n}\n`;
    },
  };
}

function indented(value: unknown, by: number): string {
  return JSON.stringify(value, null, 2).replace(/^/gm, " ".repeat(by));
}
