import type { Study } from "../../../base/study.ts";
import type { Curve } from "../../../document/model.ts";
import { gridOf } from "../../../time/grid.ts";
import { keyingOf } from "./rekey.ts";

/** Keys from which on a curve can be called keyed on every frame: two on neighbouring frames are a pair set by hand. */
const fewest = 3;

/** Whether a curve has a key on every judged frame from its first key to its last, as recordings and bakes have. */
export function isOnEveryFrame(study: Study, curve: Curve): boolean {
  const { frames } = curve;
  if (frames.length < fewest) return false;
  return keyingOf(curve, { from: frames[0], to: frames[frames.length - 1] }, gridOf(study).step) === "dense";
}
