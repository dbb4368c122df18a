import { type ChosenValue, inWorkingUnits } from "../base/quantity.ts";
import { type Measure, measure, type Study, shotMeasure } from "../base/study.ts";
import { figureOfNode, figuresOf, statureOf } from "../rig/body.ts";
import { assumedStature } from "../rig/stature.ts";
import { settingsOf } from "../settings/study.ts";
import { gridOf } from "../time/grid.ts";
import type { Check } from "./check.ts";

/**
 * A check's settings in working units for a subject: lengths in body heights follow its figure's stature.
 * @param check one of the checks in force
 * @param subject index of what the check looks at (see `Scope`)
 * @returns by the names of the settings: metres, radians, seconds, judged frames; ratios and counts as they are
 */
export function valuesOf(study: Study, check: Check, subject: number): Record<string, number> {
  if (check.scope === "node") return valuesIn(study, check, figureOfNode(study, subject));
  return valuesIn(study, check, check.scope === "figure" ? subject : -1);
}

/** The same for a subject that belongs to a figure; -1 for one that belongs to none. */
export function valuesIn(study: Study, check: Check, figure: number): Record<string, number> {
  const ofFigure = chosenMeasures.get(check) ?? added(chosenMeasures, check, "settings", "values");
  return ofFigure(study, figure);
}

/** The values by which a silenced check judges what it goes on speaking for (see `CheckSettings.otherwise`). */
export function otherwiseValuesOf(study: Study, check: Check, subject: number): Record<string, number> {
  const ofFigure =
    otherwiseMeasures.get(check) ?? added(otherwiseMeasures, check, "settings otherwise", "otherwise");
  if (check.scope === "node") return ofFigure(study, figureOfNode(study, subject));
  return ofFigure(study, check.scope === "figure" ? subject : -1);
}

type ByFigure = Measure<number, Record<string, number>>;

const chosenMeasures = new WeakMap<Check, ByFigure>();
const otherwiseMeasures = new WeakMap<Check, ByFigure>();

function added(
  measures: WeakMap<Check, ByFigure>,
  check: Check,
  name: string,
  which: "values" | "otherwise",
): ByFigure {
  const ofFigure = measure(
    `${name} of ${check.name}`,
    (study, figure: number) =>
      workingValues(study, check, figure, settingsOf(study).checks.get(check.name)?.[which] ?? {}),
    sameValues,
  );
  measures.set(check, ofFigure);
  return ofFigure;
}

function workingValues(
  study: Study,
  check: Check,
  figure: number,
  chosen: Readonly<Record<string, ChosenValue>>,
): Record<string, number> {
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
  return largest > 0 ? largest : assumedStature;
});
