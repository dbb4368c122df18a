import { ErrorCodes, type Message, type MessageReader, type MessageWriter } from "vscode-languageserver/node";
import { filtered } from "./filtered.ts";
import { faultIn } from "./params.ts";

/** Messages of the host channel, which has a greeting of its own instead of `initialize`. */
const hostPrefix = "keyside/";

/** How far a client has come in the protocol's life cycle. */
type Stage = "before initialize" | "served" | "shut down";

/**
 * Holds a client to the protocol: what comes before `initialize` or after `shutdown`, and params that are not what the
 * protocol says, never reach the feed. Requests are answered with the protocol's own errors; a notification, which
 * cannot be answered, is left out, and the log tells why.
 */
export class Conduct {
  private readonly writer: MessageWriter;
  private stage: Stage = "before initialize";
  /** Whether the client speaks the host channel, and so may shut down without `initialize`. */
  private isHost = false;

  constructor(writer: MessageWriter) {
    this.writer = writer;
  }

  /** The same reader; it passes on what may be served. */
  guard(reader: MessageReader): MessageReader {
    return filtered(reader, (message) => this.passes(message));
  }

  private passes(message: Message): boolean {
    const { method, id, params } = message as { method?: string; id?: string | number; params?: unknown };
    if (method === undefined) return true;
    return id === undefined ? this.takesNotice(method, params) : this.takesRequest(method, id, params);
  }

  private takesRequest(method: string, id: string | number, params: unknown): boolean {
    const refuse = (code: number, why: string) => {
      this.write({ id, error: { code, message: why } });
      return false;
    };
    if (this.stage === "shut down") {
      return refuse(
        ErrorCodes.InvalidRequest,
        `"${method}" came after shutdown; only exit is taken after it.`,
      );
    }
    if (method.startsWith(hostPrefix)) {
      this.isHost = true;
      return true;
    }
    if (method === "initialize") {
      if (this.stage === "served") {
        return refuse(ErrorCodes.InvalidRequest, "initialize is sent once for a connection.");
      }
    } else if (this.stage === "before initialize" && !(this.isHost && method === "shutdown")) {
      return refuse(
        ErrorCodes.ServerNotInitialized,
        `"${method}" came before initialize, which is sent first.`,
      );
    }
    const fault = faultIn(method, params, true);
    if (fault !== null) {
      return refuse(ErrorCodes.InvalidParams, `The params of ${method} are wrong: ${fault.message}`);
    }
    if (method === "initialize") this.stage = "served";
    else if (method === "shutdown") this.stage = "shut down";
    return true;
  }

  private takesNotice(method: string, params: unknown): boolean {
    // Whoever ends a connection is heard at any time.
    if (method === "exit" || method.startsWith("$/")) return true;
    if (this.stage === "shut down") return false;
    if (method.startsWith(hostPrefix)) return true;
    if (this.stage === "before initialize") return false;
    const fault = faultIn(method, params, false);
    if (fault === null) return true;
    const told = `Keyside left out ${method}, whose params are wrong: ${fault.message}`;
    this.write({ method: "window/logMessage", params: { type: 2, message: told } });
    return false;
  }

  private write(message: object): void {
    const whole = { jsonrpc: "2.0", ...message } as Message;
    // A client that is gone is told nothing.
    void this.writer.write(whole).catch(() => {});
  }
}

/**
 * A writer that keeps the engine's own words from clients: where a request failed for a reason that nobody foresaw, its
 * answer says so, and the log tells what happened.
 */
export function plainErrors(writer: MessageWriter): MessageWriter {
  return {
    onError: writer.onError,
    onClose: writer.onClose,
    write: async (message) => {
      const { error } = message as { error?: { code?: unknown; message?: unknown } };
      if (error?.code !== ErrorCodes.InternalError) return writer.write(message);
      const plain = {
        code: ErrorCodes.InternalError,
        message: "Keyside itself failed here; the log says how.",
      };
      const params = { type: 1, message: `Keyside itself failed: ${String(error.message)}` };
      await writer.write({ jsonrpc: "2.0", method: "window/logMessage", params } as unknown as Message);
      return writer.write({ ...message, error: plain } as unknown as Message);
    },
    end: () => writer.end(),
    dispose: () => writer.dispose(),
  };
}
