import { createServer } from "node:http";
import type { Duplex } from "node:stream";
import {
  AbstractMessageReader,
  AbstractMessageWriter,
  type Disposable,
  ErrorCodes,
  type Message,
} from "vscode-languageserver/node";
import { WebSocket, WebSocketServer } from "ws";
import type { Clients } from "./clients.ts";
import type { Gate } from "./gate.ts";
import { watchOver } from "./heartbeat.ts";
import { messageFrom, notJson, type Refusal, refuser } from "./reader.ts";
import { type Listener, listening } from "./socket.ts";
import { backlogLimit, type Parting, partingTime, strangerMessage, type Wire } from "./wire.ts";

/** Milliseconds that a client has for a request of HTTP. */
const httpTime = 10_000;
/** Codes of RFC 6455, section 7.4.1. */
const closing = { done: 1000, goingAway: 1001, policy: 1008 } as const;

/**
 * Listens for clients over WebSocket; each text message is one JSON-RPC message.
 * @param port 0 lets the system choose
 * @param origins web pages' origins that are let in; programs that are no browser name none, and are
 */
export async function listenOnWebSocket(
  clients: Clients,
  host: string,
  port: number,
  origins: readonly string[],
): Promise<Listener> {
  const sockets = new WebSocketServer({
    noServer: true,
    maxPayload: clients.limits.message,
    perMessageDeflate: false,
  });
  const server = createServer({ headersTimeout: httpTime, requestTimeout: httpTime }, (request, response) => {
    request.resume();
    response.writeHead(426, { "Content-Type": "text/plain", Upgrade: "websocket", Connection: "close" });
    response.end("This is the feed of Keyside. It is spoken to over WebSocket.\n");
  });
  server.on("clientError", (_error, socket) => socket.destroy());
  server.on("upgrade", (request, socket, head) => {
    socket.on("error", () => {});
    const { origin } = request.headers;
    if (origin !== undefined && !origins.includes(origin)) {
      turnAway(socket, 403, `Pages of ${origin} are not let in; keyside feed --origin names those that are.`);
    } else sockets.handleUpgrade(request, socket, head, (client) => admit(clients, client, socket));
  });
  // Connections that have asked for nothing yet are nobody's: they must not keep the feed from ending.
  const silent = new Set<Duplex>();
  server.on("connection", (socket) => {
    silent.add(socket);
    socket.on("close", () => silent.delete(socket));
  });
  server.on("upgrade", (_request, socket) => silent.delete(socket));
  const listener = await listening(server, host, port);
  return {
    ...listener,
    close: () => {
      const closed = listener.close();
      for (const socket of silent) socket.destroy();
      return closed;
    },
  };
}

function turnAway(socket: Duplex, status: 403, message: string): void {
  const body = `${message.replace(/[^\x20-\x7e]/g, "?")}\n`;
  socket.end(
    `HTTP/1.1 ${status} Forbidden\r\nContent-Type: text/plain\r\nContent-Length: ${body.length}\r\nConnection: close\r\n\r\n${body}`,
    () => socket.destroy(),
  );
}

function admit(clients: Clients, client: WebSocket, socket: Duplex): void {
  // What goes wrong ends in the closing of the connection, with the code that says why.
  client.on("error", () => {});
  watchOver(client);
  clients.admit((gate) => {
    limitStranger(client, socket, gate);
    return wireOver(client, gate);
  });
}

/** Before the token was shown, not even the bytes of a long message are taken in. */
function limitStranger(client: WebSocket, socket: Duplex, gate: Gate): void {
  let bytes = 0;
  const count = (chunk: Buffer) => {
    bytes += chunk.length;
    if (gate.isOpen) socket.off("data", count);
    else if (bytes > strangerMessage) client.terminate();
  };
  socket.on("data", count);
}

function wireOver(client: WebSocket, gate: Gate): Wire {
  const close = (why: Parting) => {
    if (why === "does not read") client.terminate();
    else if (why === "done") client.close(closing.done);
    else if (why === "shutdown") client.close(closing.goingAway, "The feed was stopped.");
    else client.close(closing.policy, why);
    setTimeout(() => client.terminate(), partingTime(why)).unref();
  };
  const writer = new WebSocketWriter(client, close);
  const tell = refuser(writer);
  const refuse = (refusal: Refusal) => {
    const { id, ...error } = refusal;
    if (gate.isOpen) tell(refusal);
    else gate.turnAway(id, error, "bad message");
  };
  return { reader: new WebSocketReader(client, refuse), writer, close };
}

class WebSocketReader extends AbstractMessageReader {
  private readonly client: WebSocket;
  private readonly refuse: (refusal: Refusal) => void;

  constructor(client: WebSocket, refuse: (refusal: Refusal) => void) {
    super();
    this.client = client;
    this.refuse = refuse;
  }

  listen(callback: (message: Message) => void): Disposable {
    const onMessage = (data: Buffer, isBinary: boolean) => this.take(data, isBinary, callback);
    const onClose = () => this.fireClose();
    this.client.on("message", onMessage);
    this.client.on("close", onClose);
    return {
      dispose: () => {
        this.client.off("message", onMessage);
        this.client.off("close", onClose);
      },
    };
  }

  private take(data: Buffer, isBinary: boolean, callback: (message: Message) => void): void {
    const refuse = (message: string) => this.refuse({ code: ErrorCodes.ParseError, message, id: null });
    if (isBinary) {
      refuse("A message is one JSON text; this one came as binary.");
      return;
    }
    const text = data.toString("utf8");
    let value: unknown;
    try {
      value = JSON.parse(text);
    } catch {
      refuse(notJson(text));
      return;
    }
    const message = messageFrom(value);
    if ("refusal" in message) this.refuse(message.refusal);
    else callback(message.taken);
  }
}

class WebSocketWriter extends AbstractMessageWriter {
  private readonly client: WebSocket;
  private readonly close: (why: Parting) => void;

  constructor(client: WebSocket, close: (why: Parting) => void) {
    super();
    this.client = client;
    this.close = close;
  }

  async write(message: Message): Promise<void> {
    if (this.client.readyState !== WebSocket.OPEN) return;
    if (this.client.bufferedAmount > backlogLimit) this.close("does not read");
    else this.client.send(JSON.stringify(message));
  }

  end(): void {
    this.client.close(closing.done);
  }
}
