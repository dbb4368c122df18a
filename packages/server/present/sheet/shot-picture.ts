import type { JudgedVersion } from "../../judge/shots/judged-version.ts";
import { notePictures } from "./pictures.ts";

/**
 * One picture of a shot: how the body stands at its biggest note, or the path of what is noted where no figure is seen.
 * @param fingerprint of the note that is meant; the biggest that can be drawn where there is none such
 * @returns SVG; null where no note has a place in the motion
 */
export function shotPicture(version: JudgedVersion, fingerprint: string | null): string | null {
  const { notes } = version;
  const meant = notes.find((note) => note.fingerprint === fingerprint);
  for (const { note } of meant === undefined ? notes : [meant, ...notes]) {
    const drawn = notePictures(version, { note }, null);
    if (drawn !== null) return (drawn.poses ?? drawn.path).svg;
  }
  return null;
}
