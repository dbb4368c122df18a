import { AbstractMessageWriter, type Message } from "vscode-languageserver/node";

/** A writer that stops where a client does not read what it is sent. */
export class BoundedWriter extends AbstractMessageWriter {
  private readonly inner: { write(message: Message): Promise<void>; end(): void };
  private readonly mayWrite: () => boolean;

  constructor(inner: { write(message: Message): Promise<void>; end(): void }, mayWrite: () => boolean) {
    super();
    this.inner = inner;
    this.mayWrite = mayWrite;
  }

  /** Never rejects: a client that has gone in the middle of an answer is told nothing, and harms nobody. */
  async write(message: Message): Promise<void> {
    try {
      if (this.mayWrite()) await this.inner.write(message);
    } catch {
      // The closing of the connection follows.
    }
  }

  end(): void {
    this.inner.end();
  }
}
