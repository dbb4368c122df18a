import type { ReportedNote } from "../notes/report-schema.ts";
import { decisionAbout, stateOfRemark } from "./drops.ts";
import {
  type Decision,
  type Mark,
  type Remark,
  type ReviewFile,
  type ReviewWeight,
  reviewWeights,
} from "./schema.ts";

/** A remark in the list of what is to be done. */
export interface AgendaRemark {
  readonly kind: "remark";
  readonly remark: Remark;
  readonly weight: ReviewWeight;
  readonly state: Mark["state"];
}

/** A computed note in the list of what is to be done. */
export interface AgendaNote<N> {
  readonly kind: "note";
  readonly note: N;
  /** What the reviewer made of it; null where nobody said anything. */
  readonly decision: Decision | null;
  readonly weight: ReviewWeight;
}

/** One line of the list. */
export type AgendaItem<N> = AgendaRemark | AgendaNote<N>;

/** What of a note the list looks at. */
export type AgendaSource = Pick<ReportedNote, "check" | "node" | "frames" | "fingerprint" | "tier">;

const weightOfTier = { broken: "must", major: "must", minor: "should", polish: "could" } as const;

/**
 * Remarks of people and computed notes in one list: in the order that the reviewer gave them; what has no place in it
 * follows by weight, remarks before notes, praise last.
 * @param review a review file
 * @param notes notes that nothing waives, the one that matters most first
 * @param marks marks of the reviews of all versions that are looked at; those of this file if left out
 * @returns all remarks and notes, each once
 */
export function agendaOf<N extends AgendaSource>(
  review: ReviewFile,
  notes: readonly N[],
  marks: readonly Mark[] = review.marks,
): readonly AgendaItem<N>[] {
  const items: AgendaItem<N>[] = [
    ...[...review.remarks].sort(byTime).map(
      (remark): AgendaItem<N> => ({
        kind: "remark",
        remark,
        weight: remark.weight,
        state: stateOfRemark(remark, marks).state,
      }),
    ),
    ...notes.map((note): AgendaItem<N> => {
      const { frames } = note;
      const decision = frames === null ? null : decisionAbout(review, { ...note, frames });
      return { kind: "note", note, decision, weight: decision?.weight ?? weightOfTier[note.tier] };
    }),
  ];
  const place = (item: AgendaItem<N>) =>
    (item.kind === "remark" ? item.remark : item.decision)?.rank ?? Infinity;
  const weight = (item: AgendaItem<N>) => reviewWeights.indexOf(item.weight);
  return items
    .map((item, index) => ({ item, index, place: place(item) }))
    .sort((a, b) => {
      if (a.place !== b.place) return a.place < b.place ? -1 : 1;
      return weight(a.item) - weight(b.item) || a.index - b.index;
    })
    .map(({ item }) => item);
}

function byTime(a: Remark, b: Remark): number {
  const frame = (remark: Remark) => remark.frames?.[0] ?? -Infinity;
  return frame(a) === frame(b) ? (a.id < b.id ? -1 : 1) : frame(a) - frame(b);
}
