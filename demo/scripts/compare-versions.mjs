// @ts-check
/** What became of the major notes from the first version of a shot to the second. */
import { readFileSync } from "node:fs";
import {
  bringsNew,
  compareNotes,
  defaultSettings,
  notesOf,
  readShot,
  registry,
  studyOf,
} from "@keyside/core";

const settings = defaultSettings(registry);
/** @param {string} name */
const version = (name) => {
  const { shot } = readShot(readFileSync(new URL(`../shots/${name}`, import.meta.url), "utf8"));
  if (shot === null) throw new Error(`Nothing in ${name} can be judged.`);
  return { shot, notes: notesOf(studyOf(shot, settings)) };
};
const compared = compareNotes(version("quay_0070_v1.curves.json"), version("quay_0070_v2.curves.json"));
for (const { tier, check, node } of compared.fixed) {
  if (tier === "major") console.log(`fixed: ${check} on ${node}`);
}
console.log(bringsNew(compared, "major") ? "look at it again" : "no major note came");
