import { compareNotes, type Version } from "../notes/compare.ts";
import type { Comparable } from "../notes/compare-match.ts";
import { type Changer, sound } from "./change.ts";
import { decisionAbout } from "./drops.ts";
import { withEntries } from "./gather.ts";
import { decisionIdOf } from "./ids.ts";
import { type Decision, decisionSchema, type ReviewFile } from "./schema.ts";

/** A version of a shot with its notes and what people decided about them. */
export interface DecidedVersion<N extends Comparable> extends Version<N> {
  readonly review: ReviewFile;
}

/** Why a decision is not carried. */
export type NotCarried = "gone" | "worse" | "ended" | "contested" | "decided" | "waived";

/** What became of the decisions of one version in the next. */
export interface Carried {
  /** The next version's review with the decisions that were carried. */
  readonly review: ReviewFile;
  /** As they stand there now. */
  readonly carried: readonly Decision[];
  /** As they stand in the older version's review, and why each stays there. */
  readonly left: readonly { readonly decision: Decision; readonly why: NotCarried }[];
}

/** Who carries, when, from which file (without its folder), and whether decisions that are there are replaced. */
export interface Carrier extends Changer {
  readonly from: string;
  readonly replaces?: boolean;
}

/**
 * Carries what people decided about computed notes to the next version, where the note is still there. Author and date
 * stay, and each says that it was carried. Remarks stay where they were made. A note that was dropped and has become
 * worse is another fault: its decision stays behind, and so does one about which people disagree.
 * @param before the older version
 * @param after the newer one; its review stays as it is
 * @param carrier who carries, when (ISO 8601), from which file, and whether decisions that are there are replaced
 * @returns the newer version's review with them; carrying once more changes nothing
 * @throws ReviewError where who carries, or when, does not fit
 */
export function carryDecisions<N extends Comparable>(
  before: DecidedVersion<N>,
  after: DecidedVersion<N>,
  carrier: Carrier,
): Carried {
  const { by, date, from, replaces = false } = carrier;
  const { still, changed, waived } = compareNotes(before, after);
  const pairs = [
    ...still.map((pair) => ({ ...pair, isWorse: false, isWaived: false })),
    ...changed.map((pair) => ({ ...pair, isWorse: pair.verdict === "worse", isWaived: false })),
    ...waived.flatMap(({ before, after }) =>
      before === null || after === null ? [] : [{ before, after, isWorse: false, isWaived: true }],
    ),
  ];
  const revision = after.shot.header.shot.revision;
  const contested = new Set(
    before.review.decisions.flatMap(({ id, conflicts }) => (conflicts === undefined ? [] : [id, conflicts])),
  );
  const carried = new Map<string, Decision>();
  const left: { decision: Decision; why: NotCarried }[] = [];
  const replaced = new Set<string>();
  for (const decision of before.review.decisions) {
    const meant = pairs.filter((pair) => decisionFor(before.review, pair.before) === decision);
    const there = meant.flatMap((pair) => decisionFor(after.review, pair.after) ?? []);
    const isDropped = decision.verdict === "dropped";
    const ended = isDropped && decision.lastRevision !== undefined && revision !== undefined;
    const why: NotCarried | null = contested.has(decision.id)
      ? "contested"
      : meant.length === 0
        ? "gone"
        : ended && revision > (decision.lastRevision as number)
          ? "ended"
          : isDropped && meant.some(({ isWorse }) => isWorse)
            ? "worse"
            : there.length > 0 && !replaces
              ? "decided"
              : isDropped && there.length === 0 && meant.every(({ isWaived }) => isWaived)
                ? "waived"
                : null;
    if (why !== null) {
      left.push({ decision, why });
      continue;
    }
    for (const { id } of there) replaced.add(id);
    const { unread, ...known } = { ...decision, ...placeOf(decision, meant), carried: { by, date, from } };
    const entry: Decision = sound(decisionSchema, { ...known, id: decisionIdOf(known) });
    carried.set(entry.id, unread === undefined ? entry : { ...entry, unread });
  }
  const { remarks, decisions, marks } = after.review;
  const kept = decisions.filter(({ id }) => !replaced.has(id) && !carried.has(id));
  return {
    review: withEntries(after.review, [...remarks, ...kept, ...carried.values(), ...marks]),
    carried: [...carried.values()],
    left,
  };
}

function decisionFor(review: ReviewFile, note: Comparable): Decision | null {
  const { frames } = note;
  return frames === null ? null : decisionAbout(review, { ...note, frames });
}

/** Of what a decision speaks in the newer version; what it did not name, it does not name there either. */
function placeOf<N extends Comparable>(
  { node, frames, fingerprint }: Decision,
  meant: readonly { readonly before: N; readonly after: N }[],
): Pick<Decision, "node" | "frames" | "fingerprint"> {
  const spans = meant.flatMap(({ after }) => (after.frames === null ? [] : [after.frames]));
  const now = meant.find(({ before }) => before.node === node)?.after.node;
  const known = meant.find(({ before }) => before.fingerprint === fingerprint) ?? meant[0];
  return {
    ...(node === undefined ? {} : { node: now ?? node }),
    ...(frames === undefined
      ? {}
      : {
          frames: [
            Math.min(...spans.map(([first]) => first)),
            Math.max(...spans.map(([, last]) => last)),
          ] as [number, number],
        }),
    ...(fingerprint === undefined ? {} : { fingerprint: known.after.fingerprint }),
  };
}
