import type { Readable } from "node:stream";
import {
  AbstractMessageReader,
  type Disposable,
  ErrorCodes,
  type Message,
  type MessageWriter,
} from "vscode-languageserver/node";

/** Why a message was not taken, as JSON-RPC says it. */
export interface Refusal {
  readonly code: number;
  readonly message: string;
  /** Id of the request that was refused; null where none could be read. */
  readonly id: string | number | null;
}

export interface ReaderOptions {
  /** Bytes of the longest message that is taken; a longer one is passed over without being kept. */
  readonly limit: number;
  readonly refuse: (refusal: Refusal) => void;
}

/** Bytes of the longest message header; it holds a length and perhaps a type. */
const headerLimit = 4096;
const headerEnd = Buffer.from("\r\n\r\n");

/**
 * Reads messages with `Content-Length` headers from a stream. Whatever is not a message is refused and passed over,
 * and the next message is found behind it.
 */
export class StreamReader extends AbstractMessageReader {
  private readonly stream: Readable;
  private readonly options: ReaderOptions;
  private chunks: Buffer[] = [];
  private length = 0;
  /** Bytes of the body that is being read; -1 while a header is. */
  private body = -1;
  /** Bytes that are still to be passed over. */
  private passing = 0;

  constructor(stream: Readable, options: ReaderOptions) {
    super();
    this.stream = stream;
    this.options = options;
  }

  listen(callback: (message: Message) => void): Disposable {
    const onData = (data: Buffer | string) => this.take(Buffer.from(data as Buffer), callback);
    const onError = (error: Error) => this.fireError(error);
    const onClose = () => this.fireClose();
    this.stream.on("data", onData);
    this.stream.on("error", onError);
    this.stream.on("close", onClose);
    return {
      dispose: () => {
        this.stream.off("data", onData);
        this.stream.off("error", onError);
        this.stream.off("close", onClose);
      },
    };
  }

  private take(data: Buffer, callback: (message: Message) => void): void {
    let chunk = data;
    if (this.passing > 0) {
      const passed = Math.min(this.passing, chunk.length);
      this.passing -= passed;
      chunk = chunk.subarray(passed);
    }
    if (chunk.length > 0) {
      this.chunks.push(chunk);
      this.length += chunk.length;
    }
    while (this.body >= 0 ? this.takeBody(callback) : this.takeHeader());
  }

  private takeHeader(): boolean {
    if (this.length === 0) return false;
    const all = this.joined();
    const end = all.indexOf(headerEnd);
    if (end < 0) {
      if (all.length > headerLimit) {
        this.refuse("This is no message: there is no header that ends with an empty line.");
        // A header may have begun at the very end.
        this.keep(all.subarray(-64));
      }
      return false;
    }
    this.keep(all.subarray(end + headerEnd.length));
    const header = all.toString("latin1", Math.max(0, end - headerLimit), end);
    const found = [...header.matchAll(/content-length:[ \t]*(\d{1,15})[ \t]*(?=\r\n|$)/gi)].at(-1);
    if (found === undefined) {
      this.refuse("The header of a message names its length in bytes: Content-Length: 123.");
      return true;
    }
    if (!/^([\w-]+:[^\r\n]*(\r\n|$))+$/.test(header)) {
      this.refuse("There is something between two messages that is no header; it is left out.");
    }
    const length = Number(found[1]);
    if (length <= this.options.limit) {
      this.body = length;
      return true;
    }
    this.refuse(
      `A message of ${length} bytes is longer than the ${this.options.limit} bytes that are taken; send the shot in smaller parts, or allow longer messages.`,
    );
    const rest = this.joined();
    const passed = Math.min(length, rest.length);
    this.passing = length - passed;
    this.keep(rest.subarray(passed));
    return true;
  }

  private takeBody(callback: (message: Message) => void): boolean {
    if (this.length < this.body) return false;
    const all = this.joined();
    const text = all.toString("utf8", 0, this.body);
    this.keep(all.subarray(this.body));
    this.body = -1;
    let value: unknown;
    try {
      value = JSON.parse(text);
    } catch {
      this.refuse(notJson(text));
      return true;
    }
    const message = messageFrom(value);
    if ("refusal" in message) this.options.refuse(message.refusal);
    else callback(message.taken);
    return true;
  }

  private refuse(message: string): void {
    this.options.refuse({ code: ErrorCodes.ParseError, message, id: null });
  }

  private joined(): Buffer {
    if (this.chunks.length !== 1) this.chunks = [Buffer.concat(this.chunks)];
    return this.chunks[0];
  }

  private keep(rest: Buffer): void {
    this.chunks = rest.length === 0 ? [] : [rest];
    this.length = rest.length;
  }
}

/** A reader that answers what it refuses. */
export function readerOver(stream: Readable, writer: MessageWriter, limit: number): StreamReader {
  return new StreamReader(stream, { limit, refuse: refuser(writer) });
}

/** Answers refusals; a client that is gone is told nothing. */
export function refuser(writer: MessageWriter): (refusal: Refusal) => void {
  return ({ code, message, id }) => {
    const answer = { jsonrpc: "2.0", id, error: { code, message } } as Message;
    void writer.write(answer).catch(() => {});
  };
}

/** Why a text is no message: it cannot be read as JSON. */
export function notJson(text: string): string {
  const shown = text.length > 40 ? `${text.slice(0, 40)}…` : text;
  return `A message is one JSON text; this one of ${text.length} characters cannot be read: ${shown}`;
}

/** A value as a message, or why it is none. */
export function messageFrom(value: unknown): { readonly taken: Message } | { readonly refusal: Refusal } {
  const refused = (message: string, id: Refusal["id"] = null) => ({
    refusal: { code: ErrorCodes.InvalidRequest, message, id },
  });
  if (typeof value !== "object" || value === null) return refused("A message is a JSON object.");
  if (Array.isArray(value)) return refused("Messages are sent one by one, not as a list.");
  const { method, id, params, result, error, ...rest } = value as Record<string, unknown>;
  const hasId = typeof id === "string" || (typeof id === "number" && Number.isFinite(id));
  const ownId = hasId ? (id as string | number) : null;
  if (id !== undefined && !hasId) {
    // An answer to something that could not be read has no id; there is nobody to give it to.
    if (id === null && method === undefined && error !== undefined) return refused("This answers nothing.");
    return refused("The id of a message is a text or a number.");
  }
  if (typeof method === "string") {
    if (params !== undefined && params !== null && typeof params !== "object") {
      return refused(`The params of "${method}" are an object.`, ownId);
    }
    if (method === "$/cancelRequest" && !isId((params as { id?: unknown } | null | undefined)?.id)) {
      return refused("A request is cancelled by its id.", ownId);
    }
    const taken = { ...rest, method, ...(hasId ? { id } : {}), ...(params == null ? {} : { params }) };
    return { taken: taken as unknown as Message };
  }
  if (method !== undefined) return refused("The method of a message is a text.", ownId);
  const isAnswer = hasId && (result !== undefined || (typeof error === "object" && error !== null));
  return isAnswer ? { taken: value as Message } : refused("A message has a method, or answers one.", ownId);
}

function isId(id: unknown): boolean {
  return typeof id === "string" || typeof id === "number";
}
