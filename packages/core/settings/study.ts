import { Study, shotInput } from "../base/study.ts";
import { setShot } from "../document/inputs.ts";
import type { Shot } from "../document/model.ts";
import { setJudgedRate } from "../time/grid.ts";
import type { ResolvedSettings } from "./settings.ts";

/** Input: the settings of all checks, units resolved. */
export const settingsOf = shotInput<ResolvedSettings>("settings");

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
  study.memo.write(settingsOf.definition, undefined, settings);
  setJudgedRate(study, settings.rate);
}
