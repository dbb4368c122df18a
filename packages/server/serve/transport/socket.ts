import { type AddressInfo, createServer, type Server, type Socket } from "node:net";
import { StreamMessageWriter } from "vscode-languageserver/node";
import { BoundedWriter } from "./bounded-writer.ts";
import type { Clients } from "./clients.ts";
import type { Gate } from "./gate.ts";
import { type Refusal, refuser, StreamReader } from "./reader.ts";
import { backlogLimit, type Parting, partingTime, strangerMessage, type Wire } from "./wire.ts";

/** Milliseconds after which the system asks whether a silent client's machine is still there. */
const keepAlive = 60_000;

/** Something that listens for clients. */
export interface Listener {
  readonly host: string;
  readonly port: number;
  /** Takes no more clients; those that are there are let go by `Clients`. */
  close(): Promise<void>;
}

/**
 * Listens for clients on a TCP socket; messages have `Content-Length` headers, as over stdio.
 * @param port 0 lets the system choose
 */
export async function listenOnSocket(clients: Clients, host: string, port: number): Promise<Listener> {
  const server = createServer(
    { keepAlive: true, keepAliveInitialDelay: keepAlive, noDelay: true },
    (socket) => {
      // What goes wrong on a socket ends in its closing; a client that is gone is told nothing.
      socket.on("error", () => {});
      clients.admit((gate) => wireOver(socket, gate, clients.limits.message));
    },
  );
  return listening(server, host, port);
}

/** Starts a server; rejects where the address cannot be had. */
export async function listening(server: Server, host: string, port: number): Promise<Listener> {
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen({ host, port, exclusive: true }, () => {
      server.off("error", reject);
      resolve();
    });
  });
  server.on("error", () => {});
  const address = server.address() as AddressInfo;
  return {
    host: address.address,
    port: address.port,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}

function wireOver(socket: Socket, gate: Gate, limit: number): Wire {
  const close = (why: Parting) => {
    if (why === "does not read") socket.destroy();
    // What still comes in is passed over: a socket that is closed with bytes unread takes the last answer with it.
    socket.removeAllListeners("data");
    socket.resume();
    socket.end();
    setTimeout(() => socket.destroy(), partingTime(why)).unref();
  };
  const writer = new BoundedWriter(new StreamMessageWriter(socket), () => {
    if (socket.writableLength <= backlogLimit) return true;
    close("does not read");
    return false;
  });
  const tell = refuser(writer);
  const refuse = (refusal: Refusal) => {
    const { id, ...error } = refusal;
    if (gate.isOpen) tell(refusal);
    else gate.turnAway(id, error, "bad message");
  };
  const options = {
    get limit() {
      return gate.isOpen ? limit : strangerMessage;
    },
    refuse,
  };
  return { reader: new StreamReader(socket, options), writer, close };
}
