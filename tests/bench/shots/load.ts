/** Loads a module of the whole-shot bench, which is plain JavaScript. */
// biome-ignore lint/suspicious/noExplicitAny: the bench carries its types in comments
export function shotsModule(path: string): Promise<any> {
  return import(/* @vite-ignore */ new URL(path, import.meta.url).href);
}
