import type { Study } from "../base/study.ts";
import { type Comparison, compareNotes, type Version } from "../notes/compare.ts";
import type { Comparable } from "../notes/compare-match.ts";
import { timesBetween } from "../notes/compare-times.ts";
import type { FollowedState } from "../notes/followed-schema.ts";
import { figureOfNode, statureOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { stateOfRemark } from "./drops.ts";
import { mergeReviews } from "./merge.ts";
import { motionHashOf } from "./motion-hash.ts";
import {
  emptyReview,
  type Mark,
  type Remark,
  type ReviewFile,
  type ReviewVersion,
  type Stroke,
} from "./schema.ts";
import { type TargetFit, targetFitOf } from "./target.ts";

/** A version of a shot, judged, with the review that stands beside it. */
export interface FollowedVersion<N extends Comparable> extends Version<N> {
  readonly study: Study;
  /** Name of its file, without a folder. */
  readonly file: string;
  /** null where there is none. */
  readonly review: ReviewFile | null;
}

/** What is said of it in one version. */
export interface FollowedCell<N> {
  readonly state: FollowedState;
  /** The note in this version, where it is there. */
  readonly note?: N;
  /** How the path runs there. */
  readonly fit?: TargetFit;
}

/** A note, a remark or a target path over the versions. */
export interface Followed<N> {
  readonly kind: "note" | "remark" | "target";
  /** The note as it was seen last; absent for what people say. */
  readonly note?: N;
  readonly remark?: Remark;
  readonly stroke?: Stroke;
  /** One for each version; null before it was made, and for a note that has gone. */
  readonly cells: readonly (FollowedCell<N> | null)[];
  /** Index of the version in which it was first. */
  readonly opened: number;
  /** Index of the version from which it is closed; null while it is not, and for praise. */
  readonly closed: number | null;
}

/** Part of the stature by which a path may lie off its target in the mean, and at most, and be on it. Our choice: a line
 * that is drawn by hand over a figure is no finer than a hand's breadth of it. */
const metMean = 0.02;
const metMost = 0.05;

/**
 * Follows computed notes, people's remarks and target paths over the versions of a shot, from the one in which each was
 * first to the one in which it was closed: notes by what is measured, remarks by what people decide, target paths by
 * their distance. A target's frames are carried to later versions as far as the keys tell how they were re-timed.
 * @param versions at least one, the oldest first; all judged by the same settings
 * @returns remarks and target paths first, then notes, in the order in which they came up
 */
export function followVersions<N extends Comparable>(
  versions: readonly FollowedVersion<N>[],
): readonly Followed<N>[] {
  const review = versions.reduce(
    (merged, version) =>
      version.review === null ? merged : mergeReviews(null, merged, version.review).review,
    emptyReview(),
  );
  const hashes = versions.map(({ shot }) => motionHashOf(shot));
  const indexOf = (meant: ReviewVersion | undefined) => indexOfVersion(versions, hashes, meant);
  const said = review.remarks.flatMap((remark) => followRemark(versions, remark, review.marks, indexOf));
  return [...said, ...followNotes(versions)];
}

function followNotes<N extends Comparable>(versions: readonly FollowedVersion<N>[]): readonly Followed<N>[] {
  interface Row {
    readonly opened: number;
    closed: number | null;
    note: N;
    readonly cells: (FollowedCell<N> | null)[];
  }
  const rows: Row[] = [];
  const rowOf = new Map<N, Row>();
  const add = (note: N, index: number, state: FollowedState) => {
    const cells = versions.map((): FollowedCell<N> | null => null);
    const row: Row = { opened: index, closed: state === "dropped" ? index : null, note, cells };
    row.cells[index] = { state, note };
    rows.push(row);
    rowOf.set(note, row);
  };
  const goOn = (before: N, after: N, index: number, state: FollowedState) => {
    const row = rowOf.get(before);
    if (row === undefined) return add(after, index, state === "dropped" ? "dropped" : "new");
    row.cells[index] = { state, note: after };
    row.note = after;
    row.closed = state === "dropped" ? (row.closed ?? index) : null;
    rowOf.set(after, row);
  };
  const end = (note: N, index: number) => {
    const row = rowOf.get(note);
    if (row === undefined) return;
    row.cells[index] = { state: "gone" };
    row.closed ??= index;
  };
  versions.forEach((version, index) => {
    const before = versions[index - 1];
    if (before === undefined) {
      for (const note of version.notes) add(note, 0, "new");
      for (const note of version.waived ?? []) add(note, 0, "dropped");
      return;
    }
    const compared: Comparison<N> = compareNotes(before, version);
    for (const pair of compared.still) goOn(pair.before, pair.after, index, "still");
    for (const change of compared.changed) goOn(change.before, change.after, index, change.verdict);
    for (const note of compared.fixed) end(note, index);
    for (const { before: was, after } of compared.waived) {
      if (after === null) end(was as N, index);
      else if (was === null) add(after, index, "dropped");
      else goOn(was, after, index, "dropped");
    }
    for (const note of compared.added) {
      const gone = rows.find(
        (row) => row.closed !== null && row.closed < index && row.note.fingerprint === note.fingerprint,
      );
      if (gone === undefined) add(note, index, "new");
      else {
        gone.cells[index] = { state: "back", note };
        gone.note = note;
        gone.closed = null;
        rowOf.set(note, gone);
      }
    }
  });
  return rows.map((row) => ({ kind: "note", ...row }));
}

function followRemark<N extends Comparable>(
  versions: readonly FollowedVersion<N>[],
  remark: Remark,
  marks: readonly Mark[],
  indexOf: (meant: ReviewVersion | undefined) => number | null,
): readonly Followed<N>[] {
  const standsIn = versions.findIndex(({ review }) => review?.remarks.some(({ id }) => id === remark.id));
  const opened = Math.max(0, indexOf(remark.version) ?? standsIn);
  const own = marks.filter(({ of }) => of === remark.id);
  const cells = versions.map((_, index): FollowedCell<N> | null => {
    if (index < opened) return null;
    if (remark.weight === "keep") return { state: "praise" };
    // What was said while this version or an earlier one was looked at.
    const known = own.filter(({ version }) => (indexOf(version) ?? versions.length - 1) <= index);
    const { state, mark } = stateOfRemark(remark, known);
    const isOwn = mark !== null && indexOf(mark.version) === index;
    if (index === opened && !isOwn && state === "open") return { state: "made" };
    return { state: state === "still-open" && !isOwn ? "open" : state };
  });
  const rows: Followed<N>[] = [{ kind: "remark", remark, cells, opened, closed: closedFrom(cells, "done") }];
  for (const stroke of remark.strokes ?? []) {
    if (stroke.target !== undefined) rows.push(followTarget(versions, remark, stroke, opened));
  }
  return rows;
}

function followTarget<N extends Comparable>(
  versions: readonly FollowedVersion<N>[],
  remark: Remark,
  stroke: Stroke,
  opened: number,
): Followed<N> {
  let carried = stroke;
  const cells = versions.map((version, index): FollowedCell<N> | null => {
    if (index < opened) return null;
    const before = versions[index - 1];
    if (index > opened && before !== undefined && carried.target !== undefined) {
      const { shot } = timesBetween(before.shot, version.shot);
      const { node, frames } = carried.target;
      carried = { ...carried, target: { node, frames: [shot.toAfter(frames[0]), shot.toAfter(frames[1])] } };
    }
    const fit = targetFitOf(version.study, carried);
    return fit === null
      ? { state: "not measured" }
      : { state: isMet(version.study, fit) ? "met" : "off", fit };
  });
  return { kind: "target", remark, stroke, cells, opened, closed: closedFrom(cells, "met") };
}

/**
 * Whether a part goes along the line that was drawn for it: within 2 % of the stature in the mean and 5 % at most, along
 * nine tenths of the line.
 * @param fit what `targetFitOf` gave, metres
 * @returns whether the target path is met
 */
export function isMet(study: Study, fit: TargetFit): boolean {
  const node = rigOf(study).indexOf.get(fit.node) ?? 0;
  const stature = statureOf(study, figureOfNode(study, node));
  return fit.mean <= metMean * stature && fit.largest <= metMost * stature && fit.covered >= 0.9;
}

/** From which version on all that is said is that it is closed; null where it is open at the end. */
function closedFrom<N>(cells: readonly (FollowedCell<N> | null)[], state: FollowedState): number | null {
  let from: number | null = null;
  cells.forEach((cell, index) => {
    if (cell?.state !== state) from = null;
    else from ??= index;
  });
  return from;
}

/** Which of the versions is meant: by its motion, else its revision, else the name of its file. */
function indexOfVersion<N extends Comparable>(
  versions: readonly FollowedVersion<N>[],
  hashes: readonly string[],
  meant: ReviewVersion | undefined,
): number | null {
  if (meant === undefined) return null;
  const { hash, revision, file } = meant;
  const found = [
    hash === undefined ? -1 : hashes.indexOf(hash),
    file === undefined ? -1 : versions.findIndex((version) => version.file === file),
    revision === undefined ? -1 : versions.findIndex(({ shot }) => shot.header.shot.revision === revision),
  ].find((index) => index >= 0);
  return found ?? null;
}
