/** The picture of each check, and one per family for a check that has none of its own. */
import { examples } from "@keyside/core/examples";
import { picture } from "./draw.mjs";
import { panelsOf } from "./motion.mjs";
import { pictures as spacing } from "./spacing.mjs";

const own = { ...spacing };
const ofFamily = {
  spacing: "hard-stop",
  paths: "straight-path",
  weight: "early-stop",
  parts: "lone-joint",
  staging: "competing-moves",
  data: "overshoot",
};

/** @param {{ name: string, title: string, family: string }} check @returns {string} SVG */
export function pictureOf({ name, title, family }) {
  const shown = hasOwnPicture(name) ? name : ofFamily[family];
  const [fault, fixed] = examples[shown] !== undefined ? panelsOf(examples[shown]) : own[shown];
  return picture(title, fault, fixed);
}

/** Whether a check has a picture of its own. */
export const hasOwnPicture = (name) => examples[name] !== undefined || Object.hasOwn(own, name);
