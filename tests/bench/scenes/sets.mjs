// @ts-check
/** All scenes, as functions that load them: people, and all other bodies, each with a kit that it is written with. */
import { readdirSync } from "node:fs";

const folders = ["people", "creatures"];

export const sceneModules = folders.flatMap((folder) => {
  const url = new URL(`./${folder}/scenes/`, import.meta.url);
  return readdirSync(url)
    .filter((file) => file.endsWith(".mjs"))
    .sort()
    .map((file) => () => import(new URL(file, url).href));
});
