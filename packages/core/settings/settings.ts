import type { ChosenValue, Unit } from "../base/quantity.ts";
import type { WorkStage } from "../document/schema.ts";
import type { StyleChange, StyleName } from "./styles.ts";
import type { ChosenTier, Tier } from "./tier.ts";

/** A number of a check that can be set, with its default and where the default comes from. */
export interface Setting {
  /** In `unit`. "frames" are frames at 24 per second and are scaled to the judged rate. */
  readonly default: number;
  readonly unit: Unit;
  readonly what: string;
  /** A published source, or "common practice" and which: frames at 24, what an animator would do, where it is seen. */
  readonly source: string;
  readonly min?: number;
  readonly max?: number;
  /** What bodies, surfaces or eyes allow, in `unit`: no threshold that is learnt from shots goes past it. */
  readonly bound?: { readonly max?: number; readonly min?: number; readonly why: string };
}

/** A check's settings by their names. */
export type SettingSpecs = Readonly<Record<string, Setting>>;

/** What has to be known of a check to configure it. */
export interface ConfigurableCheck {
  readonly name: string;
  /** What it finds, one sentence. */
  readonly what: string;
  /** Highest tier that its notes get unless something else is chosen. */
  readonly ceiling: ChosenTier;
  readonly settings: SettingSpecs;
  /** Why it is not run unless it is named; see `Check.ripening`. */
  readonly ripening?: string;
  /** What a style of animation does to it. */
  readonly styles?: { readonly [style in StyleName]?: StyleChange };
  /** First stage of work at which it is looked for; see `Check.notBefore`. */
  readonly notBefore?: WorkStage;
}

/**
 * A studio's own check as a configuration carries it: plain data that survives JSON. What it computes is known to those
 * who read it (`OwnCheckPlan`).
 */
export interface OwnCheck {
  readonly name: string;
  /** Tier of its notes. */
  readonly tier: ChosenTier;
}

/** What is in force for one check. */
export interface CheckSettings {
  readonly on: boolean;
  /** Whether a configuration or a run asks for it by its name: it is looked for at every stage of work then. */
  readonly isAsked?: boolean;
  /** Highest tier that the check may give. */
  readonly ceiling: Tier;
  readonly values: Readonly<Record<string, ChosenValue>>;
  /**
   * The style's values, where a style or a configuration turns the check off or chooses others: what it finds by these
   * is not said, but goes on speaking for the checks that yield to it.
   */
  readonly otherwise?: Readonly<Record<string, ChosenValue>>;
}

/** What is in force for a run. */
export interface ResolvedSettings {
  /** The checks that it was put together from, on or off: all that are run, but for those written as expressions. */
  readonly registry: readonly ConfigurableCheck[];
  /** Frames per second at which the shot is judged; null judges at the document's own rate. */
  readonly rate: number | null;
  readonly style: string;
  /** Stage of work by which the shot is judged; null takes what the document declares or its keys show. */
  readonly stage?: WorkStage | null;
  /** Weight at which a note becomes minor, and major. */
  readonly tiers: { readonly minor: number; readonly major: number };
  readonly checks: ReadonlyMap<string, CheckSettings>;
  /** The studio's own checks that are on, run after the others. */
  readonly own?: readonly OwnCheck[];
}
