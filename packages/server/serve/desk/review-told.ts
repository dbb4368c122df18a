import type { FeedNote } from "@keyside/adapters";
import {
  type Decision,
  decisionAbout,
  nodeOfRemark,
  type Remark,
  type ReviewFile,
  reviewMisfits,
  rigOf,
  type Stroke,
  type Study,
  stateOfRemark,
} from "@keyside/core";
import { partHeading } from "@keyside/core/internal";
import type { DeskDecision, DeskRemark, DeskReview, DeskStroke } from "@keyside/desk/link";

/** What the pages are told of a review. */
export interface ReviewSources {
  readonly review: ReviewFile;
  /** The review of the version before; null for none. */
  readonly previous: ReviewFile | null;
  /** What the shot is called. */
  readonly name: string;
  /** Name of the shot's file, without a folder: remarks for another are those of a version before. */
  readonly file: string;
  /** The review file as it is named to people. */
  readonly shown: string;
  readonly problems: readonly string[];
  readonly reviewer: string;
}

/**
 * A review as the pages know it.
 * @param notes the computed notes that are decided about
 */
export function deskReview(sources: ReviewSources, study: Study, notes: readonly FeedNote[]): DeskReview {
  const { review, previous, file, name, shown, problems, reviewer } = sources;
  const marks = [...(previous?.marks ?? []), ...review.marks];
  const own = new Set(review.remarks.map(({ id }) => id));
  const before = (previous?.remarks ?? []).filter(
    // What was done before is no matter of this version; what was marked here stays in sight.
    (remark) =>
      !own.has(remark.id) &&
      (stateOfRemark(remark, previous?.marks ?? []).state !== "done" ||
        review.marks.some(({ of }) => of === remark.id)),
  );
  const misfits = [review, previous].flatMap((one) => (one === null ? [] : reviewMisfits(study, one, name)));
  const troubleOf = (id: string | null) =>
    misfits.flatMap((misfit) => (misfit.id === id ? misfit.message : [])).join(" ");
  const told = (remark: Remark, isBefore: boolean) =>
    deskRemark(remark, study, {
      trouble: troubleOf(remark.id),
      isDone: stateOfRemark(remark, marks).state === "done",
      isOfBefore: isBefore || (remark.version?.file !== undefined && remark.version.file !== file),
    });
  const remarks = [
    ...before.map((remark) => told(remark, true)),
    ...[...review.remarks].sort(byTime).map((remark) => told(remark, false)),
  ];
  const decided = notes.flatMap((note) => {
    const decision = decisionAbout(review, note);
    return decision === null ? [] : [{ fingerprint: note.fingerprint, decision }];
  });
  return {
    file: shown,
    reviewer,
    remarks,
    decisions: decided.map(({ fingerprint, decision }) => deskDecision(fingerprint, decision)),
    order: orderOf(review.remarks, decided),
    problems: [...problems, ...misfits.flatMap(({ id, message }) => (id === null ? [message] : []))],
  };
}

/** Ids of remarks and fingerprints of notes that have a rank, the smallest first. */
function orderOf(
  remarks: readonly Remark[],
  decided: readonly { readonly fingerprint: string; readonly decision: Decision }[],
): readonly string[] {
  const ranked = [
    ...remarks.map(({ id, rank }) => ({ id, rank })),
    ...decided.map(({ fingerprint, decision }) => ({ id: fingerprint, rank: decision.rank })),
  ].filter((one): one is { id: string; rank: number } => one.rank !== undefined);
  return ranked.sort((a, b) => a.rank - b.rank).map(({ id }) => id);
}

function byTime(a: Remark, b: Remark): number {
  return Date.parse(a.date) - Date.parse(b.date) || (a.id < b.id ? -1 : 1);
}

function deskDecision(fingerprint: string, { verdict, text, weight, by }: Decision): DeskDecision {
  return { fingerprint, isKept: verdict === "kept", text: text ?? null, weight: weight ?? null, by };
}

function deskRemark(
  remark: Remark,
  study: Study,
  { isDone, isOfBefore, trouble }: Pick<DeskRemark, "isDone" | "isOfBefore" | "trouble">,
): DeskRemark {
  const { id, text, weight, by, date, frames, version, strokes = [] } = remark;
  const node = nodeOfRemark(study, remark);
  const index = node === null ? undefined : rigOf(study).indexOf.get(node);
  return {
    ...{ id, text, weight, by, date, node, isDone, isOfBefore },
    frames: frames === undefined ? null : [frames[0], frames[1]],
    part: index === undefined ? (remark.node ?? "") : partHeading(study, index),
    version: versionText(version),
    strokes: strokes.map((stroke) => deskStroke(stroke, remark)),
    trouble,
  };
}

function deskStroke({ points, plane, frames, frame, target }: Stroke, remark: Remark): DeskStroke {
  const [from, to] = target?.frames ?? frames ?? remark.frames ?? [frame, frame];
  const [x, y, z] = plane?.normal ?? [0, 0, 1];
  return {
    line: points.flat(),
    facing: [0 - x, 0 - y, 0 - z],
    frames: [from, to],
    target: target?.node ?? null,
  };
}

function versionText(version: Remark["version"]): string {
  const { file, revision } = version ?? {};
  return [file, revision === undefined ? null : `revision ${revision}`].filter(Boolean).join(", ");
}
