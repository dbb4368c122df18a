import type { ReportedNote, ReportedPlace, ReportedShot } from "@keyside/core";
import { placeOf } from "../text/place-of.ts";
import { alsoTexts } from "../text/rank.ts";
import type { ReviewedNote } from "../text/review.ts";
import { uriReference } from "../text/uri.ts";
import type { WaivedNote } from "../text/waived.ts";
import { levels, type Rules } from "./sarif-rules.ts";

export interface ResultContext {
  readonly shot: ReportedShot;
  /** Index of the shot's file among the run's artifacts; undefined where it is not listed. */
  readonly index: number | undefined;
  readonly rules: Rules;
}

/**
 * A note as a SARIF result; with a suppression where a waiver answers it.
 * @param said what a reviewer made of it
 */
export function resultOf(
  note: ReportedNote | WaivedNote,
  { shot, index, rules }: ResultContext,
  said: ReviewedNote | null = null,
): object {
  const artifactLocation = { uri: uriReference(shot.file), ...(index === undefined ? {} : { index }) };
  const location = (place: ReportedPlace | null) => ({ artifactLocation, region: regionOf(place) });
  const place = placeOf(note);
  const atKey = note.place === undefined;
  const keys = note.keys.slice(atKey ? 1 : 0).map((key) => ({
    physicalLocation: location(placeOf({ keys: [key] })),
    message: { text: `${key.channel} key at frame ${key.frame} of ${key.node}` },
  }));
  const also = (note.also ?? []).map((other) => ({
    physicalLocation: location(other.place ?? place),
    logicalLocations: [{ fullyQualifiedName: logicalName(shot, other) }],
    message: { text: ended(other.message) },
    properties: { ruleId: other.check, tier: other.tier, frames: other.frames },
  }));
  const related = [...keys, ...also].map((one, at) => ({ id: at + 1, ...one }));
  return {
    ruleId: note.check,
    ruleIndex: rules.indexOf(note),
    kind: "fail",
    level: levels[note.tier],
    message: { text: `${wordsOf(said)}${sentences(note, keys.length + 1)}` },
    locations: [
      {
        physicalLocation: location(place),
        logicalLocations: [{ fullyQualifiedName: logicalName(shot, note, note.keys[0]?.channel) }],
      },
    ],
    ...(related.length === 0 ? {} : { relatedLocations: related }),
    ...(note.fix === undefined ? {} : { fixes: [fixOf(note.fix, artifactLocation)] }),
    partialFingerprints: { "keysideNote/v1": `${shot.name}:${note.fingerprint}` },
    // A baseline leaves out what it knows, so that whatever is told is new.
    ...(shot.known === undefined ? {} : { baselineState: "new" }),
    ...("waiver" in note ? { suppressions: [suppressionOf(note)] } : {}),
    rank: Math.round(note.weight * 1000) / 10,
    properties: {
      tier: note.tier,
      part: note.part,
      frames: note.frames,
      ...(note.figure === null ? {} : { figure: note.figure }),
      ...(said === null || said.by === null ? {} : { review: reviewedAs(said) }),
      ...(note.measured === null ? {} : { measured: note.measured }),
      ...(note.expected === null ? {} : { expected: note.expected }),
    },
  };
}

/** A reviewer's words stand before what was computed. */
function wordsOf(said: ReviewedNote | null): string {
  return said === null || said.text === null ? "" : `${said.by}: ${inMessage(ended(said.text))} `;
}

function reviewedAs({ by, text, weight }: ReviewedNote): object {
  return { by, weight, ...(text === null ? {} : { text }) };
}

/** Text as a message holds it: there, what stands in brackets leads to a related location. */
export function inMessage(text: string): string {
  return text.replace(/[[\]\\]/g, "\\$&");
}

/** Where a place has no text, the file as a whole is meant: systems that annotate files show that at its first line. */
function regionOf(place: ReportedPlace | null): object {
  if (place === null) return { startLine: 1 };
  const { line, column, endLine, endColumn } = place;
  return {
    ...{ startLine: line, startColumn: column },
    ...(endLine === undefined || endColumn === undefined ? {} : { endLine, endColumn }),
  };
}

function fixOf({ title, replacements }: NonNullable<ReportedNote["fix"]>, artifactLocation: object): object {
  return {
    // A title may begin with a node's name, which keeps its letters.
    description: { text: `Fix: ${title}.` },
    artifactChanges: [
      {
        artifactLocation,
        replacements: replacements.map(({ text, ...place }) => ({
          deletedRegion: regionOf(place),
          insertedContent: { text },
        })),
      },
    ],
  };
}

/** More of what a note speaks for is not named in its sentences; all of it stands among the related locations. */
const othersNamed = 5;

/**
 * What a note says, for a reader who sees nothing else of it. What it speaks for is named with links to the related
 * locations (SARIF 2.1.0, 3.11.6): systems show those locations that the message leads to.
 * @param firstOther id of the related location of the first of them
 */
function sentences(note: ReportedNote, firstOther: number): string {
  const { message, suggestion } = note;
  const others = alsoTexts(note);
  const named = others.slice(0, othersNamed).map((text, at) => `[${inMessage(text)}](${firstOther + at})`);
  const more = others.length > named.length ? ` and ${others.length - named.length} more` : "";
  const told = others.length === 0 ? "" : ` Told with it: ${named.join("; ")}${more}.`;
  return `${ended(message)} To fix it: ${ended(suggestion)}${told}`;
}

/** A sentence: with a capital, and with its end. */
export function ended(text: string): string {
  const capital = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(capital) ? capital : `${capital}.`;
}

function suppressionOf({ waiver }: WaivedNote): object {
  return {
    kind: waiver.inDocument ? "inSource" : "external",
    status: "accepted",
    justification: waiver.by === undefined ? waiver.reason : `${waiver.reason} (${waiver.by})`,
  };
}

/** Where in a shot something stands: shot, figure, node and channel. */
export function logicalName(
  shot: ReportedShot,
  { figure, node }: Pick<ReportedNote, "figure" | "node">,
  channel?: string,
): string {
  return [shot.name, figure, node, channel].filter((part) => part != null).join("/");
}
