// @ts-check
/**
 * All scenes, as functions that load them, with the half they belong to. People, all other bodies, and some of both, each with
 * a kit that it is written with, may be looked at; `unseen` only counts.
 * @import { Half, Scene } from "./scenes.d.ts"
 */
import { existsSync, readdirSync } from "node:fs";

const folders = /** @type {const} */ ([
  ["people", "open"],
  ["creatures", "open"],
  ["mixed", "open"],
  ["varied", "open"],
  ["unseen", "shut"],
]);

/** @type {readonly { half: Half, load: () => Promise<Scene> }[]} */
export const scenes = folders.flatMap(([folder, half]) => {
  const url = new URL(`./${folder}/scenes/`, import.meta.url);
  if (!existsSync(url)) return [];
  return readdirSync(url)
    .filter((file) => file.endsWith(".mjs"))
    .sort()
    .map((file) => ({ half, load: () => import(new URL(file, url).href) }));
});
