import { measure, type Study } from "../../../base/study.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { figuresOf } from "../../../rig/body.ts";
import { curveNamesOfNode } from "../../../rig/channels.ts";
import { gridOf } from "../../../time/grid.ts";
import { isDense } from "./rekey.ts";

/** Keys from which on a curve can be called keyed on every frame: two on neighbouring frames are a pair set by hand. */
const fewest = 3;

/** Whether a curve has a key on every judged frame from its first key to its last, as recordings and bakes have. */
export function isOnEveryFrame(study: Study, curve: Curve): boolean {
  const { frames } = curve;
  if (frames.length < fewest) return false;
  const whole = { from: frames[0], to: frames[frames.length - 1] };
  return isDense(curve, whole, Math.max(1, gridOf(study).step));
}

/** Whether all curves of a figure (index into `figuresOf`) have a key on every frame: a recording, or a bake. */
export const isRecorded = measure("recorded", (study, figure: number): boolean => {
  if (figure < 0) return false;
  return figuresOf(study)[figure].nodes.every((node) =>
    curveNamesOfNode(study, node).every((name) => {
      const curve = curveOf(study, name);
      return curve === null || curve.frames.length < 2 || isOnEveryFrame(study, curve);
    }),
  );
});
