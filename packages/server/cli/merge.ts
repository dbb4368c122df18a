import { resolve } from "node:path";
import { WrongUse } from "../base/errors.ts";
import type { Io } from "../base/io.ts";
import { version } from "../base/version.ts";
import { checkParts, MergeError, merged, openPart, type Part, stoppedOf } from "../judge/archive/merge.ts";
import { type ReportOptions, report } from "./reporting.ts";
import { keepInputs } from "./write-out.ts";

/** `keyside merge`: one report from the reports of the shards, the same byte for byte as that of a single run. */
export async function merge(shown: readonly string[], options: ReportOptions, io: Io): Promise<number> {
  keepInputs(options.out, [...shown, options.history], io.cwd);
  const parts: Part[] = [];
  for (const one of shown) parts.push(await openPart(resolve(io.cwd, one), one));
  try {
    checkParts(parts, version);
    return await report(options, null, io, async (sink) => {
      for await (const one of merged(parts)) {
        if (one.kind === "shot") await sink.shot(one.shot);
        else await sink.error(one.error);
      }
      return stoppedOf(parts);
    });
  } catch (error) {
    if (error instanceof MergeError) throw new WrongUse(error.message);
    throw error;
  }
}
