import type { Disposable, Message, MessageReader } from "vscode-languageserver/node";
import { methods, refusals } from "../host/protocol.ts";
import { isToken } from "./token.ts";
import type { Parting } from "./wire.ts";

/**
 * Lets nothing of a client through until its first message has shown the token: `keyside/hello` carries it in its
 * params, `initialize` in its initializationOptions. A client that shows none, or another, is refused.
 */
export class Gate {
  isOpen = false;
  private isShut = false;
  private readonly token: string;
  private readonly enter: () => boolean;
  private readonly sendAway: (answer: Message, why: Parting) => void;

  /**
   * @param enter takes a place for a client that has shown the token; gives false where there is none
   * @param sendAway is handed the answer to a client that is not let in; it is to be sent, and the client let go
   */
  constructor(token: string, enter: () => boolean, sendAway: (answer: Message, why: Parting) => void) {
    this.token = token;
    this.enter = enter;
    this.sendAway = sendAway;
  }

  /** Sends away whoever has not shown the token and makes a mistake; there is no second try. */
  turnAway(id: string | number | null, error: object, why: Parting): void {
    if (this.isShut) return;
    this.isShut = true;
    this.sendAway({ jsonrpc: "2.0", id, error } as unknown as Message, why);
  }

  /** The same reader, with its messages held against the token. */
  guard(reader: MessageReader): MessageReader {
    return {
      onError: reader.onError,
      onClose: reader.onClose,
      onPartialMessage: reader.onPartialMessage,
      listen: (callback): Disposable => reader.listen((message) => this.pass(message, callback)),
      dispose: () => reader.dispose(),
    };
  }

  private pass(message: Message, callback: (message: Message) => void): void {
    if (this.isOpen) {
      callback(message);
      return;
    }
    const { id, method, params } = message as { id?: string | number; method?: unknown; params?: unknown };
    if (!this.isShut && id !== undefined && isToken(tokenIn(method, params), this.token)) {
      if (this.enter()) {
        this.isOpen = true;
        callback(withoutToken(message));
        return;
      }
      const full = {
        code: refusals["too-many-clients"].code,
        message: "There are as many clients as the feed takes; keyside feed --max-clients takes more.",
        data: { reason: "too-many-clients" },
      };
      this.turnAway(id, full, "too many");
      return;
    }
    const error = {
      code: refusals["wrong-token"].code,
      message: `The first message on a socket is ${methods.hello} with "token", or initialize with initializationOptions.token; the feed prints the token when it starts.`,
      data: { reason: "wrong-token" },
    };
    this.turnAway(id ?? null, error, "wrong token");
  }
}

function tokenIn(method: unknown, params: unknown): unknown {
  if (method === methods.hello) return (params as { token?: unknown } | undefined)?.token;
  if (method !== "initialize") return undefined;
  return (params as { initializationOptions?: { token?: unknown } } | undefined)?.initializationOptions
    ?.token;
}

/** The token is nobody's business behind the gate: options of an editor are settings there. */
function withoutToken(message: Message): Message {
  const { params } = message as { params?: { initializationOptions?: Record<string, unknown> } };
  if (params?.initializationOptions === undefined) return message;
  const { token: _, ...options } = params.initializationOptions;
  const { initializationOptions: __, ...rest } = params;
  const hasOptions = Object.keys(options).length > 0;
  return {
    ...message,
    params: hasOptions ? { ...rest, initializationOptions: options } : rest,
  } as Message;
}
