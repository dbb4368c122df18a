import { basename, dirname, join, resolve } from "node:path";
import type { Adapter, WriteOptions, WriteResult } from "@keyside/adapters";
import { placeAt } from "@keyside/core";
import { exitCodes, UnreadableError, WrongUse } from "../base/errors.ts";
import type { Io } from "../base/io.ts";
import { loadShot } from "../judge/shots/load.ts";
import { allAdapters, shotWriterFor } from "../judge/shots/readers.ts";
import { refuseHeavy, weightOf } from "../judge/shots/weigh.ts";
import { allAnimations, animationsIn } from "./animations.ts";
import { limitsFor, type RawLimits, usualTime } from "./limits.ts";
import { startOut } from "./write-out.ts";

export interface ConvertOptions extends RawLimits {
  readonly force: boolean;
  /** Whether no cell of a table may be taken for a formula. */
  readonly safeCells?: boolean;
  /** Frames per second at which captured motion is taken over. */
  readonly rate?: number;
  /** Which animation of a file that holds several. */
  readonly animation?: string;
  /** Whether channels are written frame by frame. */
  readonly bake?: boolean;
  /** How a table is laid out. */
  readonly layout?: "long" | "wide";
  readonly decimalComma?: boolean;
}

/**
 * `keyside convert`: writes a shot in another format. What was wrong in the input is said, what the format could not
 * carry too, and what could be read is written.
 */
export async function convert(
  input: string,
  output: string,
  options: ConvertOptions,
  io: Io,
): Promise<number> {
  const adapter = shotWriterFor(output);
  if (adapter?.write === undefined) throw new WrongUse(`${output}: ${unwritten()}`);
  refuseForeignOptions(adapter, options);
  if (resolve(io.cwd, input) === resolve(io.cwd, output)) {
    throw new WrongUse("The input and the output are the same file.");
  }
  if (options.animation !== allAnimations) return convertOne(input, output, adapter, options, io);
  const most = limitsFor(input, options, usualTime.judging).budget.file;
  const names = await animationsIn(input, most, io);
  if (names.length < 2) {
    const { animation: _, ...rest } = options;
    return convertOne(input, output, adapter, rest, io);
  }
  let code: number = exitCodes.clean;
  for (const [name, file] of namedOutputs(names, output, adapter)) {
    code = Math.max(code, await convertOne(input, file, adapter, { ...options, animation: name }, io));
  }
  return code;
}

async function convertOne(
  input: string,
  output: string,
  adapter: Adapter,
  options: ConvertOptions,
  io: Io,
): Promise<number> {
  const { rate, animation, force } = options;
  const { guard, budget } = limitsFor(input, options, usualTime.judging);
  const isPosed = options.bake === true || !keepsKeys.includes(adapter.name);
  // Where nothing is posed, how many frames the range has is no matter.
  const roomy = isPosed ? budget : { ...budget, poses: Number.POSITIVE_INFINITY };
  const loaded = await loadShot(input, { ...io, rate, animation, guard, budget: roomy });
  if (isPosed) refuseHeavy(input, weightOf(loaded.shot, undefined), budget);
  for (const problem of loaded.problems) {
    const { line, column } = placeAt(loaded.lineStarts, problem.start);
    io.stderr(`keyside: ${input}:${line}:${column}: ${problem.message}\n`);
  }
  for (const remark of loaded.remarks ?? []) io.stderr(`keyside: ${input}: ${remark}\n`);
  const { files, lost } = await written(adapter, loaded.shot, output, options, guard);
  await writeAll(files, output, force, io);
  for (const what of lost) io.stderr(`keyside: ${output}: ${what}\n`);
  io.stdout(`Wrote ${files.map(({ name }) => beside(output, name)).join(" and ")}.\n`);
  return loaded.problems.length > 0 ? exitCodes.notes : exitCodes.clean;
}

/** Formats in which a shot's keys are written as they are. */
const keepsKeys: readonly string[] = ["curves", "csv"];

async function written(
  { write }: Adapter,
  shot: Parameters<NonNullable<Adapter["write"]>>[0],
  output: string,
  { bake = false, layout = "long", decimalComma = false, safeCells = false }: ConvertOptions,
  guard: ReturnType<typeof limitsFor>["guard"],
): Promise<WriteResult> {
  const told: WriteOptions = { file: basename(output), isBaked: bake, layout, decimalComma, safeCells };
  return guard(() => write?.(shot, told)) as WriteResult | Promise<WriteResult>;
}

/** Writes all files, or none: those of a set appear one after the other, once all are whole. */
async function writeAll(files: WriteResult["files"], output: string, force: boolean, io: Io): Promise<void> {
  const begun: Awaited<ReturnType<typeof startOut>>[] = [];
  try {
    for (const { name, content } of files) {
      const file = await startOut(beside(output, name), { force }, io);
      begun.push(file);
      await file.write(content);
    }
    for (const file of begun) await file.finish();
  } catch (error) {
    for (const file of begun) await file.abandon();
    throw error;
  }
}

function beside(output: string, name: string): string {
  return name === basename(output) ? output : join(dirname(output), name);
}

function unwritten(): string {
  const endings = allAdapters()
    .filter(({ write }) => write !== undefined)
    .flatMap((one) => one.endings.map((ending) => `*${ending}`));
  return `Files of this kind are not written; name it ${endings.join(", ")}.`;
}

/** Options that mean something to tables alone are refused for other files, rather than passed over. */
function refuseForeignOptions(adapter: Adapter, options: ConvertOptions): void {
  if (adapter.name === "csv") return;
  const given = [
    options.safeCells === true ? "--safe-cells" : "",
    options.decimalComma === true ? "--decimal-comma" : "",
    options.layout === undefined ? "" : "--layout",
  ].find((name) => name !== "");
  if (given !== undefined) throw new WrongUse(`${given} is for tables; name the output *.csv.`);
  if (options.bake === true && adapter.name === "curves") {
    throw new WrongUse("--bake is for other formats; a curve document keeps keys as they are.");
  }
}

/** A file for each animation: its name stands before the ending. */
function namedOutputs(
  names: readonly string[],
  output: string,
  { endings }: Adapter,
): readonly (readonly [name: string, file: string])[] {
  const ending = endings.find((one) => output.toLowerCase().endsWith(one)) ?? "";
  const stem = output.slice(0, output.length - ending.length);
  const taken = new Set<string>();
  return names.map((name, index) => {
    const word = name.replace(/[^\p{L}\p{N}_-]+/gu, "_").slice(0, 80) || `animation_${index}`;
    const own = taken.has(word.toLowerCase()) ? `${word}_${index}` : word;
    taken.add(own.toLowerCase());
    const file = `${stem}.${own}${output.slice(stem.length)}`;
    if (taken.size === index)
      throw new UnreadableError(output, `Two animations would be written to ${file}.`);
    return [name, file];
  });
}
