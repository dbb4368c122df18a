import type { MessageReader, MessageWriter } from "vscode-languageserver/node";

/** Bounds that keep one client from harming the others. */
export interface ClientLimits {
  /** Bytes of the longest message that is taken. */
  readonly message: number;
  /** Milliseconds without a message after which a client is let go; 0 for never. */
  readonly idle: number;
  /** Clients at once. */
  readonly clients: number;
}

/** Bytes of the longest message of a client that has not shown the token yet. */
export const strangerMessage = 64 * 1024;
/** Milliseconds that a client has for showing the token. */
export const strangerTime = 10_000;
/** Clients at once that have not shown the token yet. */
export const strangersAtOnce = 64;
/** Bytes that may wait to be sent to a client that does not read; it is let go beyond them. */
export const backlogLimit = 64 * 1024 * 1024;

/** Milliseconds that a client has for reading what it was sent last, before the connection is cut. */
export function partingTime(why: Parting): number {
  // Whoever stops the feed waits for it.
  return why === "shutdown" ? 200 : 2_000;
}

/** Why a client is let go. */
export type Parting =
  | "wrong token"
  | "too many"
  | "no token"
  | "idle"
  | "does not read"
  | "bad message"
  | "shutdown"
  | "done";

/** One client's end of a transport. */
export interface Wire {
  readonly reader: MessageReader;
  readonly writer: MessageWriter;
  /** Lets the client go after what was written has been sent; may be called again. */
  close(why: Parting): void;
}
