import type { FromDesk, Reason } from "@keyside/desk/link";

/** A page that is open on the desk. */
export interface Page {
  /** From 1. */
  readonly number: number;
  /** Sends the text of one message. */
  send(text: string): void;
}

export function send(page: Page, message: FromDesk): void {
  page.send(JSON.stringify(message));
}

/** A request that is refused, in a sentence. */
export class Refused extends Error {
  override readonly name = "Refused";
  readonly reason: Reason;

  constructor(reason: Reason, message: string) {
    super(message);
    this.reason = reason;
  }
}
