import { UnreadableError } from "../../base/errors.ts";
import { messageOf, placeIn } from "../../base/plugins/blame.ts";
import type { ReportWriter } from "../../judge/archive/report-writer.ts";
import type { WriterOptions } from "./writer-options.ts";

/** A report of a plug-in: makes the writer of one run. */
export type PluginReport = (options: Pick<WriterOptions, "lightest" | "checkNamed">) => ReportWriter;

const parts = ["begin", "shot", "error", "end"] as const;

/**
 * A report of somebody else's: where it fails, or gives no text, its module is named.
 * @param module path of the module
 * @throws UnreadableError where the writer cannot be made
 */
export function guardedWriter(name: string, module: string, make: () => ReportWriter): ReportWriter {
  const guarded = <R>(work: () => R): R => {
    try {
      return work();
    } catch (error) {
      if (error instanceof UnreadableError) throw error;
      throw new UnreadableError(
        module,
        `The report ${name} failed${placeIn(module, error)}: ${messageOf(error)}.`,
      );
    }
  };
  const writer = guarded(make);
  const missing = parts.find((part) => typeof writer?.[part] !== "function");
  if (missing !== undefined) {
    throw new UnreadableError(
      module,
      `The report ${name} has no function "${missing}" (${parts.join(", ")}).`,
    );
  }
  const text = (part: string, work: () => unknown): string => {
    const written = guarded(work);
    if (typeof written === "string") return written;
    throw new UnreadableError(module, `The report ${name}: "${part}" has to give a text.`);
  };
  return {
    begin: (head) => text("begin", () => writer.begin(head)),
    shot: (shot) => text("shot", () => writer.shot(shot)),
    error: (error) => text("error", () => writer.error(error)),
    end: (summary) => text("end", () => writer.end(summary)),
  };
}
