import { type Command, InvalidArgumentError, Option } from "commander";
import { WrongUse } from "../base/errors.ts";
import type { Io } from "../base/io.ts";

/** Bytes of the longest message that is taken over a socket, unless chosen otherwise. */
const defaultMessage = 64 * 1024 * 1024;
/** Seconds without a message after which a client is let go, unless chosen otherwise: a day's work. */
const defaultIdle = 8 * 60 * 60;
const defaultClients = 16;
/** Milliseconds that clients have for reading what is left, once their feed has ended. */
const unreadTime = 500;

/** Adds `keyside feed`. */
export function addFeedCommand(program: Command, io: Io, done: (code: number) => void): void {
  program
    .command("feed")
    .summary("serve notes to an editor or a host tool while keys are edited")
    .description(
      "Serves the Language Server Protocol to editors, and on the same connection the host channel to tools that hold no text. Over sockets it is reached from this machine alone, and asks for a token that it prints once.",
    )
    .option("--stdio", "serve one client over stdin and stdout")
    .addOption(portOption("--socket <PORT>", "listen on a TCP socket; 0 takes any free port"))
    .addOption(portOption("--websocket <PORT>", "listen for WebSocket clients; 0 takes any free port"))
    .option(
      "--host <ADDRESS>",
      "address to listen on; others than the default may be reached from outside",
      "127.0.0.1",
    )
    .option("--token-file <FILE>", "take the token from a file; it is written where there is none")
    .addOption(originOption())
    .addOption(
      sizeOption("--max-message <SIZE>", "longest message that is taken, such as 64MB").default(
        defaultMessage,
        "64MB",
      ),
    )
    .addOption(
      secondsOption(
        "--idle-timeout <SECONDS>",
        "let a client go that sends nothing for so long; 0 for never",
      ).default(defaultIdle),
    )
    .addOption(countOption("--max-clients <N>", "clients over sockets at once").default(defaultClients))
    // Spelt as the protocol's servers are called by editors.
    .addOption(processOption("--clientProcessId <PID>", "end when this process, whose feed it is, has gone"))
    .action(async (options: RawFeedOptions) => {
      const { stdio = false, socket, websocket, clientProcessId: processId } = options;
      const hasSocket = socket !== undefined || websocket !== undefined;
      if (stdio === hasSocket) {
        throw new WrongUse(
          stdio
            ? "A feed serves either over stdio or over sockets; start two of them for both."
            : "Say how the feed is reached: --stdio, --socket PORT or --websocket PORT.",
        );
      }
      hideClientProcess();
      if (stdio) {
        const { feedStdio } = await import("../serve/transport/stdio.ts");
        const { onInterrupt } = io;
        const code = await feedStdio(process.stdin, process.stdout, { onInterrupt, processId });
        // What a client does not read any more must not keep the process.
        endSoon(code);
        done(code);
        return;
      }
      const { feedSockets } = await import("./feed-sockets.ts");
      const { host, tokenFile, origin = [], maxMessage, idleTimeout, maxClients } = options;
      const limits = { message: maxMessage, idle: idleTimeout * 1000, clients: maxClients };
      done(await feedSockets({ socket, websocket, host, tokenFile, origins: origin, limits, processId }, io));
    });
}

/** Ends the process a little later, if it has not ended by then. */
function endSoon(code: number): void {
  setTimeout(() => process.exit(code), unreadTime).unref();
}

/** The library of the protocol would find the option too, and end the process in a way of its own, with code 1. */
function hideClientProcess(): void {
  const at = process.argv.findIndex((word) => word.startsWith("--clientProcessId"));
  if (at >= 0) process.argv.splice(at, process.argv[at].includes("=") ? 1 : 2);
}

interface RawFeedOptions {
  readonly stdio?: boolean;
  readonly socket?: number;
  readonly websocket?: number;
  readonly host: string;
  readonly tokenFile?: string;
  readonly origin?: readonly string[];
  readonly maxMessage: number;
  readonly idleTimeout: number;
  readonly maxClients: number;
  readonly clientProcessId?: number;
}

/** An option that takes a port. */
export function portOption(flags: string, what: string): Option {
  return parsed(flags, what, "A port is a whole number from 0 to 65535.", (text) =>
    /^\d{1,5}$/.test(text) && Number(text) <= 65535 ? Number(text) : null,
  );
}

/** The longest time that timers of Node can wait for, in seconds. */
const longestWait = 2_147_483;

function secondsOption(flags: string, what: string): Option {
  return parsed(flags, what, `It is a number of seconds from 0 to ${longestWait}.`, (text) => {
    const seconds = text.trim() === "" ? Number.NaN : Number(text);
    return seconds >= 0 && seconds <= longestWait ? seconds : null;
  });
}

function processOption(flags: string, what: string): Option {
  return parsed(flags, what, "It is the number of a process.", (text) =>
    /^[1-9]\d{0,9}$/.test(text) ? Number(text) : null,
  );
}

function countOption(flags: string, what: string): Option {
  return parsed(flags, what, "It is a whole number above 0.", (text) =>
    /^[1-9]\d{0,5}$/.test(text) ? Number(text) : null,
  );
}

function sizeOption(flags: string, what: string): Option {
  const units: Readonly<Record<string, number>> = { "": 1, B: 1, KB: 2 ** 10, MB: 2 ** 20, GB: 2 ** 30 };
  return parsed(flags, what, "A size is a whole number of bytes, KB, MB or GB, up to 2GB.", (text) => {
    const match = /^\s*(\d{1,12})\s*([kmg]?b)?\s*$/i.exec(text);
    const bytes = match === null ? 0 : Number(match[1]) * units[(match[2] ?? "").toUpperCase()];
    return bytes > 0 && bytes <= 2 ** 31 ? bytes : null;
  });
}

/** An origin as browsers send it: scheme, host and port, or the word null for pages from files. */
function originOption(): Option {
  return new Option(
    "--origin <ORIGIN>",
    "origin of web pages that are let in, such as http://localhost:8080; can be repeated",
  ).argParser((text: string, before: readonly string[] | undefined) => {
    if (text === "null") return [...(before ?? []), text];
    let origin: string | null = null;
    try {
      ({ origin } = new URL(text));
    } catch {
      // Said below.
    }
    if (origin === null || origin === "null" || origin !== text.replace(/\/$/, "")) {
      throw new InvalidArgumentError(
        "An origin is a scheme, a host and perhaps a port, such as http://localhost:8080; null stands for pages from files.",
      );
    }
    return [...(before ?? []), origin];
  });
}

function parsed(flags: string, what: string, right: string, parse: (text: string) => number | null): Option {
  return new Option(flags, what).argParser((text: string) => {
    const value = parse(text);
    if (value === null) throw new InvalidArgumentError(right);
    return value;
  });
}
