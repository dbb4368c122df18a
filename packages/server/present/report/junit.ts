import type { ReportedFailure, ReportedNote, ReportedShot } from "@keyside/core";
import type { ReportWriter } from "../../judge/archive/report-writer.ts";
import { stoppedText } from "../text/endings.ts";
import { failureText } from "../text/failure.ts";
import { framesOf } from "../text/frames-of.ts";
import { placeOf } from "../text/place-of.ts";
import { isShown } from "../text/shown.ts";
import { type WaivedNote, waivedIn } from "../text/waived.ts";
import type { WriterOptions } from "./writer-options.ts";
import { xmlAttributes, xmlText } from "./xml.ts";

/**
 * The report as JUnit XML, as build servers read it. There is no one standard: this keeps to elements and attributes
 * that all readers share. A shot is a test suite and a note a test case, which fails where the note stands at or above
 * the tier that fails; lighter notes pass and say so in their output; what could not be judged, and a check that failed, is an error.
 */
export function junitWriter({ lightest }: Pick<WriterOptions, "lightest">): ReportWriter {
  return {
    begin: ({ version }) =>
      `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites${xmlAttributes({ name: `Keyside ${version}` })}>\n`,
    shot(shot) {
      const failOn = shot.failOn ?? "major";
      const notes = shot.notes.filter(({ tier }) => isShown(tier, lightest));
      const cases = notes.map((note) => noteCase(shot, note, isShown(note.tier, failOn)));
      const waived = waivedIn(shot).map((note) => waivedCase(shot, note));
      const failed = (shot.failures ?? []).map((failure) => failedCase(shot, failure));
      if (cases.length + failed.length === 0) cases.push(testCase(shot.name, "no notes", shot.file, ""));
      const failures = notes.filter(({ tier }) => isShown(tier, failOn)).length;
      return suite(shot.file, [...cases, ...failed, ...waived], {
        failures,
        errors: failed.length,
        skipped: waived.length,
      });
    },
    error: ({ file, message }) =>
      suite(
        file,
        [testCase(file, "can be judged", file, `<error${xmlAttributes({ type: "unreadable", message })}/>`)],
        { failures: 0, errors: 1, skipped: 0 },
      ),
    end({ stopped }) {
      if (stopped === null) return "</testsuites>\n";
      const error = `<error${xmlAttributes({ type: "stopped", message: stoppedText(stopped) })}/>`;
      const cases = [testCase("keyside", "comes to its end", undefined, error)];
      return `${suite("keyside", cases, { failures: 0, errors: 1, skipped: 0 })}</testsuites>\n`;
    },
  };
}

interface Counts {
  readonly failures: number;
  readonly errors: number;
  readonly skipped: number;
}

function suite(name: string, cases: readonly string[], { failures, errors, skipped }: Counts): string {
  const attributes = xmlAttributes({ name, tests: cases.length, failures, errors, skipped, time: 0 });
  return `  <testsuite${attributes}>\n${cases.join("")}  </testsuite>\n`;
}

function testCase(
  classname: string,
  name: string,
  file: string | undefined,
  inside: string,
  line?: number,
): string {
  const attributes = xmlAttributes({ classname, name, file, line, time: 0 });
  return inside === ""
    ? `    <testcase${attributes}/>\n`
    : `    <testcase${attributes}>\n      ${inside}\n    </testcase>\n`;
}

function noteCase(shot: ReportedShot, note: ReportedNote, fails: boolean): string {
  const text = xmlText(detailOf(note));
  const inside = fails
    ? `<failure${xmlAttributes({ type: note.tier, message: note.message })}>${text}</failure>`
    : `<system-out>${text}</system-out>`;
  return testCase(`${shot.name}.${note.check}`, titleOf(note), shot.file, inside, placeOf(note)?.line);
}

function failedCase(shot: ReportedShot, failure: ReportedFailure): string {
  const inside = `<error${xmlAttributes({ type: "check failed", message: failureText(failure) })}/>`;
  return testCase(`${shot.name}.${failure.check}`, "can be run", shot.file, inside);
}

function waivedCase(shot: ReportedShot, note: WaivedNote): string {
  const by = note.waiver.by === undefined ? "waived" : `waived by ${note.waiver.by}`;
  const inside = `<skipped${xmlAttributes({ message: `${by}: ${note.waiver.reason}` })}/>`;
  return testCase(`${shot.name}.${note.check}`, titleOf(note), shot.file, inside, placeOf(note)?.line);
}

/** Part, frames and fingerprint: two notes never share a name, and a note keeps its own as long as it stays. */
function titleOf(note: ReportedNote): string {
  return `${note.part}${framesOf(note)} [${note.fingerprint}]`;
}

function detailOf(note: ReportedNote): string {
  const place = placeOf(note);
  const at = place === null ? "" : `\nat ${place.line}:${place.column}`;
  return `${note.tier}: ${note.message}\nwhy: ${note.why}\nfix: ${note.suggestion}${at}`;
}
