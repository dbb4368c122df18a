import { exitCodes } from "../base/errors.ts";
import { baselineWriter } from "../present/report/baseline.ts";
import { type CheckOptions, check } from "./check.ts";
import type { CommandIo } from "./command-io.ts";

/** `keyside baseline`: judges shots and writes down which notes are known from now on. Gives the exit code. */
export async function baseline(
  paths: readonly string[],
  options: CheckOptions & { readonly out: string },
  io: CommandIo,
): Promise<number> {
  const { tier } = options;
  const code = await check(paths, { ...options, writer: () => baselineWriter({ lightest: tier }) }, io);
  // Notes are what it is written for.
  return code === exitCodes.notes ? exitCodes.clean : code;
}
