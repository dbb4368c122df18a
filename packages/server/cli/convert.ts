import { resolve } from "node:path";
import { writeCsv } from "@keyside/adapters";
import { placeAt, writeDocument } from "@keyside/core";
import { exitCodes, WrongUse } from "../base/errors.ts";
import type { Io } from "../base/io.ts";
import { loadShot } from "../judge/shots/load.ts";
import { documentExtension } from "../judge/shots/readers.ts";
import { limitsFor, type RawLimits, usualTime } from "./limits.ts";
import { writeWhole } from "./write-out.ts";

const tableExtension = ".csv";

export interface ConvertOptions extends RawLimits {
  readonly force: boolean;
  /** Whether no cell of a table may be taken for a formula. */
  readonly safeCells?: boolean;
  /** Frames per second at which captured motion is taken over. */
  readonly rate?: number;
}

/**
 * `keyside convert`: writes a shot as a curve document, or its keys as a table. What was wrong in the input is said, and what could be read
 * is written.
 */
export async function convert(
  input: string,
  output: string,
  { force, rate, safeCells = false, ...limits }: ConvertOptions,
  io: Io,
): Promise<number> {
  const isTable = output.toLowerCase().endsWith(tableExtension);
  if (!isTable && !output.toLowerCase().endsWith(documentExtension)) {
    throw new WrongUse(
      `${output}: only curve documents and tables are written; name it *${documentExtension} or *${tableExtension}.`,
    );
  }
  if (safeCells && !isTable)
    throw new WrongUse(`--safe-cells is for tables; name the output *${tableExtension}.`);
  if (resolve(io.cwd, input) === resolve(io.cwd, output)) {
    throw new WrongUse("The input and the output are the same file.");
  }
  const { guard, budget } = limitsFor(input, limits, usualTime.judging);
  // Nothing is posed: how many frames the range has is no matter here.
  const roomy = { ...budget, poses: Number.POSITIVE_INFINITY };
  const loaded = await loadShot(input, { ...io, rate, guard, budget: roomy });
  for (const problem of loaded.problems) {
    const { line, column } = placeAt(loaded.lineStarts, problem.start);
    io.stderr(`keyside: ${input}:${line}:${column}: ${problem.message}\n`);
  }
  const text = guard(() =>
    isTable ? writeCsv(loaded.shot, "long", { safeCells }) : writeDocument(loaded.shot),
  );
  await writeWhole(output, text, { force }, io);
  io.stdout(`Wrote ${output}.\n`);
  return loaded.problems.length > 0 ? exitCodes.notes : exitCodes.clean;
}
