import { type ReadResult, readShot } from "@keyside/core";
import { readBvh } from "./bvh/read.ts";
import { readCsv } from "./csv/read.ts";
import { readGltf } from "./gltf/read.ts";

/** What every reader of text can be told. */
export interface ReadOptions {
  /** Frames per second at which captured motion is taken over; the file's own rate if left out. */
  readonly rate?: number;
  /** Length of the file's unit, for formats that do not say it; inferred from stature if left out. */
  readonly metresPerUnit?: number;
  /** Keys of all curves together that are made at most, where a file could ask for more than it holds; 20 million if left out. */
  readonly mostKeys?: number;
  /** What the shot is to be called where the file does not say it. */
  readonly name?: string;
}

export type TextReader = (text: string, options?: ReadOptions) => ReadResult;

/** Readers of text files by the ending of the file's name, lower case. */
export const readers: Readonly<Record<string, TextReader>> = {
  ".bvh": readBvh,
  ".csv": readCsv,
  ".gltf": readGltf,
  ".curves.json": (text) => readShot(text),
};
