import {
  type Connection,
  MessageType,
  ShowMessageNotification,
  type ShowMessageParams,
} from "vscode-languageserver";
import { failureText } from "../../present/text/failure.ts";
import type { ShotDocument } from "./shot-document.ts";

/** Tells of checks that failed: each once in the log for a document, and once to the user. */
export class FailureNews {
  private readonly connection: Connection;
  private readonly send: (sending: () => Promise<unknown>) => void;
  private readonly told = new Set<string>();

  /** @param send sends what nobody waits for */
  constructor(connection: Connection, send: (sending: () => Promise<unknown>) => void) {
    this.connection = connection;
    this.send = send;
  }

  tell({ uri, failures }: ShotDocument): void {
    for (const failure of failures) {
      const text = failureText(failure);
      if (this.isNew(`${failure.check} ${uri}`)) {
        this.send(async () => this.connection.console.error(`${uri}: ${text}`));
      }
      if (!this.isNew(failure.check)) continue;
      const params: ShowMessageParams = { type: MessageType.Error, message: `Keyside: ${text}` };
      this.send(() => this.connection.sendNotification(ShowMessageNotification.type, params));
    }
  }

  private isNew(name: string): boolean {
    const isNew = !this.told.has(name);
    this.told.add(name);
    return isNew;
  }
}
