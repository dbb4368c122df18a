/** Loads a module of the demo, which is plain JavaScript without declarations. */
// biome-ignore lint/suspicious/noExplicitAny: the demo's modules carry their types in comments
export function demoModule(path: string): Promise<any> {
  const url = new URL(`../../demo/${path}`, import.meta.url).href;
  return import(/* @vite-ignore */ url);
}
