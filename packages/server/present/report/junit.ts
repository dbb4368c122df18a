import type { ReportedFailure, ReportedNote, ReportedRemark, ReportedShot } from "@keyside/core";
import type { ReportWriter } from "../../judge/archive/report-writer.ts";
import { stoppedText } from "../text/endings.ts";
import { failureText } from "../text/failure.ts";
import { framesOf } from "../text/frames-of.ts";
import { placeOf } from "../text/place-of.ts";
import { alsoTexts } from "../text/rank.ts";
import { listedItems, type ReviewedNote, remarkDetails, remarkSource } from "../text/review.ts";
import { isShown } from "../text/shown.ts";
import { type WaivedNote, waivedIn } from "../text/waived.ts";
import type { WriterOptions } from "./writer-options.ts";
import { xmlAttributes, xmlText } from "./xml.ts";

/**
 * The report as JUnit XML, as build servers read it. There is no one standard: this keeps to what the published schema
 * junit-4.xsd allows, which later ones allow too. So a case has neither a file nor a line of its own: the file is in its
 * class, by which two versions of a shot are two, and the line in its text. A shot is a test suite and a note a test case, which fails where the note stands at or above
 * the tier that fails; lighter notes pass and say so in their output; what could not be judged, and a check that failed, is an error.
 */
export function junitWriter({ lightest }: Pick<WriterOptions, "lightest">): ReportWriter {
  return {
    begin: ({ version }) =>
      `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites${xmlAttributes({ name: `Keyside ${version}` })}>\n`,
    shot(shot) {
      const failOn = shot.failOn ?? "major";
      const notes = shot.notes.filter(({ tier }) => isShown(tier, lightest));
      const cases = listedItems(shot, notes).map((item) =>
        item.kind === "remark"
          ? remarkCase(shot, item.remark)
          : noteCase(shot, item.note, item.said, isShown(item.note.tier, failOn)),
      );
      const waived = waivedIn(shot).map((note) => waivedCase(shot, note));
      const failed = (shot.failures ?? []).map((failure) => failedCase(shot, failure));
      if (cases.length + failed.length === 0) cases.push(testCase(shot.file, "no notes", ""));
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
        [testCase(file, "can be judged", `<error${xmlAttributes({ type: "unreadable", message })}/>`)],
        { failures: 0, errors: 1, skipped: 0 },
      ),
    end({ stopped }) {
      if (stopped === null) return "</testsuites>\n";
      const error = `<error${xmlAttributes({ type: "stopped", message: stoppedText(stopped) })}/>`;
      const cases = [testCase("keyside", "comes to its end", error)];
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

function testCase(classname: string, name: string, inside: string): string {
  const attributes = xmlAttributes({ classname, name, time: 0 });
  return inside === ""
    ? `    <testcase${attributes}/>\n`
    : `    <testcase${attributes}>\n      ${inside}\n    </testcase>\n`;
}

/** People's remarks fail nothing: a case that passes and says in its output what is said. */
function remarkCase(shot: ReportedShot, remark: ReportedRemark): string {
  const { weight, text, id, part } = remark;
  const lines = [`${weight}: ${text}`, `by ${remarkSource(remark)}`, ...remarkDetails(remark)];
  return testCase(
    classOf(shot, { check: "remark" }),
    `${part}${framesOf(remark)} [${id}]`,
    `<system-out>${xmlText(lines.join("\n"))}</system-out>`,
  );
}

function noteCase(shot: ReportedShot, note: ReportedNote, said: ReviewedNote | null, fails: boolean): string {
  const words = said === null || said.text === null ? [] : [`${said.by}: ${said.text}`];
  const weighed = said?.isWeighed === true ? [`${said.by} says: ${said.weight}`] : [];
  const text = xmlText([...words, ...weighed, detailOf(shot, note)].join("\n"));
  const inside = fails
    ? `<failure${xmlAttributes({ type: note.tier, message: note.message })}>${text}</failure>`
    : `<system-out>${text}</system-out>`;
  return testCase(classOf(shot, note), titleOf(note), inside);
}

function failedCase(shot: ReportedShot, failure: ReportedFailure): string {
  const inside = `<error${xmlAttributes({ type: "check failed", message: failureText(failure) })}/>`;
  return testCase(classOf(shot, failure), "can be run", inside);
}

function waivedCase(shot: ReportedShot, note: WaivedNote): string {
  const by = note.waiver.by === undefined ? "waived" : `waived by ${note.waiver.by}`;
  const inside = `<skipped>${xmlText(`${by}: ${note.waiver.reason}`)}</skipped>`;
  return testCase(classOf(shot, note), titleOf(note), inside);
}

/** Readers take what stands behind the last dot for the class, and what stands before it for its package. */
function classOf({ file }: ReportedShot, { check }: { readonly check: string }): string {
  return `${file}.${check}`;
}

/** Part, frames and fingerprint: two notes never share a name, and a note keeps its own as long as it stays. */
function titleOf(note: ReportedNote): string {
  return `${note.part}${framesOf(note)} [${note.fingerprint}]`;
}

function detailOf({ file }: ReportedShot, note: ReportedNote): string {
  const { tier, message, why, suggestion } = note;
  const place = placeOf(note);
  const lines = [`${tier}: ${message}`, `why: ${why}`, `fix: ${suggestion}`];
  lines.push(...alsoTexts(note).map((other) => `with: ${other}`));
  if (place !== null) lines.push(`at ${file}:${place.line}:${place.column}`);
  return lines.join("\n");
}
