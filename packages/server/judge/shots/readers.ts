import { type Adapter, adapters } from "@keyside/adapters";

let added: readonly Adapter[] = [];

/** Adapters of plug-ins. One process runs with one set of them; whoever starts a run says which. */
export const addedAdapters = {
  use(others: readonly Adapter[]): void {
    added = others;
  },
};

/** Ending of a curve document's name. */
export const documentExtension = ".curves.json";

/** All adapters of the run: the program's, then those of plug-ins. */
export function allAdapters(): readonly Adapter[] {
  return added.length === 0 ? adapters : [...adapters, ...added];
}

/** Adapters that read. */
function readingAdapters(): readonly Adapter[] {
  return allAdapters().filter(({ read, readText }) => read !== undefined || readText !== undefined);
}

/** Endings of the files that hold shots, lower case, curve documents first, those of plug-ins last. */
export function shotExtensions(): readonly string[] {
  return readingAdapters().flatMap(({ endings }) => endings);
}

/** The ending by which a file's kind is known; null where its kind is not read. */
export function extensionOf(file: string): string | null {
  return isBeside(file) ? null : longestOf(file, shotExtensions());
}

/** Whether a file, by its name, stands beside a shot and is none: a table of nodes. */
export function isBeside(file: string): boolean {
  return (
    longestOf(
      file,
      allAdapters().flatMap(({ beside = [] }) => beside),
    ) !== null
  );
}

function longestOf(file: string, endings: readonly string[]): string | null {
  const name = file.toLowerCase();
  let longest: string | null = null;
  for (const ending of endings) {
    if (name.endsWith(ending) && ending.length > (longest?.length ?? 0)) longest = ending;
  }
  return longest;
}

/** The adapter that reads files of a name; null where their kind is not read. */
export function readerFor(file: string): Adapter | null {
  const extension = extensionOf(file);
  if (extension === null) return null;
  return readingAdapters().find(({ endings }) => endings.includes(extension)) ?? null;
}

/** The adapter that writes files of a name; null where their kind is not written. */
export function shotWriterFor(file: string): Adapter | null {
  const writing = allAdapters().filter(({ write }) => write !== undefined);
  const ending = longestOf(
    file,
    writing.flatMap(({ endings }) => endings),
  );
  return ending === null ? null : (writing.find(({ endings }) => endings.includes(ending)) ?? null);
}

/** The adapter whose bytes these are, by what they begin with; null where they are nobody's. */
export function detected(head: Uint8Array): Adapter | null {
  return readingAdapters().find(({ detect }) => detect(head)) ?? null;
}

/** A file's name without the ending that tells its kind. */
export function shotName(fileName: string): string {
  return fileName.slice(0, fileName.length - (extensionOf(fileName)?.length ?? 0));
}
