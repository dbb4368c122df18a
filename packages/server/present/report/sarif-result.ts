import type { ReportedNote, ReportedShot } from "@keyside/core";
import { placeOf } from "../text/place-of.ts";
import { uriReference } from "../text/uri.ts";
import type { WaivedNote } from "../text/waived.ts";
import { levels, type Rules } from "./sarif-rules.ts";

export interface ResultContext {
  readonly shot: ReportedShot;
  /** Index of the shot's file among the run's artifacts; undefined where it is not listed. */
  readonly index: number | undefined;
  readonly rules: Rules;
}

/** A note as a SARIF result; with a suppression where a waiver answers it. */
export function resultOf(note: ReportedNote | WaivedNote, { shot, index, rules }: ResultContext): object {
  const location = (place: { readonly line: number; readonly column: number } | null) => ({
    artifactLocation: { uri: uriReference(shot.file), ...(index === undefined ? {} : { index }) },
    ...(place === null ? {} : { region: { startLine: place.line, startColumn: place.column } }),
  });
  const others = note.keys.slice(note.place === undefined ? 1 : 0);
  return {
    ruleId: note.check,
    ruleIndex: rules.indexOf(note),
    kind: "fail",
    level: levels[note.tier],
    message: { text: sentences(note) },
    locations: [
      {
        physicalLocation: location(placeOf(note)),
        logicalLocations: [{ fullyQualifiedName: logicalName(shot, note) }],
      },
    ],
    ...(others.length === 0
      ? {}
      : {
          relatedLocations: others.map((key, id) => ({
            id: id + 1,
            physicalLocation: location(
              key.line === null || key.column === null ? null : { line: key.line, column: key.column },
            ),
            message: { text: `${key.channel} key at frame ${key.frame} of ${key.node}` },
          })),
        }),
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
      ...(note.measured === null ? {} : { measured: note.measured }),
      ...(note.expected === null ? {} : { expected: note.expected }),
    },
  };
}

function sentences({ message, suggestion }: ReportedNote): string {
  return `${ended(message)} To fix it: ${ended(suggestion)}`;
}

function ended(text: string): string {
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

function logicalName(shot: ReportedShot, { figure, node, keys }: ReportedNote): string {
  const channel = keys[0]?.channel;
  return [shot.name, figure, node, channel].filter((part) => part != null).join("/");
}
