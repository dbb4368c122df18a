import { register } from "node:module";
import { pathToFileURL } from "node:url";

/**
 * Node keeps a module by its URL for good. The mark of a version goes into the URL, and this hook hands it on to what the
 * module imports by relative paths, so that a changed helper is loaded anew as well.
 */
const hook = `export async function resolve(specifier, context, next) {
  const found = await next(specifier, context);
  const mark = /[?&]keyside=[0-9a-f]+/.exec(context.parentURL ?? "");
  return mark !== null && /^\\.{1,2}\\//.test(specifier) && found.url.startsWith("file:")
    ? { ...found, url: found.url + "?" + mark[0].slice(1) }
    : found;
}`;

let isHooked = false;

/**
 * Imports a module in one of its versions.
 * @param path absolute path
 * @param version hexadecimal digits that change with its content, or with that of its helpers
 */
export function importFresh(path: string, version: string): Promise<Readonly<Record<string, unknown>>> {
  if (!isHooked) register(`data:text/javascript,${encodeURIComponent(hook)}`);
  isHooked = true;
  return import(/* @vite-ignore */ `${pathToFileURL(path).href}?keyside=${version}`);
}
