import { fileURLToPath, pathToFileURL } from "node:url";

/** The path of a `file:` URI; null for any other, and for one that cannot be read. */
export function pathOfUri(uri: string): string | null {
  if (!uri.startsWith("file:")) return null;
  try {
    return fileURLToPath(uri);
  } catch {
    return null;
  }
}

export function uriOfPath(path: string): string {
  return pathToFileURL(path).href;
}
