import type { Connection, Disposable, InitializeParams, InitializeResult } from "vscode-languageserver";
import { version } from "../version.ts";
import type { Arrivals } from "./arrivals.ts";
import type { FeedExtension } from "./connection.ts";
import type { FeedEnvironment } from "./environment.ts";

/** The language server of one connection. */
export class Feed implements Disposable {
  private readonly connection: Connection;
  private readonly environment: FeedEnvironment;
  private readonly arrivals: Arrivals;
  private readonly extensions: readonly FeedExtension[];

  constructor(
    connection: Connection,
    environment: FeedEnvironment,
    arrivals: Arrivals,
    extensions: readonly FeedExtension[],
  ) {
    this.connection = connection;
    this.environment = environment;
    this.arrivals = arrivals;
    this.extensions = extensions;
    connection.onInitialize((params) => this.initialize(params));
  }

  private initialize(_params: InitializeParams): InitializeResult {
    const experimental = Object.assign({}, ...this.extensions.map(({ capabilities }) => capabilities ?? {}));
    return { capabilities: { experimental }, serverInfo: { name: "keyside", version } };
  }

  dispose(): void {}
}
