import { type ResolvedSettings, type Study, setWaiversBeside, studyOf as studyOfShot } from "@keyside/core";
import type { LoadedShot } from "./load.ts";
import { type JudgedShot, reportShot } from "./shot-report.ts";
import { textFixes } from "./text-fixes.ts";

/**
 * Runs the checks that are on over a loaded shot.
 * @param withFixes whether a verified fix is looked for of each note that nothing waives, which takes several times as long
 * @param withStrengths whether it is told what holds, too
 */
export function judge(
  loaded: LoadedShot,
  settings: ResolvedSettings,
  withFixes = false,
  withStrengths = false,
): JudgedShot {
  const fixOf = withFixes ? textFixes(loaded, settings) : undefined;
  return reportShot(loaded, studyOf(loaded, settings), fixOf, withStrengths);
}

/** A study of a loaded shot, with the waivers that stand beside it. */
export function studyOf({ shot, waivers }: LoadedShot, settings: ResolvedSettings): Study {
  const study = studyOfShot(shot, settings);
  setWaiversBeside(study, waivers);
  return study;
}
