import { bytesFrom, bytesText } from "./size.ts";

/** How much work a shot may be before it is refused. What a slip of the pen asks for is told before it is tried. */
export interface Budget {
  /** Bytes of its file. */
  readonly file: number;
  /** Judged frames times nodes. */
  readonly poses: number;
  /** Keys of all curves together. */
  readonly keys: number;
  /** Figures: each is judged by itself in all frames, whatever nodes it shares with others. */
  readonly figures: number;
  /** Notes that are reported of it. */
  readonly notes: number;
}

/**
 * Common practice: some ten times what the largest shots of a show have. A pose takes some 170 bytes while it is judged
 * (measured on a chain of 30 joints), so that all of them stay below 2 GB.
 */
export const defaultBudget: Budget = {
  file: 256_000_000,
  poses: 10_000_000,
  keys: 20_000_000,
  figures: 1000,
  notes: 100_000,
};

export const budgetNames = Object.keys(defaultBudget) as readonly (keyof Budget)[];

/** A part of a budget as it is written, such as `poses=50000000` or `file=1GB`; null where it is none. */
export function budgetFrom(text: string): Partial<Budget> | null {
  const [, name = "", written = ""] = /^\s*([a-z]+)\s*=\s*(.*?)\s*$/.exec(text) ?? [];
  if (!budgetNames.includes(name as keyof Budget)) return null;
  const plain = /^\d{1,15}$/.test(written) ? Number(written) : null;
  const value = name === "file" ? (bytesFrom(written) ?? plain) : plain;
  return value === null || value < 1 ? null : { [name]: value };
}

const inWords: Readonly<Record<keyof Budget, (value: number) => string>> = {
  file: bytesText,
  poses: grouped,
  keys: grouped,
  figures: grouped,
  notes: grouped,
};

/** Why a shot is refused: what it asks for, what is allowed, and how more is. */
export function overBudget(name: keyof Budget, what: string, value: number, budget: Budget): string {
  const most = inWords[name](budget[name]);
  return `${what}, and at most ${most} are allowed. If that is meant, --budget ${name}=${Math.ceil(value)} allows it.`;
}

/** A number with its thousands apart: 27,000,000. */
export function grouped(value: number): string {
  return String(Math.round(value)).replace(/\B(?=(\d{3})+$)/g, ",");
}
