import { type ReportError, type Tier, tiers } from "@keyside/core";
import type { ReportWriter } from "../../judge/archive/report-writer.ts";

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
      const text = `${isFirst ? "\n" : ",\n"}${indented({ ...shot, notes }, 2)}`;
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
      return `${shotsEnd},\n  "errors": ${indented(errors, 1).trimStart()}${how}\n}\n`;
    },
  };
}

/**
 * JSON as it stands inside so many brackets: the first line too is indented, by two spaces for each. Nesting the value
 * and cutting the brackets off again is several times as fast as indenting each line of the text.
 */
function indented(value: unknown, levels: number): string {
  let nested: unknown = value;
  for (let level = 0; level < levels; level++) nested = [nested];
  const text = JSON.stringify(nested, null, 2);
  // Each level puts a bracket, its indentation and a line end before the value, and as much after it.
  const around = levels * (levels + 1);
  return text.slice(around, text.length - around);
}
