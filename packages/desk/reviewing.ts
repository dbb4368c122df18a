import type { Desk } from "./desk.ts";
import { noteWeights } from "./panes/decision-part.ts";
import type { MotionPane } from "./panes/motion-pane.ts";
import { type RemarkForm, weights } from "./panes/remark-form.ts";
import type { ReviewActions } from "./review-actions.ts";
import { strokeFrom } from "./state/review.ts";

/** What letters and buttons of the review do, on what is chosen or pointed at. */
export class Reviewing {
  private readonly desk: Desk;
  private readonly actions: ReviewActions;
  private readonly form: RemarkForm;
  private readonly motion: MotionPane;

  constructor(desk: Desk, actions: ReviewActions, form: RemarkForm, motion: MotionPane) {
    [this.desk, this.actions, this.form, this.motion] = [desk, actions, form, motion];
  }

  /** Opens the form of a remark at the frame that is shown. */
  add(): void {
    this.form.open(this.part);
  }

  /** Has a line drawn for the remark that is chosen; where none is, the form of a new one is opened with it. */
  async draw(): Promise<void> {
    const { desk, motion, actions, form } = this;
    const { remark } = desk;
    const node = remark === null ? this.part : remark.node;
    if (form.isOpen || remark === null) {
      await this.drawForForm(node);
      return;
    }
    desk.say(howToDraw);
    const drawing = await motion.drawFor(node);
    if (drawing === null) {
      desk.say(noLine);
      return;
    }
    const frames = remark.frames ?? [desk.frame, desk.frame];
    if (await actions.addStroke(remark, strokeFrom(drawing.line, drawing.facing, frames)))
      desk.say(`The line is drawn. Z makes it the path that the part is to take.`);
  }

  /** Has a line drawn for the remark that is being written. */
  async drawForForm(node: string | null): Promise<void> {
    const { desk, motion, form } = this;
    desk.say(howToDraw);
    const drawing = await motion.drawFor(node);
    if (drawing === null) {
      desk.say(noLine);
      if (form.isOpen) form.open(node);
      return;
    }
    const { frame } = desk;
    desk.say("The line is drawn.");
    form.open(node, strokeFrom(drawing.line, drawing.facing, [frame, frame]));
  }

  /** Goes to the next remark, or the one before, as they stand on the list. */
  step(by: 1 | -1, focus: () => void): void {
    const { desk } = this;
    const ids = desk.review.list(desk.notes.all).flatMap((one) => (one.kind === "remark" ? one.id : []));
    if (ids.length === 0) {
      desk.say("There are no remarks.");
      return;
    }
    const at = desk.chosenRemark === null ? -1 : ids.indexOf(desk.chosenRemark);
    const next = at < 0 ? (by > 0 ? 0 : ids.length - 1) : Math.min(ids.length - 1, Math.max(0, at + by));
    desk.chooseRemark(ids[next]);
    focus();
  }

  toggleDone(): void {
    const { remark } = this.desk;
    if (remark === null) this.desk.say(noRemark);
    else void this.actions.toggleDone(remark);
  }

  toggleTarget(): void {
    const { remark } = this.desk;
    if (remark === null) this.desk.say(noRemark);
    else if (remark.strokes.length === 0) this.desk.say("The remark has no line. D draws one.");
    else void this.actions.toggleTarget(remark, remark.strokes.length - 1);
  }

  toggleKept(): void {
    const { chosen } = this.desk;
    if (chosen === null) this.desk.say("No note is chosen. N goes to the next one.");
    else void this.actions.toggleKept(chosen);
  }

  /** Weighs what is chosen: the first weight is the heaviest. */
  weigh(at: number): void {
    const { remark, chosen } = this.desk;
    const weight = weights[at]?.[0];
    const noteWeight = noteWeights[at];
    if (remark !== null && weight !== undefined) void this.actions.weigh(remark, weight);
    else if (remark === null && chosen !== null && noteWeight !== undefined)
      void this.actions.raise(chosen, noteWeight);
  }

  place(by: 1 | -1): void {
    void this.actions.place(by);
  }

  /** Id of the node under the pointer, else that of what is chosen; null for none. */
  private get part(): string | null {
    const { desk, motion } = this;
    const known = new Set(desk.shot?.nodes.filter(({ point }) => point !== null).map(({ id }) => id));
    const named = [
      motion.underPointer,
      desk.remark?.node,
      desk.notes.find(desk.chosen)?.node,
      desk.pickedKeys().at(-1)?.curve.node,
    ];
    return named.find((id) => id !== null && id !== undefined && known.has(id)) ?? null;
  }
}

const howToDraw =
  "Draw over the figure. By keyboard: arrows move a cross, Space sets a place, Enter ends the line, Esc gives it up.";
const noLine = "No line was drawn.";
const noRemark = "No remark is chosen. J goes to the next one.";
