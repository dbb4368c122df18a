import type { Desk } from "./desk.ts";
import type { DeskRemark, DeskStroke, NoteWeight, RemarkWeight, ReviewChange } from "./link.ts";

/** Frames before and behind one at which a line was drawn, over which a part is to go along it. Common practice: half a second. */
const around = 6;

/** What the hand asks of the review: remarks, what becomes of them, and decisions about notes. */
export class ReviewActions {
  private readonly desk: Desk;
  private said = "";

  constructor(desk: Desk) {
    this.desk = desk;
  }

  /** Who reviews: as somebody said last on this page, else as the desk knows. */
  get by(): string {
    return this.said === "" ? this.desk.review.reviewer : this.said;
  }
  set by(by: string) {
    this.said = by;
  }

  /** Adds a remark and chooses it. Gives whether it was added. */
  async add(remark: Extract<ReviewChange, { kind: "add" }>["remark"]): Promise<boolean> {
    const answer = await this.ask("add a remark", { kind: "add", remark });
    if (answer === null) return false;
    this.desk.chooseRemark(answer.remark ?? null);
    return true;
  }

  /** Changes a remark in some of what it says. */
  async change(
    { id }: Pick<DeskRemark, "id">,
    label: string,
    to: Extract<ReviewChange, { kind: "change" }>["to"],
  ): Promise<boolean> {
    return (await this.ask(label, { kind: "change", id, to, by: this.by })) !== null;
  }

  /** Marks a remark as done, or as still open. */
  async toggleDone(remark: DeskRemark): Promise<void> {
    const isDone = !remark.isDone;
    await this.change(remark, isDone ? "mark a remark as done" : "open a remark again", { isDone });
  }

  weigh(remark: DeskRemark, weight: RemarkWeight): Promise<boolean> {
    return this.change(remark, "weigh a remark", { weight });
  }

  addStroke(remark: DeskRemark, stroke: DeskStroke): Promise<boolean> {
    return this.change(remark, "draw a line", { strokes: [...remark.strokes, stroke] });
  }

  /** Declares a stroke to be the path that the remark's part is to take, or takes that back. */
  async toggleTarget(remark: DeskRemark, at: number): Promise<void> {
    const { node, strokes } = remark;
    if (node === null) {
      this.desk.say("A target path needs a part that is to take it: give the remark one first.");
      return;
    }
    const stroke = strokes[at];
    if (stroke === undefined) return;
    const isTarget = stroke.target === null;
    const changed = isTarget
      ? { ...stroke, frames: this.targetFrames(stroke.frames), target: node }
      : { ...stroke, target: null };
    await this.change(remark, isTarget ? "make a line a target path" : "make a target path a line alone", {
      strokes: strokes.map((other, n) => (n === at ? changed : other)),
    });
  }

  /** The frames over which a part goes along a line: of one that speaks of a single frame, those around it. */
  targetFrames([from, to]: readonly [number, number]): readonly [number, number] {
    const [first, last] = this.desk.shot?.range ?? [from, to];
    if (from !== to) return [from, to];
    const frames: readonly [number, number] = [Math.max(first, from - around), Math.min(last, to + around)];
    this.desk.say(`The part is to go along the line from frame ${frames[0]} to ${frames[1]}.`);
    return frames;
  }

  /** Lets a remark, and its lines, speak of other frames. */
  async span(remark: DeskRemark, [a, b]: readonly [number, number]): Promise<void> {
    const frames: readonly [number, number] = [Math.min(a, b), Math.max(a, b)];
    await this.change(remark, "let a remark speak of other frames", {
      frames,
      strokes: remark.strokes.map((stroke) => ({ ...stroke, frames })),
    });
  }

  async removeStroke(remark: DeskRemark, at: number): Promise<void> {
    await this.change(remark, "take a line out", { strokes: remark.strokes.filter((_, n) => n !== at) });
  }

  async remove({ id }: DeskRemark): Promise<void> {
    await this.ask("take a remark out", { kind: "remove", id });
  }

  /** Says that a computed note stands, or takes that back. */
  async toggleKept(fingerprint: string): Promise<void> {
    const isKept = this.desk.review.decision(fingerprint)?.isKept !== true;
    const label = isKept ? "keep a note" : "keep a note no longer";
    await this.ask(label, { kind: "decide", fingerprint, to: { isKept }, by: this.by });
  }

  /** Drops a computed note: it is meant, or wrong, and the reason says so. */
  async drop(fingerprint: string, reason: string): Promise<void> {
    await this.ask("drop a note", { kind: "decide", fingerprint, to: { reason }, by: this.by });
  }

  /** Takes back that a note was dropped. */
  async takeBack(id: string): Promise<void> {
    await this.ask("take a dropped note back", { kind: "take-back", id });
  }

  /** Gives a computed note other words; "" gives it back its own. */
  async reword(fingerprint: string, text: string): Promise<boolean> {
    const to = { text: text === "" ? null : text };
    return (await this.ask("reword a note", { kind: "decide", fingerprint, to, by: this.by })) !== null;
  }

  /** Raises or lowers a computed note; null lets its tier speak. */
  async raise(fingerprint: string, weight: NoteWeight | null): Promise<void> {
    const label = weight === null ? "let a note's tier speak" : `make a note a ${weight}`;
    await this.ask(label, { kind: "decide", fingerprint, to: { weight }, by: this.by });
  }

  /** Puts what is chosen a place higher or lower on the list. */
  async place(by: 1 | -1): Promise<void> {
    const { desk } = this;
    const id = desk.chosenRemark ?? desk.chosen;
    const order = id === null ? null : desk.review.moved(desk.notes.all, id, by);
    if (order === null) return;
    await this.ask("put the list in order", { kind: "order", order, by: this.by });
  }

  private async ask(label: string, change: ReviewChange) {
    const answer = await this.desk.ask({ type: "review", label, change });
    if (answer.ok) return answer;
    this.desk.say(answer.message);
    return null;
  }
}
