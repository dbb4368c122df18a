import {
  bringsNew,
  type Comparison,
  compareNotes,
  type NoteChange,
  type NotePair,
  type Tier,
} from "@keyside/core";
import {
  type MotionElsewhere,
  motionElsewhere,
  type ReportedComparison,
  type ShotHistory,
} from "@keyside/core/internal";
import { version } from "../../base/version.ts";
import type { JudgedVersion, VersionNote } from "../../judge/shots/judged-version.ts";
import { measuredText } from "../text/measured.ts";
import { shotHistoryOf } from "./shot-history.ts";

/** Two versions of a shot and what became of the notes. */
export interface ComparedVersions {
  readonly before: JudgedVersion;
  readonly after: JudgedVersion;
  readonly comparison: Comparison<VersionNote>;
  /** What moved where no note is fixed or changed; null where nothing did. */
  readonly elsewhere: MotionElsewhere | null;
  /** What became of people's remarks and of target paths. */
  readonly people: ShotHistory["rows"];
}

/** Compares two judged versions. */
export function compareVersions(before: JudgedVersion, after: JudgedVersion): ComparedVersions {
  const side = ({ loaded, notes, waived }: JudgedVersion) => ({ shot: loaded.shot, notes, waived });
  const comparison = compareNotes(side(before), side(after));
  const worked = [...comparison.fixed, ...comparison.changed.map((change) => change.before)];
  const spans = worked.flatMap(({ frames }) => (frames === null ? [] : [frames]));
  const elsewhere = motionElsewhere(before.study, after.study, comparison.times.shot, spans);
  // Most shots have no review, and need not be followed twice.
  const isReviewed = [before, after].some(({ loaded }) => loaded.review != null);
  const people = isReviewed ? shotHistoryOf([before, after]).rows.filter(({ kind }) => kind !== "note") : [];
  return { before, after, comparison, elsewhere, people };
}

/** What the change did to motion that no note was about: "Cleared; motion elsewhere changed by 4.2 cm: left hand, frame 88." */
export function elsewhereText({ comparison, elsewhere }: ComparedVersions): string | null {
  const cleared = comparison.fixed.length > 0;
  if (elsewhere === null) return cleared ? "Cleared; no motion elsewhere changed." : null;
  const { part, frame, metres } = elsewhere;
  const what = `otion elsewhere changed by ${measuredText(metres, "m")}: ${part}, frame ${frameText(frame)}.`;
  return cleared ? `Cleared; m${what}` : `M${what}`;
}

/** A comparison as other systems read it; its schema is `comparisonSchema`. */
export function reportComparison(compared: ComparedVersions, failOn: Tier): ReportedComparison {
  const { before, after, comparison, elsewhere, people } = compared;
  const pair = ({ before: was, after: is, by }: NotePair<VersionNote>) => ({
    before: was.reported,
    after: is.reported,
    knownBy: by,
  });
  return {
    tool: { name: "keyside", version },
    before: versionHead(before),
    after: versionHead(after),
    times: comparison.times.shot.knots.map(([from, to]) => [from, to]),
    fixed: comparison.fixed.map(({ reported }) => reported),
    changed: comparison.changed.map((change) => ({
      ...pair(change),
      verdict: change.verdict,
      fixedShare: change.fixedShare,
    })),
    still: comparison.still.map(pair),
    new: comparison.added.map(({ reported }) => reported),
    waived: comparison.waived.map((sides) => ({
      before: sides.before?.reported ?? null,
      after: sides.after?.reported ?? null,
    })),
    ...(people.length === 0 ? {} : { people }),
    elsewhere: elsewhere === null ? null : { ...elsewhere },
    failOn,
    failing: bringsNew(comparison, failOn),
  };
}

function versionHead({ loaded, report, notes }: JudgedVersion): ReportedComparison["before"] {
  return {
    file: report.file,
    name: report.name,
    revision: loaded.shot.header.shot.revision ?? null,
    frameRate: report.frameRate,
    range: report.range,
    notes: notes.length,
  };
}

/** "6 fixed, 2 changed (1 better, 1 worse), 1 still there, 1 new"; waived ones are named where there are any. */
export function countsText({ fixed, changed, still, added, waived }: Comparison<VersionNote>): string {
  const worse = changed.filter(({ verdict }) => verdict === "worse").length;
  const better = changed.length - worse;
  const how = [better > 0 ? `${better} better` : "", worse > 0 ? `${worse} worse` : ""].filter(Boolean);
  const parts = [
    `${fixed.length} fixed`,
    `${changed.length} changed${how.length > 0 ? ` (${how.join(", ")})` : ""}`,
    `${still.length} still there`,
    `${added.length} new`,
  ];
  if (waived.length > 0) parts.push(`${waived.length} waived`);
  return parts.join(", ");
}

/** How a note changed, in words: "better: deviation from the path 4.1 cm, was 7.2 cm (limit 8 mm)". */
export function changeText({ before, after, verdict, fixedShare }: NoteChange<VersionNote>): string {
  const tier = before.tier === after.tier ? "" : `${after.tier}, was ${before.tier}`;
  const [was, is] = [before.measured, after.measured];
  const share = fixedShare === null ? "" : ` by ${Math.round(Math.abs(fixedShare) * 100)} %`;
  if (fixedShare === null || was === null || is === null || was.unit !== is.unit) {
    const weight = `weight ${after.weight.toFixed(2)}, was ${before.weight.toFixed(2)}`;
    return `${verdict}${share}: ${[tier, weight].filter(Boolean).join("; ")}`;
  }
  const limit = after.expected?.max ?? after.expected?.min;
  const limited = limit === undefined ? "" : ` (limit ${measuredText(limit, is.unit)})`;
  const numbers = `${is.quantity} ${measuredText(is.value, is.unit)}, was ${measuredText(was.value, was.unit)}${limited}`;
  return `${verdict}${share}: ${[numbers, tier].filter(Boolean).join("; ")}`;
}

/** How the newer version's time runs against the older one's, in words; one sentence each. */
export function timeText({ times }: Comparison<VersionNote>): string[] {
  const { knots } = times.shot;
  if (knots.length === 0) return ["No key is in both versions, so notes were compared by their frames."];
  const sentences: string[] = [];
  const shift = frameText(knots[0][1] - knots[0][0]);
  if (shift !== "0") {
    const [way, count] = shift.startsWith("-") ? ["earlier", shift.slice(1)] : ["later", shift];
    sentences.push(`The newer version starts ${count} ${count === "1" ? "frame" : "frames"} ${way}.`);
  }
  for (let n = 1; n < knots.length; n++) {
    const [from, to] = [knots[n - 1], knots[n]];
    const [was, is] = [frameText(to[0] - from[0]), frameText(to[1] - from[1])];
    if (was === is) continue;
    sentences.push(
      `Frames ${frameText(from[0])} to ${frameText(to[0])} take ${is} frames in the newer version, were ${was}.`,
    );
  }
  const shown = 4;
  const more = sentences.length - shown;
  return more > 0 ? [...sentences.slice(0, shown), `And ${more} more changes of timing.`] : sentences;
}

function frameText(frames: number): string {
  return String(Math.round(frames * 100) / 100 + 0);
}
