import type { Stats } from "node:fs";
import { bytesText } from "../size.ts";

/** What a file may be before it is read. */
export interface Bounds {
  /** Bytes of the largest file that is taken. */
  readonly most: number;
  /** What is to be done about a larger one: a whole sentence, in which SIZE stands for its bytes. */
  readonly wayOut: string;
  /** Whether it has to be text: then its first bytes are looked at before the rest is read. */
  readonly isText: boolean;
}

const megabyte = 1_000_000;

/** Bounds by what a file holds; common practice: far above what people and programs write. */
export const bounds = {
  shot: { most: 256 * megabyte, wayOut: "If that is meant, --budget file=SIZE allows it.", isText: true },
  /** Configurations, waivers, reviews, ignore files. */
  settings: { most: 16 * megabyte, wayOut: "Is it the right file?", isText: true },
  /** Lists of paths and histories of runs. */
  list: { most: 256 * megabyte, wayOut: "Split it.", isText: false },
  token: { most: 4096, wayOut: "Is it the right file?", isText: true },
} as const satisfies Readonly<Record<string, Bounds>>;

/** A file that is not taken; the message says why, in words, without the file's name. */
export class FileRefusal extends Error {
  override readonly name = "FileRefusal";
}

/**
 * Refuses what is no plain file, and what is too large.
 * @throws FileRefusal, or an error with the code EISDIR
 */
export function refuseKind(stats: Stats, { most, wayOut }: Pick<Bounds, "most" | "wayOut">): void {
  if (stats.isDirectory()) throw Object.assign(new Error("EISDIR"), { code: "EISDIR" });
  if (!stats.isFile()) throw new FileRefusal(`This is ${kindOf(stats)}, not a file.`);
  refuseSize(stats.size, { most, wayOut });
}

/** @throws FileRefusal */
export function refuseSize(size: number, { most, wayOut }: Pick<Bounds, "most" | "wayOut">): void {
  if (size <= most) return;
  const todo = wayOut.replace("SIZE", String(size));
  throw new FileRefusal(`The file has ${bytesText(size)}, and at most ${bytesText(most)} are read. ${todo}`);
}

/** How many bytes are looked at before the rest is read. */
export const headLength = 8192;

/**
 * Refuses what is no text by its first bytes.
 * @throws FileRefusal
 */
export function refuseHead(head: Uint8Array, { isText }: Pick<Bounds, "isText">): void {
  if (isText && head.subarray(0, headLength).includes(0)) {
    throw new FileRefusal("This is a binary file, or text that is not UTF-8; a shot is text in UTF-8.");
  }
}

/** What stands at a path that is neither a file nor a folder, in words. */
export function kindOf(stats: Stats): string {
  if (stats.isFIFO()) return "a pipe";
  if (stats.isSocket()) return "a socket";
  return "a device";
}
