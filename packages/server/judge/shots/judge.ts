import { type ResolvedSettings, type Study, setWaiversBeside, studyOf as studyOfShot } from "@keyside/core";
import type { LoadedShot } from "./load.ts";
import { type JudgedShot, reportShot } from "./shot-report.ts";

/** Runs the checks that are on over a loaded shot. */
export function judge(loaded: LoadedShot, settings: ResolvedSettings): JudgedShot {
  return reportShot(loaded, studyOf(loaded, settings));
}

/** A study of a loaded shot, with the waivers that stand beside it. */
export function studyOf({ shot, waivers }: LoadedShot, settings: ResolvedSettings): Study {
  const study = studyOfShot(shot, settings);
  setWaiversBeside(study, waivers);
  return study;
}
