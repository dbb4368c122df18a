import { readBvh } from "@keyside/adapters";
import { type ReadResult, readShot } from "@keyside/core";

/** How shots of one kind of file are read. */
export interface ShotReader {
  /** Ending of the file's name, lower case. */
  readonly extension: string;
  read(text: string): ReadResult;
}

/** Ending of a curve document's name. */
export const documentExtension = ".curves.json";

export const shotReaders: readonly ShotReader[] = [
  { extension: documentExtension, read: (text) => readShot(text) },
  { extension: ".bvh", read: (text) => readBvh(text) },
];

/** Endings of the files that hold shots. */
export const shotExtensions: readonly string[] = shotReaders.map(({ extension }) => extension);

/** The reader for a file's name; null where its kind is not read. */
export function readerFor(file: string): ShotReader | null {
  const name = file.toLowerCase();
  return shotReaders.find(({ extension }) => name.endsWith(extension)) ?? null;
}

/** A file's name without the ending that tells its kind. */
export function shotName(fileName: string): string {
  const extension = readerFor(fileName)?.extension ?? "";
  return extension === "" ? fileName : fileName.slice(0, -extension.length);
}
