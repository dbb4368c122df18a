import type { ReportedNote, ReportedRemark, ReportedReview, ReportedShot } from "@keyside/core";
import { counted } from "../../base/counted.ts";
import { measuredText } from "./measured.ts";

/** For whom a list is written: what was dropped is left out for an animator, and shown apart for a supervisor. */
export const audiences = ["animator", "supervisor"] as const;
export type Audience = (typeof audiences)[number];

/** What a reviewer made of a computed note. */
export type ReviewedNote = Extract<ReportedReview["list"][number], { kind: "note" }>;

/** A line of the one list of remarks and notes. */
export type ListedItem<N> =
  | { readonly kind: "remark"; readonly remark: ReportedRemark }
  | { readonly kind: "note"; readonly note: N; readonly said: ReviewedNote | null };

/**
 * Remarks and those notes that are shown, in the reviewer's order; the notes as they are where there is no review.
 * @param shown notes of the shot, of which some may be left out
 */
export function listedItems<N extends Pick<ReportedNote, "fingerprint" | "frames">>(
  { review }: Pick<ReportedShot, "review">,
  shown: readonly N[],
): readonly ListedItem<N>[] {
  if (review === undefined) return shown.map((note) => ({ kind: "note", note, said: null }));
  const left = new Set(shown);
  const listed = review.list.flatMap((item): ListedItem<N>[] => {
    if (item.kind === "remark") return [{ kind: "remark", remark: item }];
    for (const note of left) {
      if (note.fingerprint !== item.fingerprint || String(note.frames) !== String(item.frames)) continue;
      left.delete(note);
      return [{ kind: "note", note, said: item }];
    }
    return [];
  });
  return [...listed, ...[...left].map((note) => ({ kind: "note" as const, note, said: null }))];
}

/** What of a review is about one figure. What is said of the shot as a whole concerns every figure. */
export function reviewOfFigure(
  { list, problems }: ReportedReview,
  figure: string,
  notes: readonly Pick<ReportedNote, "fingerprint" | "frames">[],
): ReportedReview {
  const keyOf = ({ fingerprint, frames }: Pick<ReportedNote, "fingerprint" | "frames">) =>
    `${fingerprint} ${frames}`;
  const left = new Set(notes.map(keyOf));
  return {
    problems,
    list: list.filter((item) =>
      item.kind === "note" ? left.has(keyOf(item)) : item.figure === null || item.figure === figure,
    ),
  };
}

/** Who says it and what became of it: "Ada", "Ada, done". */
export function remarkSource({ by, state, conflicts }: ReportedRemark): string {
  const became = state === "open" ? "" : state === "done" ? ", done" : ", still open";
  return `${by}${became}${conflicts === undefined ? "" : `, contradicts ${conflicts}`}`;
}

/** What a remark says beyond its text: lines that were drawn, and how far the paths are from them; a sentence each. */
export function remarkDetails({ strokes, targets }: ReportedRemark): readonly string[] {
  const lines = strokes === 0 ? [] : [`${counted(strokes, "line")} drawn over the picture`];
  return [...lines, ...targets.map(targetText)];
}

/** "right hand runs 4.2 cm from its target path in the mean, 9 cm at frame 20; 2 frames late at its end". */
export function targetText({
  part,
  mean,
  largest,
  largestAt,
  late,
  covered,
}: ReportedRemark["targets"][number]): string {
  const distance = `${part} runs ${measuredText(mean, "m")} from its target path in the mean, ${measuredText(largest, "m")} at frame ${largestAt}`;
  const timing = [lateText(late[0], "its start"), lateText(late[1], "its end")].filter(Boolean);
  const share = covered >= 0.95 ? [] : [`it goes along ${Math.round(covered * 100)} % of it`];
  return [distance, ...timing, ...share].join("; ");
}

function lateText(frames: number, where: string): string {
  if (frames === 0) return "";
  const count = Math.round(Math.abs(frames) * 100) / 100;
  return `${counted(count, "frame")} ${frames > 0 ? "late" : "early"} at ${where}`;
}
