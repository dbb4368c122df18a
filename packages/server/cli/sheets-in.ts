import { existsSync } from "node:fs";
import { basename, dirname, join, relative, resolve } from "node:path";
import { uriReference } from "../present/text/uri.ts";

/** Finds the review sheet of a shot, as a link from the page; null where the folder has none for it. */
export function sheetsIn(
  folder: string,
  page: string | undefined,
  cwd: string,
): (shot: { readonly file: string; readonly name: string }) => string | null {
  const from = page === undefined ? cwd : dirname(resolve(cwd, page));
  const place = resolve(cwd, folder);
  return ({ file, name }) => {
    const stem = basename(file)
      .replace(/\.[^.]+$/, "")
      .replace(/\.curves$/, "");
    for (const candidate of [join(dirname(file), stem), stem, name.replace(/[/\\]/g, "_")]) {
      const path = resolve(place, `${candidate}.html`);
      // A shot's name must not lead out of the folder.
      if (relative(place, path).startsWith("..") || !existsSync(path)) continue;
      return uriReference(relative(from, path));
    }
    return null;
  };
}
