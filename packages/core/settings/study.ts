import { Study, shotInput, shotMeasure } from "../base/study.ts";
import { headerOf, setShot } from "../document/inputs.ts";
import type { Shot } from "../document/model.ts";
import { setJudgedRate } from "../time/grid.ts";
import { withStyle } from "./resolve.ts";
import type { ResolvedSettings } from "./settings.ts";

/** Input: the settings of all checks as a configuration and a run have them, units resolved. */
const chosenSettingsOf = shotInput<ResolvedSettings>("chosen settings");

/** The settings of all checks, units resolved: by the style that the document names, where nobody else chooses one. */
export const settingsOf = shotMeasure<ResolvedSettings>("settings", (study) => {
  const chosen = chosenSettingsOf(study);
  const { style } = headerOf(study).shot;
  const styled = style === undefined ? null : withStyle(chosen, style);
  return styled === null || typeof styled === "string" ? chosen : styled;
});

/** Says by which style of the document a shot is judged, or that there is no such style; none where it names none. */
export function styleSentences(study: Study): readonly string[] {
  const { style } = headerOf(study).shot;
  if (style === undefined) return [];
  const styled = withStyle(chosenSettingsOf(study), style);
  if (styled === null) return [];
  if (typeof styled !== "string") return [`style: ${style}, as the document says`];
  return [`style of the document: ${styled} It is judged by ${settingsOf(study).style}`];
}

/**
 * What is to be known of a shot that is judged by some settings; nothing is computed before it is asked for.
 * @param shot what `readShot` or `shotOf` gave
 * @param settings what `resolveSettings` or `defaultSettings` gave
 * @returns the study that every measure takes
 */
export function studyOf(shot: Shot, settings: ResolvedSettings): Study {
  const study = new Study();
  setShot(study, shot);
  setSettings(study, settings);
  return study;
}

/**
 * Judges a study's shot by other settings from now on.
 * @param settings what `resolveSettings` gave
 */
export function setSettings(study: Study, settings: ResolvedSettings): void {
  study.memo.write(chosenSettingsOf.definition, undefined, settings);
  setJudgedRate(study, settings.rate);
}
