/** The picture of each check, drawn from its examples. */
import { examples } from "@keyside/core/examples";
import { picture } from "./draw.mjs";
import { panelsOf } from "./motion.mjs";

/** @param {{ name: string, title: string }} check @returns {string} SVG */
export function pictureOf({ name, title }) {
  const [fault, fixed] = panelsOf(examples[name]);
  return picture(title, fault, fixed);
}
