import {
  type Connection,
  createConnection,
  type Disposable,
  type InitializeParams,
  ProposedFeatures,
} from "vscode-languageserver";
import {
  createProtocolConnection,
  type Logger,
  type MessageReader,
  type MessageWriter,
} from "vscode-languageserver/node";
import { Arrivals, arrivalsOf, setArrivals } from "./arrivals.ts";
import { Conduct, plainErrors } from "./conduct.ts";
import type { FeedEnvironment } from "./environment.ts";
import type { FeedExtension } from "./extension.ts";
import { Feed } from "./feed.ts";
import { registerDiagnostics } from "./serve-diagnostics.ts";
import { registerFeatures } from "./serve-features.ts";

export type { FeedExtension } from "./extension.ts";

/**
 * A connection over any pair of a message reader and writer. It touches nothing outside the pair: a client that says
 * `exit` ends its own connection.
 * @param ended called when the client said `exit`, with 0 if it had said `shutdown` before, else 1; and when the
 *   connection closed, with 0
 * @param begun called with the process of the client, as its `initialize` names it
 */
export function connectionOver(
  reader: MessageReader,
  writer: MessageWriter,
  ended: (code: 0 | 1) => void = () => {},
  begun: (processId: number | null) => void = () => {},
): Connection {
  const arrivals = new Arrivals();
  let hasEnded = false;
  const end = (code: 0 | 1) => {
    if (hasEnded) return;
    hasEnded = true;
    ended(code);
  };
  const watchDog = {
    shutdownReceived: false,
    initialize: ({ processId }: InitializeParams) => begun(processId ?? null),
    exit: (code: number) => end(code === 0 ? 0 : 1),
  };
  const connection = createConnection(
    (logger) => {
      const heard = arrivals.watch(new Conduct(writer).guard(reader));
      const protocol = createProtocolConnection(heard, plainErrors(writer), harmless(logger));
      protocol.onClose(() => end(0));
      return protocol;
    },
    watchDog,
    ProposedFeatures.all,
  ) as Connection;
  setArrivals(connection, arrivals);
  return connection;
}

/** A logger that tells the client where it can: on a connection that has closed, telling throws. */
function harmless(logger: Logger): Logger {
  const safely = (tell: (message: string) => void) => (message: string) => {
    try {
      tell(message);
    } catch {
      // There is nobody left to tell.
    }
  };
  return {
    error: safely((message) => logger.error(message)),
    warn: safely((message) => logger.warn(message)),
    info: safely((message) => logger.info(message)),
    log: safely((message) => logger.log(message)),
  };
}

/**
 * Serves the feed on one connection, and starts listening. Several connections in one process do not touch each
 * other.
 * @returns ends the feed: what is under way is given up and nothing more is sent; the connection stays the caller's
 */
export function serve(
  connection: Connection,
  environment: FeedEnvironment,
  extensions: readonly FeedExtension[] = [],
): Disposable {
  const feed = new Feed(connection, environment, arrivalsOf(connection), extensions);
  registerFeatures(feed);
  registerDiagnostics(feed);
  const registered = extensions.map((extension) => extension.register(connection));
  connection.listen();
  return {
    dispose() {
      for (const extension of registered) extension.dispose();
      feed.dispose();
    },
  };
}
