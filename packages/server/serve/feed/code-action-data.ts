/** What a code action carries until its edit is asked for. */
export type CodeActionData = {
  readonly uri: string;
  /** Version of the text for which it was offered. */
  readonly version: number;
} & CodeActionDeed;

/** What a code action does: fixes or waives a note, or fixes all notes of a check, or all of the document. */
export type CodeActionDeed =
  | { readonly does: "fix" | "waive"; readonly fingerprint: string }
  | { readonly does: "fix-check"; readonly check: string }
  | { readonly does: "fix-document" };
