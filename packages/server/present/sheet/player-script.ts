import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

let text: string | null = null;

/** The player's element as one script, which a page takes in as it is. */
export function playerScript(): string {
  text ??= readFileSync(createRequire(import.meta.url).resolve("@keyside/player/bundle"), "utf8").trim();
  return text;
}

/** Data as it may stand in a script element: no text in it can end the element. */
export function asData(value: unknown): string {
  return JSON.stringify(value).replaceAll("<", "\\u003c");
}
