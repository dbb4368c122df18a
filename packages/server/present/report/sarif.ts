import { checkNamed as programCheck, type ReportError, type ReportedFailure } from "@keyside/core";
import type { ReportSummary, ReportWriter } from "../../judge/archive/report-writer.ts";
import { stoppedText } from "../text/endings.ts";
import { failureText } from "../text/failure.ts";
import { listedItems } from "../text/review.ts";
import { isShown } from "../text/shown.ts";
import { uriReference } from "../text/uri.ts";
import { waivedIn } from "../text/waived.ts";
import { remarkResult } from "./sarif-remark.ts";
import { type ResultContext, resultOf } from "./sarif-result.ts";
import { pageUri, Rules } from "./sarif-rules.ts";
import type { WriterOptions } from "./writer-options.ts";

/** At most so many files are listed as artifacts, so that memory does not grow with the archive. */
export const artifactsListed = 20_000;
/** At most so many checks that failed are told, one for each shot, for the same reason. */
const failuresTold = 1_000;

/**
 * The report in the Static Analysis Results Interchange Format (SARIF) 2.1.0, OASIS Standard. Results are written as
 * they come; rules, artifacts and the invocation follow them.
 */
export function sarifWriter({
  lightest,
  checkNamed = programCheck,
  category = "keyside",
  docsAt,
}: Pick<WriterOptions, "lightest" | "checkNamed" | "category" | "docsAt">): ReportWriter {
  const pageAt = pageUri(docsAt);
  const rules = new Rules(checkNamed, pageAt);
  const files: string[] = [];
  const errors: ReportError[] = [];
  const notifications: object[] = [];
  let version = "";
  let shard: { readonly index: number; readonly of: number } | null = null;
  let count = 0;
  let isFirst = true;
  const fileIndex = (file: string) => {
    count++;
    if (files.length >= artifactsListed) return undefined;
    files.push(file);
    return files.length - 1;
  };
  return {
    begin(head) {
      ({ version, shard } = head);
      const schema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json";
      return `{\n  "$schema": "${schema}",\n  "version": "2.1.0",\n  "runs": [\n    {\n      "results": [`;
    },
    shot(shot) {
      for (const failure of shot.failures ?? []) {
        if (notifications.length < failuresTold) notifications.push(notificationOf(shot.file, failure));
      }
      const context: ResultContext = { shot, index: fileIndex(shot.file), rules };
      const results = [
        ...listedItems(
          shot,
          shot.notes.filter(({ tier }) => isShown(tier, lightest)),
        ).map((item) =>
          item.kind === "remark"
            ? remarkResult(item.remark, context)
            : resultOf(item.note, context, item.said),
        ),
        ...waivedIn(shot).map((note) => resultOf(note, context)),
      ];
      let text = "";
      for (const result of results) {
        text += `${isFirst ? "\n" : ",\n"}        ${JSON.stringify(result)}`;
        isFirst = false;
      }
      return text;
    },
    error(error) {
      fileIndex(error.file);
      errors.push(error);
      return "";
    },
    end(summary) {
      const part = shard === null ? "" : `shard-${shard.index}-of-${shard.of}/`;
      const run = {
        // What stands before the last slash is what a system knows a run's kind by; the same run gives the same report.
        automationDetails: { id: `${category}/${part}` },
        columnKind: "utf16CodeUnits",
        // A carriage return alone ends a line too, as people who open the file see it.
        newlineSequences: ["\r\n", "\n", "\r"],
        tool: {
          driver: {
            name: "Keyside",
            version,
            semanticVersion: version,
            informationUri: pageAt("command.md"),
            shortDescription: { text: "Finds where the motion of a character shot does not hold." },
            rules: rules.all(),
          },
        },
        artifacts: files.map((file) => ({
          location: { uri: uriReference(file) },
          roles: ["analysisTarget"],
        })),
        invocations: [invocationOf(summary, errors, notifications)],
        properties: {
          shots: summary.shots,
          ...(count > files.length ? { artifactsLeftOut: count - files.length } : {}),
          ...(shard === null ? {} : { shard }),
        },
      };
      const rest = Object.entries(run)
        .map(([name, value]) => `      ${JSON.stringify(name)}: ${JSON.stringify(value)}`)
        .join(",\n");
      return `${isFirst ? "]" : "\n      ]"},\n${rest}\n    }\n  ]\n}\n`;
    },
  };
}

/** A check that ended in an error. */
function notificationOf(file: string, failure: ReportedFailure): object {
  return {
    level: "error",
    message: { text: failureText(failure) },
    associatedRule: { id: failure.check },
    locations: [{ physicalLocation: { artifactLocation: { uri: uriReference(file) } } }],
  };
}

function invocationOf(
  { stopped }: ReportSummary,
  errors: readonly ReportError[],
  failures: readonly object[],
): object {
  const notifications: object[] = errors.map(({ file, message }) => ({
    level: "error",
    message: { text: message },
    locations: [{ physicalLocation: { artifactLocation: { uri: uriReference(file) } } }],
  }));
  notifications.push(...failures);
  if (stopped !== null) notifications.push({ level: "error", message: { text: stoppedText(stopped) } });
  return {
    executionSuccessful: notifications.length === 0,
    ...(notifications.length === 0 ? {} : { toolExecutionNotifications: notifications }),
  };
}
