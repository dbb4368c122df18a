import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { Duplex } from "node:stream";
import { linkProtocol } from "@keyside/desk/link";
import { WebSocket, WebSocketServer } from "ws";
import { watchOver } from "../transport/heartbeat.ts";
import { listening } from "../transport/socket.ts";
import { isToken } from "../transport/token.ts";
import { backlogLimit } from "../transport/wire.ts";
import type { Answers } from "./answers.ts";
import type { Desk } from "./desk.ts";
import type { Footage } from "./footage.ts";
import type { PageFile } from "./page-files.ts";
import { sendFootage } from "./send-footage.ts";

/** The only address on which a desk listens: nobody outside of this machine reaches it. */
const loopback = "127.0.0.1";
/** Bytes of the longest message of a page: edits of some hundred thousand keys. */
const longestMessage = 32 * 1024 * 1024;
/** Pages at once. */
const mostPages = 16;
/** Milliseconds for a request of HTTP. */
const httpTime = 10_000;
/** Milliseconds that pages have for reading what they are told last. */
const partingTime = 200;
/** RFC 6455, section 7.4.1. */
const goingAway = 1001;

export interface DeskServer {
  readonly port: number;
  /** Takes no more pages, and lets those go that are there. */
  close(): Promise<void>;
}

/**
 * Serves a desk's page and its link, on this machine alone.
 * @param port 0 lets the system choose
 * @param token what a page has to show before it is told anything
 */
export async function serveDesk(
  desk: Desk,
  answers: Answers,
  files: ReadonlyMap<string, PageFile>,
  port: number,
  token: string,
): Promise<DeskServer> {
  let hosts: ReadonlySet<string> = new Set();
  let policy = "";
  const server = createServer({ headersTimeout: httpTime, requestTimeout: httpTime }, (request, response) => {
    request.resume();
    serveFile(request, response, { files, footage: desk.footage, hosts, policy });
  });
  server.on("clientError", (_error, socket) => socket.destroy());
  const sockets = new WebSocketServer({
    noServer: true,
    maxPayload: longestMessage,
    perMessageDeflate: false,
    handleProtocols: () => linkProtocol,
  });
  server.on("upgrade", (request, socket, head) => {
    socket.on("error", () => {});
    const why = refusalOf(request, hosts, token);
    if (why !== null) turnAway(socket, why);
    else if (sockets.clients.size >= mostPages) turnAway(socket, "Too many pages are open on this desk.");
    else sockets.handleUpgrade(request, socket, head, (client) => admit(client, desk, answers, ++pages));
  });
  let pages = 0;
  const open = new Set<Duplex>();
  server.on("connection", (socket) => {
    open.add(socket);
    socket.on("close", () => open.delete(socket));
  });
  const listener = await listening(server, loopback, port);
  hosts = new Set([`${loopback}:${listener.port}`, `localhost:${listener.port}`]);
  policy = policyFor(hosts);
  return {
    port: listener.port,
    async close() {
      const closed = listener.close();
      for (const client of sockets.clients) client.close(goingAway, "The desk was stopped.");
      // Connections that say nothing must not keep the desk from ending.
      const cut = setTimeout(() => {
        for (const socket of open) socket.destroy();
      }, partingTime);
      await closed;
      clearTimeout(cut);
    },
  };
}

interface Served {
  readonly footage: Footage | null;
  readonly files: ReadonlyMap<string, PageFile>;
  readonly hosts: ReadonlySet<string>;
  readonly policy: string;
}

/** A page runs nothing but its own script, and speaks to nobody but its desk. */
function policyFor(hosts: ReadonlySet<string>): string {
  const links = [...hosts].map((host) => `ws://${host}`).join(" ");
  return [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data:",
    "media-src 'self'",
    `connect-src 'self' ${links}`,
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join("; ");
}

/** What is served is for the desk's own page alone, and is what its type says. */
const ownHeaders = {
  "X-Content-Type-Options": "nosniff",
  "Referrer-Policy": "no-referrer",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Cache-Control": "no-store",
};

function serveFile(
  request: IncomingMessage,
  response: ServerResponse,
  { files, footage, hosts, policy }: Served,
): void {
  const plain = (status: number, message: string, more: Record<string, string> = {}) => {
    response.writeHead(status, {
      "Content-Type": "text/plain; charset=utf-8",
      "X-Content-Type-Options": "nosniff",
      ...more,
    });
    response.end(`${message}\n`);
  };
  const [path] = (request.url ?? "").split("?", 1);
  const file = files.get(path);
  const shown = footage?.fileAt(path) ?? null;
  // A name that somebody else has made lead to this machine is not this desk's.
  if (!hosts.has(request.headers.host ?? "")) plain(403, "This desk goes by another address.");
  else if (request.method !== "GET") plain(405, "The desk's files are only read.", { Allow: "GET" });
  else if (shown !== null) {
    sendFootage(request, response, shown, ownHeaders).catch(() => response.destroy());
  } else if (file === undefined) plain(404, "The desk has no such file.");
  else sendFile(response, file, policy);
}

function sendFile(response: ServerResponse, file: PageFile, policy: string): void {
  response.writeHead(200, {
    "Content-Type": file.type,
    "Content-Length": file.bytes.length,
    "Content-Security-Policy": policy,
    ...ownHeaders,
  });
  response.end(file.bytes);
}

/** Why a link is not opened; null where it is. */
function refusalOf(request: IncomingMessage, hosts: ReadonlySet<string>, token: string): string | null {
  const { host = "", origin } = request.headers;
  if (!hosts.has(host)) return "This desk goes by another address.";
  // Programs that are no browser name no origin; they need the token all the same.
  if (origin !== undefined && origin !== `http://${host}`) return "Pages of other origins are not let in.";
  if (request.url !== "/link") return "There is no such link.";
  const [protocol, shown] = (request.headers["sec-websocket-protocol"] ?? "")
    .split(",")
    .map((one) => one.trim());
  if (protocol !== linkProtocol) return `The link is spoken as ${linkProtocol}.`;
  return isToken(shown, token) ? null : "The token is not this desk's.";
}

function turnAway(socket: Duplex, message: string): void {
  const body = `${message}\n`;
  socket.end(
    `HTTP/1.1 403 Forbidden\r\nContent-Type: text/plain\r\nContent-Length: ${body.length}\r\nConnection: close\r\n\r\n${body}`,
    () => socket.destroy(),
  );
}

function admit(client: WebSocket, desk: Desk, answers: Answers, number: number): void {
  const page = {
    number,
    send(text: string) {
      if (client.readyState !== WebSocket.OPEN) return;
      // A page that does not read is let go; it is told all when it comes again.
      if (client.bufferedAmount > backlogLimit) client.terminate();
      else client.send(text);
    },
  };
  client.on("error", () => {});
  watchOver(client);
  client.on("close", () => desk.leave(page));
  client.on("message", (data: Buffer, isBinary) => {
    if (!isBinary) void answers.take(page, data.toString("utf8"));
  });
  desk.join(page);
}
