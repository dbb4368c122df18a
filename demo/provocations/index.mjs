// @ts-check
/** One slip for each check, in one of the demo's shots: what makes the check speak. */
import { readFileSync } from "node:fs";
import { applyKeyEdits, readShot } from "@keyside/core";
import { data } from "./data.mjs";
import { parts } from "./parts.mjs";
import { paths } from "./paths.mjs";
import { spacing } from "./spacing.mjs";
import { weight } from "./weight.mjs";

/**
 * What makes a check speak.
 * @typedef {object} Provocation
 * @property {string} check
 * @property {string} shot a version in `demo/shots`, without its extension
 * @property {string} node on which the note stands: the part that was touched, or what carries it
 * @property {[number, number]} frames within which the note begins
 * @property {string} slip what was done, as one would say it in a review
 * @property {((shot: Shot, before: Shot) => KeyEdit[])[]} [edits] edits of keys, one list after the other; `before` is
 *   the shot without any. A version that has the fault by itself needs none.
 * @property {[string, string]} [replace] a piece of the document besides its keys, and what stands for it
 * @typedef {import("./keying.mjs").Shot} Shot
 * @typedef {import("./keying.mjs").KeyEdit} KeyEdit
 */

/** @type {readonly Provocation[]} */
export const provocations = [...spacing, ...paths, ...weight, ...parts, ...data];

/**
 * The text of a provocation's shot, with the slip in it.
 * @param {Provocation} provocation
 */
export function provokedText({ shot: name, edits = [], replace }) {
  let text = readFileSync(new URL(`../shots/${name}.curves.json`, import.meta.url), "utf8");
  if (replace !== undefined) {
    if (text.split(replace[0]).length !== 2)
      throw new Error(`${name} does not hold this once: ${replace[0]}`);
    text = text.replace(...replace);
  }
  const before = shotIn(text);
  for (const edit of edits) {
    const shot = shotIn(text);
    text = applyKeyEdits(text, shot, edit(shot, before));
  }
  return text;
}

/** @param {string} text */
function shotIn(text) {
  const { shot } = readShot(text);
  if (shot === null) throw new Error("This is no shot.");
  return shot;
}
