import { measure, type Study } from "../../base/study.ts";
import { gridOf } from "../../time/grid.ts";
import { cutsOf, stepsWithoutCuts } from "./cuts.ts";
import { angularSpeedOf } from "./rotation.ts";
import { spacingOf } from "./spacing.ts";

/** Metres that a node travels in the world from the sample before to each sample, but for cuts: those are no travel. */
export function uncutSpacingOf(study: Study, node: number): Float64Array {
  return cutsOf(study, node).length === 0 ? spacingOf(study, node) : cutSpacingOf(study, node);
}
const cutSpacingOf = measure("uncut spacing", (study, node: number): Float64Array => {
  return stepsWithoutCuts(spacingOf(study, node), null, cutsOf(study, node));
});

/** Radians that a node turns in the world from the sample before to each sample, but for cuts. */
export const uncutTurnsOf = measure("uncut turns", (study, node: number): Float64Array => {
  const { dt } = gridOf(study);
  const steps = angularSpeedOf(study, node).map((speed) => speed * dt);
  return stepsWithoutCuts(steps, null, cutsOf(study, node));
});
