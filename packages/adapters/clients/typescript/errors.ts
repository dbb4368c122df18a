/** The feed refused a request. */
export class FeedError extends Error {
  override readonly name = "FeedError";
  readonly code: number;
  /** Why, for example "stale-revision". */
  readonly reason: string | null;
  readonly data: Readonly<Record<string, unknown>>;

  constructor(error: { code: number; message: string; data?: Record<string, unknown> }) {
    super(error.message);
    this.code = error.code;
    this.data = error.data ?? {};
    this.reason = typeof this.data["reason"] === "string" ? this.data["reason"] : null;
  }
}

/** The connection to the feed ended. */
export class FeedGone extends Error {
  override readonly name = "FeedGone";
}

/** An edit that cannot be made, whatever the shot holds; it was not sent, and cost no revision. */
export class EditError extends Error {
  override readonly name = "EditError";
}

/** More keys wait for the feed than the queue holds; nothing of the call was taken. */
export class QueueFull extends Error {
  override readonly name = "QueueFull";
}
