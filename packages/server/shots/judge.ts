import { figuresOf, type ReportedNote, type ReportedShot, type ResolvedSettings, Study } from "@keyside/core";
import { groupsOf } from "../report/groups.ts";
import { reportShot } from "../report/shot-report.ts";
import type { LoadedShot } from "./load.ts";

/** A shot that has been judged. */
export interface JudgedShot {
  readonly report: ReportedShot;
  /** Heading under which a note stands. */
  groupOf(note: ReportedNote): string;
  /** Ids of the shot's figures. */
  readonly figures: readonly string[];
}

/** Runs the checks that are on over a loaded shot. */
export function judge(loaded: LoadedShot, settings: ResolvedSettings): JudgedShot {
  const study = new Study(loaded.shot, settings);
  return {
    report: reportShot(loaded, study),
    groupOf: groupsOf(study),
    figures: figuresOf(study).map(({ id }) => id),
  };
}
