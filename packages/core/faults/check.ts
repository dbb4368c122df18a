import type { Evidence, Expected, Measured } from "../base/measured.ts";
import type { Seen } from "../base/memo-cell.ts";
import type { Study } from "../base/study.ts";
import type { Channel } from "../document/model.ts";
import type { WorkStage } from "../document/schema.ts";
import type { SettingSpecs } from "../settings/settings.ts";
import type { StyleChange, StyleName } from "../settings/styles.ts";
import type { ChosenTier } from "../settings/tier.ts";
import type { CheckName } from "./names.ts";
import type { Words } from "./words.ts";

/** A check's settings in working units: metres, radians, seconds, judged frames (see `inWorkingUnits`). */
export type Values<S extends SettingSpecs> = { readonly [K in keyof S]: number };

/** What a check looks at, one at a time: a curve (index into the document's curves), a node, a figure, the shot. */
export type Scope = "curve" | "node" | "figure" | "shot";

/** Families, in the order in which they are listed. */
export const families = ["spacing", "paths", "weight", "parts", "props", "staging", "data"] as const;
/** One of {@link families}. */
export type Family = (typeof families)[number];

/**
 * One kind of fault. Finding numbers ({@link Check.find}) is apart from wording them ({@link Check.word}), so that
 * words change without touching mathematics. Help, docs, configuration schema and test scaffold are made from the
 * metadata.
 */
export interface Check<S extends SettingSpecs = SettingSpecs, F extends Finding = Finding> {
  /** Kebab-case; the file's name. */
  readonly name: string;
  readonly title: string;
  readonly family: Family;
  readonly scope: Scope;
  /** Highest tier that a note of this check gets unless a configuration says otherwise. */
  readonly ceiling: ChosenTier;
  /** Tier of all its notes, however much they weigh: for checks that a studio writes itself. */
  readonly tier?: ChosenTier;
  /** What it finds, one sentence. */
  readonly what: string;
  /** Why a viewer does not believe it, one or two sentences. */
  readonly why: string;
  /** What is computed, precisely enough to be done again by hand. */
  readonly computes: string;
  /** The smallest change that usually fixes it. */
  readonly fix: string;
  /** What it does not complain about. */
  readonly notAFault: readonly string[];
  /** Where it errs. */
  readonly limits: readonly string[];
  readonly sources: readonly string[];
  readonly since: string;
  readonly settings: S;
  /**
   * Checks that say the same better: where one of theirs covers the same part and frames, this one is silent; also where
   * a style or a configuration silences that one.
   */
  readonly yieldsTo?: readonly CheckName[];
  /** Whether it finds the ends of moves: where what it yields to begins in the next frame, that is its end. */
  readonly isEndOfMove?: boolean;
  /** Whether notes move to the node of the causing key, and merge where they share it (faults that travel down a chain). */
  readonly followsCause?: boolean;
  /** Whether it finds single bad frames: where one shows on many parts at the same moment it is told as one. */
  readonly isOfMoment?: boolean;
  /**
   * How what it finds comes again on one part from one cause: by the same amount, as a pose that is off is whenever it is
   * held ("amount"), with each step of a gait ("steps"), or whenever the part is asked to do what it never does
   * ("always"). It is then told once.
   */
  readonly repeats?: "amount" | "steps" | "always";
  /**
   * Why it is not run unless a configuration or a run names it: a check ripens until a bench has shown what it is worth.
   * Completes "it ripens: …".
   */
  readonly ripening?: string;
  /**
   * First stage of work at which it is looked for; at every one if left out. Poses, contacts and the timing of beats are
   * there from blocking on, eases and paths from splining, offsets and tidy curves from polish (common practice).
   */
  readonly notBefore?: WorkStage;
  /**
   * What of a shot its notes hang on: the length of a unit, or which joint is which part of the body. Where that is a guess
   * (see `verdictOf`), they are polish at most.
   */
  readonly hangsOn?: readonly ("unit" | "body")[];
  /** What a style of animation does to it. */
  readonly styles?: { readonly [style in StyleName]?: StyleChange<S> };
  /** The caution that has to stand beside its notes, apart from the one that its family has. */
  readonly caution?: Caution;
  /** Whether what it finds is put right elsewhere than in keys: it is told behind what moves. */
  readonly isElsewhere?: boolean;
  /** Whether it says how a body gets, bears and spends its weight, or when the beats of its act come: that is told first. */
  readonly isOfAct?: boolean;
  /** Whether what it finds could simply be taken out: editors show it faded. */
  readonly isNeedless?: boolean;
  /** Whether it compares a part with its mirror image, which a picture of the note then shows too. */
  readonly comparesMirrored?: boolean;
  /** Whether it looks at colours, so that pictures of its notes show them. */
  readonly looksAtColours?: boolean;
  find(study: Study, subject: number, values: Values<S>): readonly F[];
  word(finding: F, words: Words): Wording;
}

/** What cautions are about: bodies that must not be copied by real ones; flicker, which has to be tested elsewhere. */
export type Caution = "bodies" | "flicker";

/** A check whose name is known to the compiler: one of the program has to be listed under it. */
export interface NamedCheck<S extends SettingSpecs, F extends Finding, N extends string = string>
  extends Check<S, F> {
  readonly name: N;
}

/**
 * Gives a check its exact types: what `find` returns is what `word` and the fix receive.
 * @param check metadata, settings, `find` and `word`
 * @returns the same object
 */
export function defineCheck<const S extends SettingSpecs, F extends Finding, const N extends string>(
  check: NamedCheck<S, F, N>,
): NamedCheck<S, F, N> {
  return check;
}

/** A finding in words. */
export interface Wording {
  /** One plain sentence with its numbers. */
  readonly message: string;
  /** What to change, in frames, centimetres or degrees. */
  readonly suggestion: string;
}

/**
 * What a check found, in numbers. A check adds what its wording and its fix need, each under a name of its own
 * (working units).
 */
export interface Finding {
  /** Node (rig index) on which it shows; -1 for none. */
  readonly node: number;
  /** Index of the figure; -1 for none. */
  readonly figure: number;
  /** First and last judged frame, as indices into the grid. */
  readonly from: number;
  readonly to: number;
  /** Nodes on which it shows, the most visible first, where that is not `node` alone. */
  readonly seenAt?: readonly number[];
  /** Whether it is of the whole figure, whichever node speaks for it. */
  readonly isOfFigure?: boolean;
  readonly measured: Measured;
  readonly expected: Expected;
  /** How far past the threshold: 1 stands at it, 2 at twice. */
  readonly excess: number;
  /** How large the fault is to the eye, in metres at the node. */
  readonly size: number;
  /**
   * By how much what is seen is amiss, in metres, where that is not `size`: how far putting it right would move it. Notes are
   * ordered by it; their tier follows from `size`.
   */
  readonly amiss?: number;
  /** Over how many judged frames putting it right moves what is seen, where these are more than its own. */
  readonly amissOver?: number;
  /** Share of the figure's mass, 0 to 1, that rests on it or has to go along, where that is more than hangs on the node. */
  readonly carries?: number;
  /** How to measure the fault again with a key taken out; or the keys, where the check knows them. */
  readonly fault: Fault | null;
  readonly evidence?: readonly Evidence[];
  /** What it lacks an answer to, where it is found in a part that does not answer. */
  readonly asked?: Asked;
  /** First stage of work at which it is told, where that is later than the check's. */
  readonly notBefore?: WorkStage;
  /** The heaviest tier that its note may have, where that is lighter than the check's: what may be meant. */
  readonly ceiling?: ChosenTier;
  /**
   * Whether it lies in the bookkeeping of keys, as recordings, bakes and keys set on all channels leave it, and nothing of
   * it is seen, or is in all of a recording alike: all that a check finds so in a shot is one polish note.
   */
  readonly isBookkeeping?: boolean;
}

/** What a part is asked to answer to: the motion of what carries it. */
export interface Asked {
  /** What carries the part (rig index). */
  readonly by: number;
  /** How much each sample asks, in any one unit, from sample `from` on. */
  readonly from: number;
  readonly weights: Float64Array;
  /** By how many samples a part may be asked later than what asks it moves. */
  readonly late: number;
}

/** How the fault is measured again when a key is taken out, to find the keys that cause it. */
export type Fault =
  | {
      /** A fault of a point's path, of a node's world orientation, or of a figure's centre of mass. */
      readonly kind: "position" | "orientation" | "massCentre";
      /** Node (rig index); for massCentre the figure's index. */
      readonly subject: number;
      /** More nodes (rig indices) whose series the strength sees, in this order; of the same kind. */
      readonly others?: readonly number[];
      /** Topmost node (rig index) whose keys can be the cause: what it hangs on carries the fault and has none of it. */
      readonly top?: number;
      /** Grid indices, both included, that `strength` needs to see. */
      readonly lo: number;
      readonly hi: number;
      /** First and last grid index at which a key can be the cause. */
      readonly from: number;
      readonly to: number;
      /**
       * Strength of the fault for a changed series: 3 numbers per grid index (metres) or 4 (quaternion), from lo
       * to hi. 0 is no fault. It falls as what is measured comes to what is expected, and goes on falling beyond that.
       * @param others the series of {@link others}
       */
      strength(series: Float64Array, others: readonly Float64Array[]): number;
      /**
       * All that `strength` sees apart from the series, by value, a name for it first: with equal things it gives equal
       * numbers. A fault that says so keeps its keys through edits that do not reach it; without, they are tried anew.
       */
      readonly sees?: readonly Seen[];
    }
  | {
      readonly kind: "keys";
      readonly keys: readonly {
        readonly node: string;
        readonly channel: Channel;
        readonly index: number;
      }[];
    };
