import { type ReportError, type Tier, tiers } from "@keyside/core";
import type { ReportWriter } from "../archive/report-writer.ts";

/** The report as JSON; its schema is `reportSchema`. */
export function jsonWriter({ lightest }: { readonly lightest: Tier }): ReportWriter {
  const last = tiers.indexOf(lightest);
  const errors: ReportError[] = [];
  let isFirst = true;
  return {
    begin({ version, shard }) {
      const tool = JSON.stringify({ name: "keyside", version });
      const part = shard === null ? "" : `  "shard": ${JSON.stringify(shard)},\n`;
      return `{\n  "tool": ${tool},\n${part}  "shots": [`;
    },
    shot(shot) {
      const notes = shot.notes.filter(({ tier }) => tiers.indexOf(tier) <= last);
      const text = `${isFirst ? "\n" : ",\n"}${indented({ ...shot, notes }, 4)}`;
      isFirst = false;
      return text;
    },
    error(error) {
      errors.push(error);
      return "";
    },
    end({ stopped }) {
      const shotsEnd = isFirst ? "]" : "\n  ]";
      const how = stopped === null ? "" : `,\n  "stopped": ${JSON.stringify(stopped)}`;
      return `${shotsEnd},\n  "errors": ${indented(errors, 2).trimStart()}${how}\n}\n`;
    },
  };
}

function indented(value: unknown, by: number): string {
  return JSON.stringify(value, null, 2).replace(/^/gm, " ".repeat(by));
}
