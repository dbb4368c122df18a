import { FixSession, type Note, type ProvenFix, type Tier } from "@keyside/core";
import type { JudgedVersion } from "../../judge/shots/judged-version.ts";
import { compareVersions } from "../report/comparison.ts";
import type { Audience } from "../text/review.ts";
import { type Sheet, sheetOf } from "./sheet.ts";

export interface MakeOptions {
  /** The version before, judged by the same settings; null for none. */
  readonly previous: JudgedVersion | null;
  /** Whether fixes are looked for and tried. */
  readonly fixes: boolean;
  /** Lightest tier that is shown. */
  readonly lightest: Tier;
  /** For whom it is written; for everybody if left out. */
  readonly audience?: Audience | undefined;
}

/** The review sheet of a judged shot. */
export function makeSheet(
  version: JudgedVersion,
  { previous, fixes, lightest, audience }: MakeOptions,
): Sheet {
  return sheetOf(version, {
    compared: previous === null ? null : compareVersions(previous, version),
    fixOf: fixes ? fixesOf(version) : null,
    ...{ lightest, audience },
  });
}

/** Tries fixes on the shot; the session in which they are tried is made once, when the first is asked for. */
function fixesOf({ loaded, settings }: JudgedVersion): (note: Note) => ProvenFix | null {
  let session: FixSession | null = null;
  return (note) => {
    session ??= new FixSession(loaded.shot, settings, loaded.waivers);
    // The session's notes are its own; one is known by what it says and where.
    const own = session.notes.find((other) => other.fingerprint === note.fingerprint);
    const proven = own === undefined ? null : session.prove(own);
    // A sketch is no fix: it is asked for where somebody animates.
    return proven?.kind === "fix" ? proven : null;
  };
}
