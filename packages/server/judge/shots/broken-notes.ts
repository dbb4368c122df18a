import { type Curve, curveName, type Problem, placeAt, type ReportedNote, type Shot } from "@keyside/core";
import { fingerprintOf, mildProblems, shortMessage } from "@keyside/core/internal";
import type { LoadedShot } from "./load.ts";

/**
 * What is wrong in a document, as notes with the key where it stands at one: of the tier `broken`, or `polish` where
 * nothing is lost by it.
 */
export function brokenNotes(loaded: LoadedShot): Omit<ReportedNote, "part">[] {
  const seen = new Map<string, number>();
  return loaded.problems.map((problem) => {
    const note = brokenNote(loaded, problem);
    const count = (seen.get(note.fingerprint) ?? 0) + 1;
    seen.set(note.fingerprint, count);
    return count === 1 ? note : { ...note, fingerprint: fingerprintOf([note.fingerprint, count]) };
  });
}

function brokenNote({ lineStarts, text, shot }: LoadedShot, problem: Problem): Omit<ReportedNote, "part"> {
  const place = placeAt(lineStarts, problem.start);
  const end = placeAt(lineStarts, Math.max(problem.start, problem.end));
  const ending = { endLine: end.line, endColumn: end.column };
  const curve = curveAround(shot, problem);
  const frame = curve === null ? null : frameAt(text, problem);
  const node = curve?.node ?? nodeOf(shot, problem);
  const isMild = mildProblems.has(problem.code);
  return {
    check: problem.code,
    tier: isMild ? "polish" : "broken",
    weight: isMild ? 0.05 : 1,
    figure: null,
    node,
    frames: frame === null ? null : [frame, frame],
    keys:
      curve === null || frame === null
        ? []
        : [
            {
              node: curve.node,
              channel: curve.channel,
              frame,
              line: place.line,
              column: place.column,
              ...ending,
            },
          ],
    message: problem.message,
    measured: null,
    expected: null,
    why: isMild
      ? "What is not part of the format is kept in the file, but nothing reads it."
      : "The document contradicts itself here, so nothing can be judged at this place.",
    suggestion: `Fix ${problem.path === "" ? "the document" : shortMessage(problem.path)} at line ${place.line}, column ${place.column}.`,
    fingerprint: fingerprintOf([
      problem.code,
      curve === null ? problem.path : curveName(curve.node, curve.channel),
      frame ?? "",
    ]),
    place: { line: place.line, column: place.column, ...ending },
  };
}

function curveAround(shot: Shot, { start, path }: Problem): Curve | null {
  if (!path.startsWith("curves/")) return null;
  return shot.curves.find(({ place }) => place !== null && place.start <= start && start < place.end) ?? null;
}

/** The frame of the key at which a problem stands, read from its own text; null where it stands at no key. */
function frameAt(text: string, { start, end }: Problem): number | null {
  const match = /^\[\s*(-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?)\s*,/.exec(
    text.slice(start, Math.min(end, start + 80)),
  );
  const frame = match === null ? Number.NaN : Number(match[1]);
  return Number.isFinite(frame) ? frame : null;
}

function nodeOf(shot: Shot, { path }: Problem): string | null {
  const match = /^nodes\/(\d+)/.exec(path);
  return match === null ? null : (shot.header.nodes[Number(match[1])]?.id ?? null);
}
