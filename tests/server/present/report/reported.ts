import type { ReportedNote, ReportedShot } from "../../../../packages/core/notes/report-schema.ts";
import type { ReportSummary, ReportWriter } from "../../../../packages/server/judge/archive/report-writer.ts";

/** Invented notes and shots, as writers are handed them. */
export function reportedNote(change: Partial<ReportedNote> = {}): ReportedNote {
  return {
    check: "hard-stop",
    tier: "major",
    weight: 0.72,
    figure: "courier",
    node: "hand_l",
    part: "left hand",
    frames: [40, 44],
    keys: [
      { node: "hand_l", channel: "rotation.z", frame: 40, line: 12, column: 9 },
      { node: "hand_l", channel: "rotation.x", frame: 41, line: 18, column: 9 },
    ],
    message: "left hand stops in 1 frame",
    measured: { quantity: "frames from speed to rest", value: 1, unit: "frames" },
    expected: { min: 4, unit: "frames", source: "common practice" },
    why: "Nothing with weight stops at once.",
    suggestion: "let it settle over 4 frames",
    fingerprint: "00112233aabbccdd",
    ...change,
  };
}

export const brokenNote: ReportedNote = {
  ...reportedNote(),
  check: "missing-parent",
  tier: "broken",
  weight: 1,
  figure: null,
  node: null,
  part: "the document",
  frames: null,
  keys: [],
  message: 'The parent "hip" is not there.',
  measured: null,
  expected: null,
  fingerprint: "ffee000011112222",
  place: { line: 3, column: 5 },
};

export function reportedShot(change: Partial<ReportedShot> = {}): ReportedShot {
  return {
    file: "show/jetty_0040.curves.json",
    name: "jetty_0040",
    frameRate: 24,
    range: [1, 96],
    figures: ["courier"],
    inferred: [],
    notes: [],
    failing: false,
    failOn: "major",
    ...change,
  };
}

/** Text that every format has to write so that it is read as text. */
export const nasty = "<b onclick=\"x()\">&amp; ]]> 'q' \u0007 \ud800 \u2028 </script><!-- ünïcödé 人 🙂";

/** Hands shots over as a run does. */
export function written(
  writer: ReportWriter,
  shots: readonly ReportedShot[],
  change: Partial<ReportSummary> & { readonly errorFiles?: readonly string[] } = {},
): string {
  const { errorFiles = [], ...summary } = change;
  let text = writer.begin({ version: "1.2.3", shard: null });
  for (const shot of shots) text += writer.shot(shot);
  for (const file of errorFiles) text += writer.error({ file, message: "There is no such file or folder." });
  const notes = shots.reduce((sum, shot) => sum + shot.notes.length, 0);
  const failures = shots.reduce((sum, shot) => sum + (shot.failures?.length ?? 0), 0);
  const counts = { shots: shots.length, notes, errors: errorFiles.length, failures };
  text += writer.end({ ...counts, stopped: null, ...summary });
  return text;
}
