import { readers, type TextReader } from "@keyside/adapters";

/** Ending of a curve document's name. */
export const documentExtension = ".curves.json";

/** Endings of the files that hold shots, lower case, curve documents first. */
export const shotExtensions: readonly string[] = [
  documentExtension,
  ...Object.keys(readers).filter((extension) => extension !== documentExtension),
];

/** The ending by which a file's kind is known; null where its kind is not read. */
export function extensionOf(file: string): string | null {
  const name = file.toLowerCase();
  return shotExtensions.find((extension) => name.endsWith(extension)) ?? null;
}

/** The reader for a file's name; null where its kind is not read. */
export function readerFor(file: string): TextReader | null {
  const extension = extensionOf(file);
  return extension === null ? null : (readers[extension] ?? null);
}

/** A file's name without the ending that tells its kind. */
export function shotName(fileName: string): string {
  return fileName.slice(0, fileName.length - (extensionOf(fileName)?.length ?? 0));
}
