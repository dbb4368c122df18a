import { resolve } from "node:path";
import { exitCodes, WrongUse } from "../base/errors.ts";
import type { Io } from "../base/io.ts";
import { nodeEnvironment, nodeTimers } from "../serve/feed/environment.ts";
import { Clients } from "../serve/transport/clients.ts";
import { type Listener, listenOnSocket } from "../serve/transport/socket.ts";
import { newToken, TokenFileError, tokenFromFile } from "../serve/transport/token.ts";
import { whenGone } from "../serve/transport/watch-process.ts";
import type { ClientLimits } from "../serve/transport/wire.ts";

export interface SocketOptions {
  /** Ports to listen on; 0 lets the system choose. At least one of them is given. */
  readonly socket: number | undefined;
  readonly websocket: number | undefined;
  readonly host: string;
  readonly tokenFile: string | undefined;
  readonly origins: readonly string[];
  readonly limits: ClientLimits;
  /** Process with which the feed ends. */
  readonly processId?: number | undefined;
}

/** Addresses that only this machine reaches. */
const loopback = /^(127\.\d+\.\d+\.\d+|::1)$/;

/** `keyside feed --socket | --websocket`: serves clients until the user or the system asks to stop, or a process ends. */
export async function feedSockets(options: SocketOptions, io: Io): Promise<number> {
  const { socket, websocket, host, origins, limits } = options;
  const token = await tokenFor(options, io);
  const clients = new Clients(token.value, limits, nodeEnvironment);
  const listeners: { readonly scheme: string; readonly listener: Listener }[] = [];
  const stop = async () => {
    const closed = listeners.map(({ listener }) => listener.close());
    clients.close();
    await Promise.all(closed);
  };
  let interrupt: () => void = () => {};
  const interrupted = new Promise<void>((resolve) => {
    interrupt = resolve;
  });
  const undo = io.onInterrupt(() => interrupt());
  const watch = whenGone(options.processId ?? null, nodeTimers, () => interrupt());
  try {
    if (socket !== undefined) {
      const listener = await opening(host, socket, () => listenOnSocket(clients, host, socket));
      listeners.push({ scheme: "tcp", listener });
    }
    if (websocket !== undefined) {
      const { listenOnWebSocket } = await import("../serve/transport/websocket.ts");
      const listener = await opening(host, websocket, () =>
        listenOnWebSocket(clients, host, websocket, origins),
      );
      listeners.push({ scheme: "ws", listener });
    }
    for (const { scheme, listener } of listeners) {
      const shown = listener.host.includes(":") ? `[${listener.host}]` : listener.host;
      io.stdout(`listening: ${scheme}://${shown}:${listener.port}\n`);
      if (!loopback.test(listener.host)) {
        io.stderr(
          `keyside: other machines can reach ${shown}:${listener.port}; what is sent is not encrypted, and the token lets anyone in who has it.\n`,
        );
      }
    }
    if (token.isNew) io.stdout(`token: ${token.value}\n`);
    await interrupted;
  } finally {
    watch.cancel();
    await stop();
    undo();
  }
  return exitCodes.clean;
}

async function tokenFor({ tokenFile }: SocketOptions, io: Io): Promise<{ value: string; isNew: boolean }> {
  if (tokenFile === undefined) return { value: newToken(), isNew: true };
  try {
    const { token, isOpen } = await tokenFromFile(resolve(io.cwd, tokenFile));
    if (isOpen) io.stderr(`keyside: others than its owner can read ${tokenFile}; chmod 600 fixes that.\n`);
    return { value: token, isNew: false };
  } catch (error) {
    if (error instanceof TokenFileError) throw new WrongUse(error.message);
    throw error;
  }
}

/** Starts to listen; @throws WrongUse where an address cannot be had */
export async function opening<T>(host: string, port: number, open: () => Promise<T>): Promise<T> {
  try {
    return await open();
  } catch (error) {
    const reasons: Readonly<Record<string, string>> = {
      EADDRINUSE: "is in use already; choose another port, or 0 for any that is free",
      EACCES: "may not be used without special rights; choose a port above 1023",
      EADDRNOTAVAIL: "is no address of this machine",
      ENOTFOUND: "is no address of this machine",
    };
    const { code = "", message } = error as NodeJS.ErrnoException;
    throw new WrongUse(`${host}:${port} ${reasons[code] ?? `cannot be listened on: ${message}`}.`);
  }
}
