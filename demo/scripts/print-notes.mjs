// @ts-check
/** The notes of a shot, biggest first, each with the key to look at: `node demo/scripts/print-notes.mjs [file]`. */
import { readFileSync } from "node:fs";
import { defaultSettings, notesOf, readShot, registry, studyOf } from "@keyside/core";

const file = process.argv[2] ?? new URL("../shots/quay_0070_v1.curves.json", import.meta.url);
const { shot, problems } = readShot(readFileSync(file, "utf8"));
for (const { path, message } of problems) console.log(`${path}: ${message}`);
if (shot !== null) {
  for (const { tier, check, frames, keys, message } of notesOf(studyOf(shot, defaultSettings(registry)))) {
    const key =
      keys[0] === undefined ? "no single key" : `${keys[0].node} ${keys[0].channel} at ${keys[0].frame}`;
    console.log(`${tier} ${check} ${frames.join("-")} (${key}): ${message}`);
  }
}
