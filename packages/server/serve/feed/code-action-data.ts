/** What a code action carries until its edit is asked for. */
export interface CodeActionData {
  readonly uri: string;
  /** Version of the text for which it was offered. */
  readonly version: number;
  readonly does: "fix" | "fix-all";
  /** Fingerprint of the note, and its check. */
  readonly fingerprint: string;
  readonly check: string;
}
