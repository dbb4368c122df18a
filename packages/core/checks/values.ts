import { gridOf } from "../motion/grid.ts";
import { statureNear } from "../motion/moves.ts";
import { figuresOf, statureOf } from "../rig/body.ts";
import { inWorkingUnits } from "../settings/settings.ts";
import { type Study, settingsOf, shotMeasure } from "../study/study.ts";
import type { Check } from "./check.ts";

/** A check's settings in working units for a subject: lengths in body heights follow its figure's stature. */
export function valuesOf(study: Study, check: Check, subject: number): Record<string, number> {
  const chosen = settingsOf(study).checks.get(check.name)?.values ?? {};
  const stature = statureForSubject(study, check, subject);
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

function statureForSubject(study: Study, check: Check, subject: number): number {
  if (check.scope === "node") return statureNear(study, subject);
  if (check.scope === "figure") return statureOf(study, subject);
  return largestStature(study);
}

const largestStature = shotMeasure<number>("largest stature", (study) => {
  const count = figuresOf(study).length;
  let largest = 0;
  for (let figure = 0; figure < count; figure++) largest = Math.max(largest, statureOf(study, figure));
  // A shot of props alone is judged at the scale of a person beside them.
  return largest > 0 ? largest : 1.7;
});
