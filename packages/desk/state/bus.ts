/** What can change on the desk. */
export type Topic =
  /** Another shot, or all of it anew. */
  | "shot"
  /** Curves, or which are shown. */
  | "curves"
  | "picked"
  /** Which frames are seen. */
  | "view"
  /** The frame that is shown. */
  | "frame"
  | "notes"
  /** Remarks, decisions, their order, how far parts are from their targets; or what is chosen of them. */
  | "review"
  /** Which note is chosen or pointed at. */
  | "chosen"
  /** How the shot stands against its file, its history, the feed. */
  | "standing";

/** Tells who listens what has changed. */
export class Bus {
  private readonly listeners = new Map<Topic, (() => void)[]>();

  on(topics: readonly Topic[], act: () => void): void {
    for (const topic of topics) {
      const list = this.listeners.get(topic) ?? [];
      list.push(act);
      this.listeners.set(topic, list);
    }
  }

  tell(topic: Topic): void {
    const list = this.listeners.get(topic);
    if (list !== undefined) for (let i = 0; i < list.length; i++) list[i]();
  }
}
