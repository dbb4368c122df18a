import { stat } from "node:fs/promises";
import { basename, resolve } from "node:path";
import type { ReviewFile } from "@keyside/core";
import { exitCodes, WrongUse } from "../base/errors.ts";
import { loadShot } from "../judge/shots/load.ts";
import { reviewIn, reviewTextBeside } from "../judge/shots/reviews.ts";
import { folderGroup, habitsWriter } from "../present/report/habits.ts";
import { type CheckOptions, check } from "./check.ts";
import type { CommandIo } from "./command-io.ts";
import { layoutFor } from "./layout-for.ts";

export interface HabitsCommandOptions extends CheckOptions {
  readonly habitsFormat: "text" | "markdown" | "json";
  readonly byField?: string | undefined;
  readonly byName?: string | undefined;
}

/** `keyside habits`: which faults come again over many shots. Gives the exit code. */
export async function habits(
  paths: readonly string[],
  options: HabitsCommandOptions,
  io: CommandIo,
): Promise<number> {
  const { tier, out, byField, byName, habitsFormat: format } = options;
  if (byField !== undefined && byName !== undefined) {
    throw new WrongUse("Shots are grouped by one thing: --by-field or --by-name.");
  }
  const pattern = byName === undefined ? null : patternFrom(byName);
  const groupsOf = async (file: string): Promise<readonly string[]> => {
    if (byField !== undefined) return fieldOf(file, byField, io);
    if (pattern === null) return [folderGroup(file)];
    const [whole, caught = whole] = pattern.exec(basename(file)) ?? [];
    return [caught ?? "others"];
  };
  const layout = out === undefined ? layoutFor(io) : { colour: false, width: 100 };
  const placeOf = async (file: string) => ({ groups: await groupsOf(file), time: await timeOf(file, io) });
  const writer = () => habitsWriter({ layout, lightest: tier, format, placeOf });
  const code = await check(paths, { ...options, format: "text", writer }, io);
  // Notes are what is counted.
  return code === exitCodes.notes ? exitCodes.clean : code;
}

function patternFrom(text: string): RegExp {
  try {
    return new RegExp(text);
  } catch {
    throw new WrongUse(`--by-name: "${text}" is no regular expression.`);
  }
}

/** What a field of a shot's header says; a list counts for each that it names. */
async function fieldOf(file: string, field: string, io: CommandIo): Promise<readonly string[]> {
  const { shot } = await loadShot(file, io);
  const value = (shot.header.shot as Readonly<Record<string, unknown>>)[field];
  const values = Array.isArray(value) ? value : value === undefined ? [] : [value];
  const texts = values.filter((one) => ["string", "number"].includes(typeof one)).map(String);
  return texts.length === 0 ? [`without ${field}`] : texts;
}

/** When a version was made: the first date in its review, else when its file was last changed. */
async function timeOf(file: string, io: CommandIo): Promise<number | null> {
  const path = resolve(io.cwd, file);
  const loaded = reviewIn(await reviewTextBeside(io.files, path, file), file);
  const dates = loaded === null ? [] : datesIn(loaded.review);
  if (dates.length > 0) return Math.min(...dates);
  try {
    return (await stat(path)).mtimeMs;
  } catch {
    return null;
  }
}

function datesIn({ remarks, decisions, marks }: ReviewFile): number[] {
  const times = [...remarks, ...decisions, ...marks].map(({ date }) => Date.parse(date));
  return times.filter((time) => Number.isFinite(time));
}
