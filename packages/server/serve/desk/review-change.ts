import type { FeedNote } from "@keyside/adapters";
import {
  addRemark,
  arrangeReview,
  changeRemark,
  decide,
  decisionAbout,
  markRemark,
  type Remark,
  ReviewError,
  type ReviewFile,
  type ReviewVersion,
  removeEntry,
  type Stroke,
} from "@keyside/core";
import type { DeskStroke, ReviewChange } from "@keyside/desk/link";
import { Refused } from "./page.ts";

/** What a change needs to know beside the review. */
export interface ChangeContext {
  /** When it is made, ISO 8601. */
  readonly date: string;
  /** Who makes it, where the page does not say. */
  readonly reviewer: string;
  /** The version of the shot that is looked at. */
  readonly version: ReviewVersion;
  /** A computed note that the pages know. @throws Refused */
  noteCalled(fingerprint: string): FeedNote;
  /** What is known of a node: its figure, and which part of the body it is. */
  aboutNode(node: string): Pick<Remark, "figure" | "part">;
  /** Whether a remark stands in the review of the version before. */
  isOfPrevious(id: string): boolean;
}

/** A review after a change. */
export interface Changed {
  readonly review: ReviewFile;
  /** Id of the remark that was added. */
  readonly remark?: string;
}

/** Makes a change that a page asked for. @throws Refused */
export function reviewAfter(review: ReviewFile, change: ReviewChange, context: ChangeContext): Changed {
  try {
    return after(review, change, context);
  } catch (error) {
    if (error instanceof ReviewError) throw new Refused("bad-edit", error.message);
    throw error;
  }
}

function after(review: ReviewFile, change: ReviewChange, context: ChangeContext): Changed {
  const { date, version } = context;
  const by = ("by" in change && change.by !== "" && change.by) || context.reviewer;
  switch (change.kind) {
    case "add": {
      const { text, weight, by: who, frames, node, strokes } = change.remark;
      const added = addRemark(review, {
        ...{ text, weight, date, version, by: who === "" ? context.reviewer : who },
        ...(frames === null ? {} : { frames: pair(frames) }),
        ...(node === null ? {} : { node, ...context.aboutNode(node) }),
        ...(strokes.length === 0 ? {} : { strokes: strokes.map((stroke) => strokeOf(stroke, node)) }),
      });
      return { review: added.review, remark: added.remark.id };
    }
    case "change":
      return { review: changed(review, change, by, context) };
    case "remove":
      return { review: removeEntry(ownOr(review, change.id, context), change.id) };
    case "take-back":
      return { review: removeEntry(review, change.id) };
    case "decide": {
      const note = context.noteCalled(change.fingerprint);
      const { isKept, reason, text, weight } = change.to;
      const decided = aboutNote(review, note, by, context);
      if (isKept === false && reason === undefined && text === undefined && weight === undefined) {
        const before = decisionAbout(review, note);
        return { review: before === null ? review : removeEntry(review, before.id) };
      }
      const verdict = reason === undefined ? "kept" : "dropped";
      return {
        review: decide(review, {
          ...decided,
          verdict,
          ...(reason === undefined ? {} : { reason }),
          ...(text === undefined ? {} : { text: text ?? undefined }),
          ...(weight === undefined ? {} : { weight: weight ?? undefined }),
        }).review,
      };
    }
    case "order": {
      let next = review;
      const ids = change.order.flatMap((id) => {
        if (next.remarks.some((remark) => remark.id === id)) return [id];
        // Remarks of the version before keep their place there.
        if (context.isOfPrevious(id)) return [];
        const note = context.noteCalled(id);
        const known = decisionAbout(next, note);
        if (known !== null) return [known.id];
        const made = decide(next, { ...aboutNote(next, note, by, context), verdict: "kept" });
        next = made.review;
        return [made.decision.id];
      });
      return { review: arrangeReview(next, ids, { by, date }) };
    }
  }
}

/** What a decision about a note says of it; one that is there already keeps its own words for which note it is. */
function aboutNote(review: ReviewFile, note: FeedNote, by: string, { date, version }: ChangeContext) {
  const before = decisionAbout(review, note);
  const { check, fingerprint, node, frames } = note;
  const about =
    before === null
      ? { check, ...(node === null ? {} : { node }), frames: pair(frames) }
      : {
          check: before.check,
          ...(before.node === undefined ? {} : { node: before.node }),
          ...(before.frames === undefined ? {} : { frames: before.frames }),
        };
  return { ...about, fingerprint, by, date, version };
}

function changed(
  review: ReviewFile,
  { id, to }: Extract<ReviewChange, { kind: "change" }>,
  by: string,
  context: ChangeContext,
): ReviewFile {
  const { date, version } = context;
  const { isDone, text, weight, frames, node, strokes } = to;
  let next = review;
  if (isDone !== undefined) {
    const isKnown = review.remarks.some((remark) => remark.id === id) || context.isOfPrevious(id);
    if (!isKnown) throw new Refused("unknown-remark", "This remark is no more.");
    next = markRemark(next, { of: id, state: isDone ? "done" : "still-open", by, date, version }).review;
  }
  const changes = {
    ...(text === undefined ? {} : { text }),
    ...(weight === undefined ? {} : { weight }),
    ...(frames === undefined ? {} : { frames: frames === null ? undefined : pair(frames) }),
    ...(node === undefined
      ? {}
      : node === null
        ? { node: undefined, figure: undefined, part: undefined }
        : { node, ...context.aboutNode(node) }),
    ...(strokes === undefined
      ? {}
      : { strokes: strokes.map((stroke) => strokeOf(stroke, node ?? nodeOf(review, id))) }),
  };
  if (Object.keys(changes).length === 0) return next;
  return changeRemark(ownOr(next, id, context), id, changes, { by, date });
}

/** The review, where a remark stands in it. @throws Refused where it stands in that of the version before, or nowhere */
function ownOr(review: ReviewFile, id: string, { isOfPrevious }: ChangeContext): ReviewFile {
  if (review.remarks.some((remark) => remark.id === id)) return review;
  if (isOfPrevious(id)) {
    throw new Refused(
      "bad-edit",
      "This remark stands in the review of the version before, and stays as it is there; it can be marked as done or still open.",
    );
  }
  throw new Refused("unknown-remark", "This remark is no more.");
}

function nodeOf(review: ReviewFile, id: string): string | null {
  return review.remarks.find((remark) => remark.id === id)?.node ?? null;
}

/** A stroke as the file holds it. */
function strokeOf({ line, facing, frames, target }: DeskStroke, node: string | null): Stroke {
  const points: [number, number, number][] = [];
  for (let n = 0; n + 2 < line.length; n += 3) points.push([line[n], line[n + 1], line[n + 2]]);
  const [x, y, z] = facing;
  return {
    frame: frames[0],
    frames: pair(frames),
    ...(node === null ? {} : { node }),
    // The page says which way is looked; the normal of the file looks back at whoever drew.
    plane: { origin: points[0], normal: [0 - x, 0 - y, 0 - z] },
    points,
    ...(target === null ? {} : { target: { node: target, frames: pair(frames) } }),
  };
}

function pair([first, last]: readonly [number, number] | readonly number[]): [number, number] {
  return [first, last];
}
