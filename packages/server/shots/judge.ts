import { type ResolvedSettings, Study } from "@keyside/core";
import { type JudgedShot, reportShot } from "../report/shot-report.ts";
import type { LoadedShot } from "./load.ts";

/** Runs the checks that are on over a loaded shot. */
export function judge(loaded: LoadedShot, settings: ResolvedSettings): JudgedShot {
  return reportShot(loaded, new Study(loaded.shot, settings));
}
