import type { MessageReader, MessageWriter } from "vscode-languageserver/node";
import { hostChannel } from "../host/host-channel.ts";
import { connectionOver, serve } from "./connection.ts";
import type { FeedEnvironment, Pending } from "./environment.ts";
import { Gate } from "./transport-gate.ts";

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
/** Bytes that may wait to be sent to a client that does not read; it is let go beyond them. */
export const backlogLimit = 64 * 1024 * 1024;

/** Milliseconds that a client has for reading what it was sent last, before the connection is cut. */
export const partingTime = 2_000;

/** Why a client is let go. */
export type Parting =
  | "wrong token"
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

/** The clients of a feed over sockets. Each has a feed of its own: none sees or disturbs another. */
export class Clients {
  readonly limits: ClientLimits;
  private readonly token: string;
  private readonly environment: () => FeedEnvironment;
  private readonly partings = new Set<(why: Parting) => void>();

  /** @param environment makes the environment of one client's feed */
  constructor(token: string, limits: ClientLimits, environment: () => FeedEnvironment) {
    this.token = token;
    this.limits = limits;
    this.environment = environment;
  }

  get count(): number {
    return this.partings.size;
  }

  get isFull(): boolean {
    return this.count >= this.limits.clients;
  }

  /**
   * Serves a client until it goes away, is let go, or says `exit`.
   * @param wireFor makes the client's end; the gate knows whether the client has shown the token
   */
  admit(wireFor: (gate: Gate) => Wire): void {
    const environment = this.environment();
    const { timers } = environment;
    const gate = new Gate(this.token, (answer, why) => {
      const sent = wire.writer.write(answer).catch(() => {});
      void sent.then(() => part(why));
    });
    const wire = wireFor(gate);
    let lastAt = timers.now();
    let waiting: Pending | null = null;
    let isGone = false;
    const part = (why: Parting) => {
      if (isGone) return;
      isGone = true;
      this.partings.delete(part);
      waiting?.cancel();
      feed.dispose();
      wire.close(why);
    };
    const heard = gate.guard(
      noticing(wire.reader, () => {
        lastAt = timers.now();
      }),
    );
    this.partings.add(part);
    const connection = connectionOver(heard, wire.writer, () => part("done"));
    const feed = serve(connection, environment, [hostChannel(environment)]);
    const { idle } = this.limits;
    const watch = () => {
      const allowed = gate.isOpen ? idle : strangerTime;
      if (allowed === 0) return;
      const left = lastAt + allowed - timers.now();
      if (left > 0) waiting = timers.after(left, watch);
      else part(gate.isOpen ? "idle" : "no token");
    };
    waiting = timers.after(idle === 0 ? strangerTime : Math.min(idle, strangerTime), watch);
  }

  /** Lets all clients go. */
  close(): void {
    for (const part of [...this.partings]) part("shutdown");
  }
}

/** The same reader; whoever wants to know is told of each message. */
function noticing(reader: MessageReader, notice: () => void): MessageReader {
  return {
    onError: reader.onError,
    onClose: reader.onClose,
    onPartialMessage: reader.onPartialMessage,
    listen: (callback) =>
      reader.listen((message) => {
        notice();
        callback(message);
      }),
    dispose: () => reader.dispose(),
  };
}
