import type { ChosenValue } from "../base/quantity.ts";
import type { ChosenTier } from "./tier.ts";

/** What was chosen for one check. */
export interface CheckChoice {
  readonly on?: boolean;
  /** Highest tier that the check's notes may get. */
  readonly tier?: ChosenTier;
  readonly values?: Readonly<Record<string, ChosenValue>>;
}

/** What a style of one's own chooses for one check, and why. */
export interface StyleChoice extends CheckChoice {
  readonly why: string;
}

/** A style that a configuration writes: another one, with changes. */
export interface OwnStyle {
  /** Name of the style that it changes; full if left out. */
  readonly extends?: string;
  /** What it is, one sentence. */
  readonly what?: string;
  readonly checks?: Readonly<Record<string, StyleChoice>>;
}

/** Styles of one's own by their names. */
export type OwnStyles = Readonly<Record<string, OwnStyle>>;
