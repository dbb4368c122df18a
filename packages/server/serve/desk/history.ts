import { mergeReviews, type ReviewFile } from "@keyside/core";

/** What is saved where somebody asks for it: the text of the document, and that of the file of waivers. */
export interface Held {
  readonly text: string;
  /** "" where there is no file of waivers. */
  readonly waivers: string;
}

/** What stands on the desk and can be undone: what is saved, and the review, which is written at once. */
export interface Standing extends Held {
  readonly review: ReviewFile;
}

/** A piece of a text that became another one. */
interface Difference {
  readonly start: number;
  readonly before: string;
  readonly after: string;
}

interface Step {
  readonly label: string;
  readonly text: Difference;
  readonly waivers: Difference;
  /** The review before and after; null where it stayed as it was. */
  readonly review: { readonly before: ReviewFile; readonly after: ReviewFile } | null;
}

/** A step that may still grow, as that of a drag does. */
interface Growing {
  readonly group: string;
  readonly label: string;
  readonly from: Standing;
  to: Standing;
}

/** Characters that all steps together may hold; the oldest are forgotten beyond. Common practice: some hundred megabytes. */
const mostCharacters = 100_000_000;

/**
 * One history for all pages of a desk. A step keeps what it replaced, so that undoing it brings every byte back. Of the
 * review a step takes back what it did alone: what others wrote into the file since stays.
 */
export class History {
  private readonly most: number;
  private done: Step[] = [];
  private undone: Step[] = [];
  private growing: Growing | null = null;

  constructor(most = mostCharacters) {
    this.most = most;
  }

  /** What the step does that would be undone, done again; null for none. */
  get labels(): { readonly undo: string | null; readonly redo: string | null } {
    return {
      undo: (this.hasGrown() ? this.growing?.label : this.done.at(-1)?.label) ?? null,
      redo: this.undone.at(-1)?.label ?? null,
    };
  }

  /**
   * Takes a change that was made. What had been undone is forgotten.
   * @param group changes that follow one another with the same group are one step; null for a step of its own
   */
  take(from: Standing, to: Standing, label: string, group: string | null): void {
    this.undone = [];
    if (group !== null && this.growing?.group === group) {
      this.growing.to = to;
      return;
    }
    this.close();
    if (group === null) this.push({ label, ...differences(from, to) });
    else this.growing = { group, label, from, to };
  }

  /** What stands on the desk once the last step is undone; null where there is none. */
  undo(now: Standing): Standing | null {
    this.close();
    const step = this.done.pop();
    if (step === undefined) return null;
    this.undone.push(step);
    const { review } = step;
    return {
      text: back(now.text, step.text),
      waivers: back(now.waivers, step.waivers),
      review: review === null ? now.review : withChange(now.review, review.after, review.before),
    };
  }

  redo(now: Standing): Standing | null {
    this.close();
    const step = this.undone.pop();
    if (step === undefined) return null;
    this.done.push(step);
    const { review } = step;
    return {
      text: forth(now.text, step.text),
      waivers: forth(now.waivers, step.waivers),
      review: review === null ? now.review : withChange(now.review, review.before, review.after),
    };
  }

  /** Ends the step that may grow: what was done in it and taken back leaves no step. */
  private close(): void {
    const { growing } = this;
    const hasGrown = this.hasGrown();
    this.growing = null;
    if (growing === null || !hasGrown) return;
    const { from, to, label } = growing;
    this.push({ label, ...differences(from, to) });
  }

  private hasGrown(): boolean {
    const { growing } = this;
    return (
      growing !== null &&
      (growing.from.text !== growing.to.text ||
        growing.from.waivers !== growing.to.waivers ||
        growing.from.review !== growing.to.review)
    );
  }

  private push(step: Step): void {
    this.done.push(step);
    let length = 0;
    for (let at = this.done.length - 1; at >= 0; at--) {
      length += lengthOf(this.done[at]);
      // The newest step can be undone, however long it is.
      if (length <= this.most || at === this.done.length - 1) continue;
      this.done = this.done.slice(at + 1);
      return;
    }
  }
}

function lengthOf({ text, waivers }: Step): number {
  return text.before.length + text.after.length + waivers.before.length + waivers.after.length;
}

function differences(from: Standing, to: Standing): Omit<Step, "label"> {
  return {
    text: difference(from.text, to.text),
    waivers: difference(from.waivers, to.waivers),
    review: from.review === to.review ? null : { before: from.review, after: to.review },
  };
}

/** A review with the change that leads from one state of it to another. */
function withChange(now: ReviewFile, from: ReviewFile, to: ReviewFile): ReviewFile {
  return now === from ? to : mergeReviews(from, now, to).review;
}

/** What lies between what two texts begin and end with. */
function difference(before: string, after: string): Difference {
  const shorter = Math.min(before.length, after.length);
  let start = 0;
  while (start < shorter && before.charCodeAt(start) === after.charCodeAt(start)) start++;
  let end = 0;
  const most = shorter - start;
  while (
    end < most &&
    before.charCodeAt(before.length - 1 - end) === after.charCodeAt(after.length - 1 - end)
  )
    end++;
  return {
    start,
    before: before.slice(start, before.length - end),
    after: after.slice(start, after.length - end),
  };
}

function back(text: string, { start, before, after }: Difference): string {
  return text.slice(0, start) + before + text.slice(start + after.length);
}

function forth(text: string, { start, before, after }: Difference): string {
  return text.slice(0, start) + after + text.slice(start + before.length);
}
