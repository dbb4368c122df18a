import type { Connection, Disposable } from "vscode-languageserver";

/** Requests that are served on the same connection besides those of the language server. */
export interface FeedExtension {
  /** Goes into the `experimental` capabilities that the client is told. */
  readonly capabilities?: Readonly<Record<string, unknown>>;
  /** Registers its handlers; called once, before the connection listens. */
  register(connection: Connection): Disposable;
}
