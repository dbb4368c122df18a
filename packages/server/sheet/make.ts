import { MendSession, type Note, type ProvenMend, type Tier } from "@keyside/core";
import { compareVersions } from "../report/comparison.ts";
import type { JudgedVersion } from "../shots/version.ts";
import { type Sheet, sheetOf } from "./sheet.ts";

export interface MakeOptions {
  /** The version before, judged by the same settings; null for none. */
  readonly previous: JudgedVersion | null;
  /** Whether mends are looked for and tried. */
  readonly mends: boolean;
  /** Lightest tier that is shown. */
  readonly lightest: Tier;
}

/** The review sheet of a judged shot. */
export function makeSheet(version: JudgedVersion, { previous, mends, lightest }: MakeOptions): Sheet {
  return sheetOf(version, {
    compared: previous === null ? null : compareVersions(previous, version),
    mendOf: mends ? mendsOf(version) : null,
    lightest,
  });
}

/** Tries mends on the shot; the session in which they are tried is made once, when the first is asked for. */
function mendsOf({ loaded, settings }: JudgedVersion): (note: Note) => ProvenMend | null {
  let session: MendSession | null = null;
  return (note) => {
    session ??= new MendSession(loaded.shot, settings, loaded.waivers);
    // The session's notes are its own; one is known by what it says and where.
    const own = session.notes.find((other) => other.fingerprint === note.fingerprint);
    return own === undefined ? null : session.prove(own);
  };
}
