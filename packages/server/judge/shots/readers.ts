import { readers, type TextReader } from "@keyside/adapters";

let added: Readonly<Record<string, TextReader>> = {};

/** Readers of plug-ins. One process runs with one set of them; whoever starts a run says which. */
export const addedReaders = {
  use(others: Readonly<Record<string, TextReader>>): void {
    added = others;
  },
};

/** Ending of a curve document's name. */
export const documentExtension = ".curves.json";

/** Endings of the files that hold shots, lower case, curve documents first, those of plug-ins last. */
export function shotExtensions(): readonly string[] {
  const own = Object.keys(readers).filter((extension) => extension !== documentExtension);
  return [documentExtension, ...own, ...Object.keys(added)];
}

/** The ending by which a file's kind is known; null where its kind is not read. */
export function extensionOf(file: string): string | null {
  const name = file.toLowerCase();
  let longest: string | null = null;
  for (const extension of shotExtensions()) {
    if (name.endsWith(extension) && extension.length > (longest?.length ?? 0)) longest = extension;
  }
  return longest;
}

/** The reader for a file's name; null where its kind is not read. */
export function readerFor(file: string): TextReader | null {
  const extension = extensionOf(file);
  return extension === null ? null : (readers[extension] ?? added[extension] ?? null);
}

/** A file's name without the ending that tells its kind. */
export function shotName(fileName: string): string {
  return fileName.slice(0, fileName.length - (extensionOf(fileName)?.length ?? 0));
}
