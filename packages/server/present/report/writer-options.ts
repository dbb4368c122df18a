import type { Check, Tier } from "@keyside/core";
import type { Layout } from "../text/layout.ts";
import type { Audience } from "../text/review.ts";
import type { HistoryEntry } from "./history.ts";

/** Gives a check by its name; undefined for what no check finds. */
export type CheckNamed = (name: string) => Check | undefined;

/** What a report's format may look at. */
export interface WriterOptions {
  readonly layout: Layout;
  /** Lightest tier that is shown; lighter notes are only counted. */
  readonly lightest: Tier;
  /** Whether the text report says all of each note, instead of a line. */
  readonly long?: boolean | undefined;
  /** For whom the report is written; for everybody if left out. */
  readonly audience?: Audience | undefined;
  /** Runs before this one, oldest first, and when this one is; where a history is kept. */
  readonly history?: { readonly past: readonly HistoryEntry[]; readonly now: Date } | undefined;
  /** A check of the run by its name, those of plug-ins too; the program's if left out. */
  readonly checkNamed?: CheckNamed | undefined;
  /** What tells the run apart from others over the same shots, for systems that keep several. */
  readonly category?: string | undefined;
  /** Where the folder of the docs can be read, as an absolute URI. */
  readonly docsAt?: string | undefined;
  /** Where the review sheet of a shot is, as a link; null where it has none. */
  readonly sheetFor?: ((shot: { readonly file: string; readonly name: string }) => string | null) | undefined;
  /** A picture of a shot at a note; null where none can be drawn. None is drawn if left out. */
  readonly pictureOf?: PictureOf | undefined;
}

/**
 * Draws a shot: SVG.
 * @param fingerprint of the note that is shown
 */
export type PictureOf = (shot: { readonly file: string }, fingerprint: string) => Promise<string | null>;
