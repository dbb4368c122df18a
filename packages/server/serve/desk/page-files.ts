import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { UnreadableError } from "../../base/errors.ts";

/** A file of the page. */
export interface PageFile {
  readonly type: string;
  readonly bytes: Buffer;
}

const files = {
  "/": ["index.html", "text/html; charset=utf-8"],
  "/desk.js": ["desk.js", "text/javascript; charset=utf-8"],
  "/desk.css": ["desk.css", "text/css; charset=utf-8"],
} as const;

/**
 * All that the desk serves, by path.
 * @throws UnreadableError where the page was not built
 */
export function pageFiles(): ReadonlyMap<string, PageFile> {
  const require = createRequire(import.meta.url);
  const read = ([name, type]: (typeof files)[keyof typeof files]): PageFile => {
    try {
      return { type, bytes: readFileSync(require.resolve(`@keyside/desk/page/${name}`)) };
    } catch {
      throw new UnreadableError(
        `@keyside/desk/page/${name}`,
        "The desk's page is not there; install Keyside again.",
      );
    }
  };
  return new Map(Object.entries(files).map(([path, file]) => [path, read(file)]));
}
