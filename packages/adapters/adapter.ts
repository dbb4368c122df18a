import type { ReadResult, Shot } from "@keyside/core";

/** What every adapter can be told when it reads. */
export interface ReadOptions {
  /** Frames per second at which captured motion is taken over; the file's own rate if left out. */
  readonly rate?: number;
  /** Length of the file's unit, for formats that do not say it; inferred from stature if left out. */
  readonly metresPerUnit?: number;
  /** Keys of all curves together that are made at most, where a file could ask for more than it holds; 20 million if left out. */
  readonly mostKeys?: number;
  /** What the shot is to be called where the file does not say it. */
  readonly name?: string;
  /** The file's own name, without a folder: it may tell what stands beside it. */
  readonly file?: string;
  /** Which animation is read of a file that holds several: its name or, counted from 0, its number. The first if left out. */
  readonly animation?: string;
}

/** What every adapter can be told when it writes. An adapter ignores what its format has no room for. */
export interface WriteOptions {
  /** Name of the file that is written, without a folder. Its ending may choose between kinds of a format. */
  readonly file: string;
  /** Whether channels are written frame by frame, instead of key by key. */
  readonly isBaked?: boolean;
  /** How a table is laid out: a number a row, or a frame a row. */
  readonly layout?: "long" | "wide";
  /** Whether a table's numbers have a decimal comma, and semicolons between them. */
  readonly decimalComma?: boolean;
  /** Whether no cell of a table may be taken for a formula. */
  readonly safeCells?: boolean;
}

/** A file that an adapter gives; its name has no folder. */
export interface WrittenFile {
  readonly name: string;
  readonly content: string | Uint8Array;
}

export interface WriteResult {
  /** The file that was asked for, then those that belong beside it. */
  readonly files: readonly WrittenFile[];
  /** What of this shot the format could not carry, a sentence each; empty where nothing was lost. */
  readonly lost: readonly string[];
}

/** The bytes of a file that another one names, or why they cannot be had. */
export type Resolved = Uint8Array | { readonly why: string };

/** Finds what a file names beside itself. It reaches nothing that {@link Adapter.needs} has not named. */
export type Resolve = (uri: string) => Resolved;

/** A file format: how its files are known, read and written, and what it has no room for. */
export interface Adapter {
  /** One word in small letters, such as `gltf`. */
  readonly name: string;
  /** What people call it, such as `glTF 2.0`. */
  readonly title: string;
  /** Endings of its files' names, in small letters, the usual one first. */
  readonly endings: readonly string[];
  /** Endings of files that stand beside its own and are no shots, such as `.nodes.csv`. */
  readonly beside?: readonly string[];
  /** Whether some of its files are no text. */
  readonly isBinary?: boolean;
  /** Whether the first bytes of a file (some kilobytes, or all of it) are of this format. */
  readonly detect: (head: Uint8Array) => boolean;
  /** Names of files that are read with a file, as it writes them; none if left out. */
  readonly needs?: (bytes: Uint8Array, options: ReadOptions) => readonly string[];
  /** Names of the animations of a file that can hold several. */
  readonly animations?: (bytes: Uint8Array) => readonly string[];
  /** Reads a file: what is wrong in it becomes problems, and nothing is thrown. Left out where it is only written. */
  readonly read?: (bytes: Uint8Array, resolve: Resolve, options: ReadOptions) => ReadResult;
  /** The same for text that has been decoded, as editors have it; `read` is used if it is left out. */
  readonly readText?: (text: string, resolve: Resolve, options: ReadOptions) => ReadResult;
  /** Writes a shot. Left out where it is only read. */
  readonly write?: (shot: Shot, options: WriteOptions) => WriteResult | Promise<WriteResult>;
  /** What files of this format cannot carry, a phrase each. */
  readonly cannotCarry: readonly string[];
}

/** Where nothing stands beside a file. */
export const nothingBeside: Resolve = () => ({ why: "It is not at hand here." });

/** Reads a file of an adapter as bytes. */
export function readBytes(
  adapter: Adapter,
  bytes: Uint8Array,
  resolve: Resolve = nothingBeside,
  options: ReadOptions = {},
): ReadResult {
  if (adapter.read !== undefined) return adapter.read(bytes, resolve, options);
  if (adapter.readText !== undefined) return adapter.readText(decoded(bytes), resolve, options);
  return notRead(adapter);
}

/** Reads a file of an adapter whose text is at hand. */
export function readTextWith(
  adapter: Adapter,
  text: string,
  resolve: Resolve = nothingBeside,
  options: ReadOptions = {},
): ReadResult {
  if (adapter.readText !== undefined) return adapter.readText(text, resolve, options);
  if (adapter.read !== undefined) return adapter.read(new TextEncoder().encode(text), resolve, options);
  return notRead(adapter);
}

function notRead({ title }: Adapter): ReadResult {
  const message = `${title} is written, and not read.`;
  return {
    shot: null,
    problems: [{ code: "format", message, start: 0, end: 0, path: "" }],
    places: new Map(),
  };
}

/** The first bytes of a file as text, as far as they are that. */
export function decoded(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}

/** The name of a file with another ending, where it has one of some. */
export function renamed(file: string, endings: readonly string[], ending: string): string {
  const own = endings.find((one) => file.toLowerCase().endsWith(one)) ?? "";
  return `${file.slice(0, file.length - own.length)}${ending}`;
}
