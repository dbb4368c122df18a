import type { KeyEdit } from "@keyside/core/curves";
import type { Drag } from "../curves/drag.ts";
import type { Answer } from "../link.ts";

/** What a step is called, and what belongs to it. */
export interface Step {
  readonly group: string;
  readonly label: string;
}

/** Edits are sent one request after the other; of a drag the newest is sent, once a picture at most. */
export class Sender {
  private readonly send: (edits: readonly KeyEdit[], step: Step) => Promise<Answer>;
  private readonly atNextPicture: (act: () => void) => void;
  private readonly refused: (answer: Answer & { ok: false }) => void;
  private drag: { readonly drag: Drag; readonly step: Step; done: (() => void) | null } | null = null;
  private isUnderWay = false;
  private isDue = false;
  private line: Promise<unknown> = Promise.resolve();
  private letGo: Promise<void> = Promise.resolve();
  private groups = 0;

  /**
   * @param atNextPicture calls back before the next picture is drawn
   * @param refused is told what the desk would not make; a drag is over then
   */
  constructor(
    send: (edits: readonly KeyEdit[], step: Step) => Promise<Answer>,
    atNextPicture: (act: () => void) => void,
    refused: (answer: Answer & { ok: false }) => void,
  ) {
    [this.send, this.atNextPicture, this.refused] = [send, atNextPicture, refused];
  }

  /** A step of the history that nothing else belongs to. */
  step(label: string): Step {
    return { group: `${++this.groups}`, label };
  }

  /** Whether a drag is under way, or its last edit is. */
  get isDragging(): boolean {
    return this.drag !== null;
  }

  /** Begins a drag; what it gives is sent as it goes on. */
  begin(drag: Drag): void {
    const { drag: before } = this;
    if (before !== null && before.done !== null) {
      // The hand let go a moment ago and the answer is still out: what that drag has left goes its own way.
      const left = before.drag.take();
      if (left.length > 0) void this.make(before.step, () => left);
      before.done();
    }
    this.drag = { drag, step: this.step(drag.label), done: null };
  }

  /** The hand has moved. */
  moved(): void {
    if (this.drag === null || this.isDue) return;
    this.isDue = true;
    this.atNextPicture(() => {
      this.isDue = false;
      void this.flush();
    });
  }

  /** The hand has let go; gives when the last of the drag is answered. */
  end(): Promise<void> {
    const { drag } = this;
    if (drag === null) return Promise.resolve();
    this.letGo = new Promise((resolve) => {
      drag.done = resolve;
      void this.flush();
    });
    return this.letGo;
  }

  /** Waits until all that was asked for by now is answered: what saves, or goes a step back, comes behind it. */
  async settled(): Promise<void> {
    await this.letGo;
    await this.line;
  }

  /**
   * Makes edits behind all that was asked for before.
   * @param make gives them as the shot is by then; none where there is nothing to do
   * @returns whether they were made
   */
  make(step: Step, make: () => readonly KeyEdit[]): Promise<boolean> {
    const made = this.line.then(async () => {
      const edits = make();
      if (edits.length === 0) return false;
      const answer = await this.send(edits, step);
      if (!answer.ok) this.refused(answer);
      return answer.ok;
    });
    this.line = made.catch(() => undefined);
    return made;
  }

  private async flush(): Promise<void> {
    const { drag } = this;
    if (drag === null || this.isUnderWay) return;
    const edits = drag.drag.take();
    if (edits.length === 0) {
      if (drag.done !== null) this.finish(drag.done);
      return;
    }
    this.isUnderWay = true;
    const answer = await this.send(edits, drag.step);
    this.isUnderWay = false;
    if (!answer.ok) {
      this.refused(answer);
      this.finish(drag.done ?? (() => undefined));
    } else if (drag.done !== null) void this.flush();
    else this.moved();
  }

  private finish(done: () => void): void {
    this.drag = null;
    done();
  }
}
