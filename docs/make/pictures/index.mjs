/** The picture of each check, and one per family for a check that has none of its own. */
import { examples } from "@keyside/core/examples";
import { picture } from "./draw.mjs";
import { panelsOf } from "./motion.mjs";

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
  const [fault, fixed] = panelsOf(examples[hasOwnPicture(name) ? name : ofFamily[family]]);
  return picture(title, fault, fixed);
}

/** Whether a check has a picture of its own. */
export const hasOwnPicture = (name) => examples[name] !== undefined;
