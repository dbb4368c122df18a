import type { Answer, FromDesk, ToDesk } from "./link.ts";

/** A request as the page makes it; the wire counts it. */
export type Asked = ToDesk extends infer Message
  ? Message extends ToDesk
    ? Omit<Message, "request">
    : never
  : never;

/** What the page speaks to the desk with. */
export interface Wire {
  /** Says something, and gives what is answered; where the desk is not there, an answer that says so. */
  ask(message: Asked): Promise<Answer>;
}

/** Milliseconds until the desk is tried again after its connection has ended, and at most. */
const firstWait = 500;
const longestWait = 5000;

/** One WebSocket to the desk, made again where it ends. */
export class SocketWire implements Wire {
  private readonly open: () => WebSocket;
  private readonly hear: (message: Exclude<FromDesk, { type: "answer" }>) => void;
  private readonly tellThere: (isThere: boolean) => void;
  private readonly waiting = new Map<number, (answer: Answer) => void>();
  private socket: WebSocket | null = null;
  private requests = 0;
  private wait = firstWait;

  /**
   * @param open makes a connection
   * @param hear is given what the desk says of itself, in order
   * @param tellThere is told when the connection is there and when it has ended
   */
  constructor(
    open: () => WebSocket,
    hear: (message: Exclude<FromDesk, { type: "answer" }>) => void,
    tellThere: (isThere: boolean) => void,
  ) {
    [this.open, this.hear, this.tellThere] = [open, hear, tellThere];
    this.connect();
  }

  ask(message: Asked): Promise<Answer> {
    const request = ++this.requests;
    if (this.socket?.readyState !== WebSocket.OPEN) return Promise.resolve(unanswered(request));
    this.socket.send(JSON.stringify({ ...message, request }));
    return new Promise((resolve) => this.waiting.set(request, resolve));
  }

  private connect(): void {
    const socket = this.open();
    this.socket = socket;
    socket.addEventListener("open", () => {
      this.wait = firstWait;
      this.tellThere(true);
    });
    socket.addEventListener("message", ({ data }) => {
      const message = JSON.parse(String(data)) as FromDesk;
      if (message.type !== "answer") {
        this.hear(message);
        return;
      }
      this.waiting.get(message.request)?.(message);
      this.waiting.delete(message.request);
    });
    socket.addEventListener("close", () => {
      for (const [request, resolve] of this.waiting) resolve(unanswered(request));
      this.waiting.clear();
      this.tellThere(false);
      setTimeout(() => this.connect(), this.wait);
      this.wait = Math.min(longestWait, 2 * this.wait);
    });
  }
}

function unanswered(request: number): Answer {
  const message = "The desk does not answer: it has ended, or its connection is lost.";
  return { type: "answer", request, revision: -1, ok: false, reason: "failed", message };
}
