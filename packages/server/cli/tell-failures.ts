import type { ReportedFailure } from "@keyside/core";
import { exitCodes } from "../base/errors.ts";
import type { Io } from "../base/io.ts";
import { failureText } from "../present/text/failure.ts";

/**
 * Says on stderr which checks failed in a shot.
 * @returns the exit code: what the command would have ended with, unless a check failed
 */
export function tellFailures(
  file: string,
  failures: readonly ReportedFailure[] | undefined,
  io: Io,
  code: number,
): number {
  for (const failure of failures ?? []) io.stderr(`keyside: ${file}: ${failureText(failure)}\n`);
  return (failures ?? []).length === 0 ? code : exitCodes.unreadable;
}
