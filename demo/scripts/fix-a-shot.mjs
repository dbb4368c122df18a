// @ts-check
/** Fixes that were tried, for one check, and what they change. The text keeps all but the changed keys. */
import { readFileSync } from "node:fs";
import { defaultSettings, fixAll, fixedText, readShot, registry } from "@keyside/core";

const text = readFileSync(new URL("../shots/quay_0070_v1.curves.json", import.meta.url), "utf8");
const { shot } = readShot(text);
if (shot === null) throw new Error("Nothing in this shot can be judged.");
const { fixes } = fixAll(shot, defaultSettings(registry), ({ check }) => check === "pop");
for (const { fix, title, changes } of fixes) {
  console.log(`${fix}: ${title} (keys changed: ${changes.length})`);
}
const lines = fixedText(text, shot, fixes).split("\n");
const changed = lines.filter((line, i) => line !== text.split("\n")[i]).length;
console.log(`${changed} of ${lines.length} lines changed`);
