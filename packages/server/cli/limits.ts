import { type Command, InvalidArgumentError, Option } from "commander";
import { type Budget, budgetFrom, budgetNames, defaultBudget } from "../base/budget.ts";
import { UnreadableError } from "../base/errors.ts";
import { type Guard, guardOf, MemoryIsFull, TimeIsOver } from "../base/guard.ts";
import { defaultLimits, memoryHere, NeedsRoom, tookTooLong, tookTooMuch } from "../base/limits.ts";
import { bytesFrom } from "../base/size.ts";
import { numberOption } from "./options.ts";

/** What a command line says of how much a shot may take. */
export interface RawLimits {
  readonly timeLimit?: number | undefined;
  readonly memoryLimit?: number | undefined;
  readonly budget?: Partial<Budget> | undefined;
}

/** How much a shot may take, as whoever loads and judges it is told. */
export interface ShotLimits {
  readonly budget: Budget;
  readonly guard: Guard;
}

/** Seconds where nothing is chosen: for judging, and for looking for fixes, which judges a shot many times. */
export const usualTime = { judging: defaultLimits().time, fixing: 600 } as const;

/** Adds the options that bound what a shot may take. */
export function addLimitOptions(command: Command, seconds: number): Command {
  return command
    .addOption(timeLimitOption(seconds))
    .addOption(memoryLimitOption())
    .addOption(budgetOption())
    .hook("preAction", () => {
      const { memoryLimit } = command.opts<RawLimits>();
      // The engine has to be told as it starts how much it may take.
      if (memoryLimit !== undefined && memoryLimit > memoryHere()) throw new NeedsRoom(memoryLimit);
    });
}

export function timeLimitOption(seconds: number): Option {
  const what = `seconds after which a shot is given up; ${seconds} if left out`;
  return numberOption("--time-limit <SECONDS>", what, "any");
}

export function memoryLimitOption(): Option {
  return new Option(
    "--memory-limit <SIZE>",
    "memory at which a shot is given up, such as 8GB; 4GB if left out, less on a small machine",
  ).argParser(sizeArgument);
}

export function memoryOption(): Option {
  return new Option(
    "--memory <SIZE>",
    "memory that the run should get along with, such as 500MB: with less it has fewer threads; half of the machine's if left out",
  ).argParser(sizeArgument);
}

function sizeArgument(text: string): number {
  const bytes = bytesFrom(text);
  if (bytes === null || bytes === 0) throw new InvalidArgumentError('It is a size such as "8 GB".');
  return bytes;
}

export function budgetOption(): Option {
  const what = budgetNames.map((name) => `${name}=${defaultBudget[name]}`).join(", ");
  return new Option(
    "--budget <NAME=NUMBER>",
    `how much work a shot may be before it is refused; can be repeated (${what})`,
  ).argParser((text: string, before: Partial<Budget> | undefined) => {
    const part = budgetFrom(text);
    if (part === null) {
      throw new InvalidArgumentError(
        `It is one of ${budgetNames.join(", ")} with a whole number, such as poses=50000000 or file=1GB.`,
      );
    }
    return { ...before, ...part };
  });
}

/**
 * What one shot may take in this thread.
 * @param seconds where the command line says nothing
 */
export function limitsFor(
  file: string,
  { timeLimit, memoryLimit, budget }: RawLimits,
  seconds: number,
): ShotLimits {
  const allowed = timeLimit ?? seconds;
  const memory = Math.min(memoryLimit ?? defaultLimits().memory, memoryHere());
  const guard = guardOf({ seconds: allowed, memory, catchesStop: false });
  return {
    budget: { ...defaultBudget, ...budget },
    guard: (work) => {
      try {
        return guard(work);
      } catch (error) {
        if (error instanceof TimeIsOver) throw new UnreadableError(file, tookTooLong(allowed));
        if (error instanceof MemoryIsFull) throw new UnreadableError(file, tookTooMuch(memory));
        throw error;
      }
    },
  };
}
