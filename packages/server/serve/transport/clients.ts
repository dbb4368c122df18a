import type { MessageReader } from "vscode-languageserver/node";
import { connectionOver, serve } from "../feed/connection.ts";
import type { FeedEnvironment, Pending } from "../feed/environment.ts";
import { filtered } from "../feed/filtered.ts";
import { hostChannel } from "../host/host-channel.ts";
import { Gate } from "./gate.ts";
import { type ClientLimits, type Parting, strangersAtOnce, strangerTime, type Wire } from "./wire.ts";

/** The clients of a feed over sockets. Each has a feed of its own: none sees or disturbs another. */
export class Clients {
  readonly limits: ClientLimits;
  private readonly token: string;
  private readonly environment: () => FeedEnvironment;
  /** Ends of those who have not shown the token yet, the oldest first, and of those who have. */
  private readonly strangers = new Set<(why: Parting) => void>();
  private readonly members = new Set<(why: Parting) => void>();

  /** @param environment makes the environment of one client's feed */
  constructor(token: string, limits: ClientLimits, environment: () => FeedEnvironment) {
    this.token = token;
    this.limits = limits;
    this.environment = environment;
  }

  get count(): number {
    return this.strangers.size + this.members.size;
  }

  /**
   * Serves a client until it goes away, is let go, or says `exit`. Whoever has not shown the token takes nobody's place:
   * of too many strangers the oldest is let go.
   * @param wireFor makes the client's end; the gate knows whether the client has shown the token
   */
  admit(wireFor: (gate: Gate) => Wire): void {
    const environment = this.environment();
    const { timers } = environment;
    const enter = () => {
      if (this.members.size >= this.limits.clients) return false;
      this.strangers.delete(part);
      this.members.add(part);
      return true;
    };
    const gate = new Gate(this.token, enter, (answer, why) => {
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
      this.strangers.delete(part);
      this.members.delete(part);
      waiting?.cancel();
      feed.dispose();
      wire.close(why);
    };
    const heard = gate.guard(
      noticing(wire.reader, () => {
        lastAt = timers.now();
      }),
    );
    const [oldest] = this.strangers;
    if (this.strangers.size >= strangersAtOnce) oldest?.("no token");
    this.strangers.add(part);
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
    for (const part of [...this.strangers, ...this.members]) part("shutdown");
  }
}

/** The same reader; whoever wants to know is told of each message. */
function noticing(reader: MessageReader, notice: () => void): MessageReader {
  return filtered(reader, () => {
    notice();
    return true;
  });
}
