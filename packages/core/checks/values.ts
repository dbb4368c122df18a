import { gridOf } from "../motion/grid.ts";
import { figureOfNode, figuresOf, statureOf } from "../rig/body.ts";
import { inWorkingUnits } from "../settings/settings.ts";
import { type Measure, measure, type Study, settingsOf, shotMeasure } from "../study/study.ts";
import type { Check } from "./check.ts";

/** A check's settings in working units for a subject: lengths in body heights follow its figure's stature. */
export function valuesOf(study: Study, check: Check, subject: number): Record<string, number> {
  if (check.scope === "node") return valuesIn(study, check, figureOfNode(study, subject));
  return valuesIn(study, check, check.scope === "figure" ? subject : -1);
}

/** The same for a subject that belongs to a figure; -1 for one that belongs to none. */
export function valuesIn(study: Study, check: Check, figure: number): Record<string, number> {
  let ofFigure = measures.get(check);
  if (ofFigure === undefined) {
    ofFigure = measure(
      `settings of ${check.name}`,
      (study, figure: number) => workingValues(study, check, figure),
      sameValues,
    );
    measures.set(check, ofFigure);
  }
  return ofFigure(study, figure);
}

const measures = new WeakMap<Check, Measure<number, Record<string, number>>>();

function workingValues(study: Study, check: Check, figure: number): Record<string, number> {
  const chosen = settingsOf(study).checks.get(check.name)?.values ?? {};
  const stature = figure >= 0 ? statureOf(study, figure) : largestStature(study);
  const { rate } = gridOf(study);
  const values: Record<string, number> = {};
  for (const [name, setting] of Object.entries(check.settings)) {
    values[name] = inWorkingUnits(
      chosen[name] ?? { value: setting.default, unit: setting.unit },
      stature,
      rate,
    );
  }
  return values;
}

function sameValues(before: Record<string, number>, after: Record<string, number>): boolean {
  return Object.keys(after).every((name) => before[name] === after[name]);
}

const largestStature = shotMeasure<number>("largest stature", (study) => {
  const count = figuresOf(study).length;
  let largest = 0;
  for (let figure = 0; figure < count; figure++) largest = Math.max(largest, statureOf(study, figure));
  // A shot of props alone is judged at the scale of a person beside them.
  return largest > 0 ? largest : 1.7;
});
