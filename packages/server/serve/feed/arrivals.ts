import type { Connection, Message, MessageReader } from "vscode-languageserver/node";
import { filtered } from "./filtered.ts";

/**
 * Which edits have arrived, whether or not their turn has come: messages wait in a queue between the two. What is
 * judged before an edit that has arrived would be out of date when it is sent.
 */
export class Arrivals {
  private readonly waiting = new Map<string, number>();
  /** Whose edit a request is, by its method. */
  private readonly requests = new Map<unknown, (params: unknown) => string>();

  /**
   * Counts requests as edits too.
   * @param nameOf the name by which an edit is counted, from the request's params; no URI is like it
   */
  countRequests(methods: readonly string[], nameOf: (params: unknown) => string): void {
    for (const method of methods) this.requests.set(method, nameOf);
  }

  /** The same reader, with its edits noted down as they come in. */
  watch(reader: MessageReader): MessageReader {
    return filtered(reader, (message) => {
      this.note(message);
      return true;
    });
  }

  /** Whether an edit of a document has arrived whose turn has not come. */
  isWaiting(uri: string): boolean {
    return (this.waiting.get(uri) ?? 0) > 0;
  }

  /** Says that one edit's turn has come. */
  taken(uri: string): void {
    const left = (this.waiting.get(uri) ?? 0) - 1;
    if (left > 0) this.waiting.set(uri, left);
    else this.waiting.delete(uri);
  }

  private note(message: Message): void {
    const { method, params, id } = message as { method?: unknown; params?: unknown; id?: unknown };
    // Whoever sends a request as a notification, or the other way round, is not served, so that nothing waits.
    const isRequest = id !== undefined;
    let name: string | null = null;
    if (method === "textDocument/didChange" && !isRequest) {
      const uri = (params as { textDocument?: { uri?: unknown } } | null)?.textDocument?.uri;
      if (typeof uri === "string") name = uri;
    } else if (isRequest) name = this.requests.get(method)?.(params) ?? null;
    if (name !== null) this.waiting.set(name, (this.waiting.get(name) ?? 0) + 1);
  }
}

const byConnection = new WeakMap<Connection, Arrivals>();

export function setArrivals(connection: Connection, arrivals: Arrivals): void {
  byConnection.set(connection, arrivals);
}

/** The arrivals of a connection; for one that was made elsewhere nothing is ever waiting. */
export function arrivalsOf(connection: Connection): Arrivals {
  return byConnection.get(connection) ?? new Arrivals();
}
