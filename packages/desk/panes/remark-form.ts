import type { Desk } from "../desk.ts";
import type { DeskStroke, RemarkWeight } from "../link.ts";
import type { ReviewActions } from "../review-actions.ts";
import { button, byId, el, setText } from "./element.ts";

/** How much a remark matters, the heaviest first, and what that says to whoever reads it. */
export const weights: readonly (readonly [RemarkWeight, string])[] = [
  ["must", "must change"],
  ["should", "should change"],
  ["could", "could change"],
  ["keep", "good, keep it"],
];

/** A field for a frame. */
export function frameField(id: string | null = null): HTMLInputElement {
  return el("input", { type: "number", step: "1", class: "frame-field", id });
}

/** The form in which a remark is written: Enter keeps it, Esc gives it up. */
export class RemarkForm {
  private readonly desk: Desk;
  private readonly actions: ReviewActions;
  private readonly draw: (node: string | null) => void;
  private readonly place = byId<HTMLFormElement>("remark");
  private readonly head = el("h3", {});
  private readonly text = el("textarea", { rows: 2, maxlength: 4000, id: "remark-text", required: true });
  private readonly part = el("select", { id: "remark-part" });
  private readonly first = frameField("remark-first");
  private readonly last = frameField("remark-last");
  private readonly by = el("input", { type: "text", maxlength: 100, autocomplete: "name", id: "remark-by" });
  private readonly target = el("input", { type: "checkbox", id: "remark-target" });
  private readonly drawn = el("span", { class: "quiet" });
  private readonly targeting: HTMLLabelElement;
  private strokes: DeskStroke[] = [];
  private isBeingKept = false;

  /** @param draw has a line drawn for a part */
  constructor(desk: Desk, actions: ReviewActions, draw: (node: string | null) => void) {
    [this.desk, this.actions, this.draw] = [desk, actions, draw];
    const weighing = el("fieldset", { class: "row weights" }, el("legend", {}, "Weight"));
    for (const [weight, words] of weights) {
      const radio = el("input", {
        type: "radio",
        name: "weight",
        value: weight,
        checked: weight === "should",
      });
      weighing.append(el("label", { title: words }, radio, ` ${weight}`));
    }
    this.targeting = el("label", { hidden: true }, this.target, " the part is to go along the line");
    this.place.append(
      this.head,
      el("label", { class: "wide" }, el("span", {}, "Remark"), this.text),
      weighing,
      el("label", {}, "Part ", this.part),
      el(
        "div",
        { class: "row" },
        el("label", {}, "From frame ", this.first),
        el("label", {}, "to ", this.last),
      ),
      el(
        "div",
        { class: "row" },
        button("Draw a line", () => this.draw(this.node), { "aria-keyshortcuts": "D" }),
        this.drawn,
        this.targeting,
      ),
      el("label", {}, "By ", this.by),
      el(
        "div",
        { class: "row" },
        el("button", { type: "submit", class: "keep" }, "Keep the remark"),
        button("Cancel", () => this.close()),
        el("span", { class: "quiet" }, "Enter keeps it, Esc cancels."),
      ),
    );
    this.place.addEventListener("submit", (event) => {
      event.preventDefault();
      void this.keep();
    });
    this.place.addEventListener("keydown", (event) => this.pressed(event));
    desk.bus.on(["shot"], () => this.offerParts());
  }

  get isOpen(): boolean {
    return !this.place.hidden;
  }

  /**
   * Opens it for a part at the frame that is shown; what was begun in it stays.
   * @param stroke a line that was drawn for it
   */
  open(node: string | null, stroke: DeskStroke | null = null): void {
    const { desk, place } = this;
    if (place.hidden) {
      [this.strokes, this.text.value, this.target.checked] = [[], "", false];
      for (const radio of place.querySelectorAll<HTMLInputElement>("input[name=weight]"))
        radio.checked = radio.value === "should";
      this.first.value = this.last.value = String(desk.frame);
      this.by.value = this.actions.by;
      this.part.value = node ?? "";
      setText(this.head, `A remark at frame ${desk.frame}`);
    }
    if (stroke !== null) this.strokes.push(stroke);
    this.tellDrawn();
    place.hidden = false;
    this.text.focus();
    place.scrollIntoView({ block: "nearest" });
  }

  close(): void {
    this.place.hidden = true;
    byId("note-list").focus({ preventScroll: true });
  }

  private get node(): string | null {
    return this.part.value === "" ? null : this.part.value;
  }

  private tellDrawn(): void {
    const count = this.strokes.length;
    setText(this.drawn, count === 0 ? "" : count === 1 ? "1 line is drawn" : `${count} lines are drawn`);
    this.targeting.hidden = count === 0;
  }

  private pressed(event: KeyboardEvent): void {
    if (event.key === "Escape") this.close();
    else if (event.key === "Enter" && event.target === this.text && !event.shiftKey && !event.isComposing)
      this.place.requestSubmit();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  private async keep(): Promise<void> {
    const { node, desk, actions } = this;
    const text = this.text.value.trim();
    const [first, last] = [this.first.valueAsNumber, this.last.valueAsNumber];
    if (text === "" || this.isBeingKept) return;
    if (this.target.checked && this.strokes.length > 0 && node === null) {
      desk.say("A target path needs a part that is to take it.");
      this.part.focus();
      return;
    }
    const frames: readonly [number, number] | null =
      Number.isNaN(first) || Number.isNaN(last) ? null : [Math.min(first, last), Math.max(first, last)];
    actions.by = this.by.value.trim();
    const strokes = this.strokes.map((stroke) => ({
      ...stroke,
      frames: this.target.checked ? actions.targetFrames(frames ?? stroke.frames) : (frames ?? stroke.frames),
      target: this.target.checked ? node : null,
    }));
    const weight = this.place.querySelector<HTMLInputElement>("input[name=weight]:checked")?.value;
    this.isBeingKept = true;
    const isKept = await actions.add({
      ...{ text, node, frames, strokes, by: actions.by },
      weight: (weight ?? "should") as RemarkWeight,
    });
    this.isBeingKept = false;
    if (isKept) this.close();
  }

  private offerParts(): void {
    const { value } = this.part;
    this.part.replaceChildren(...partOptions(this.desk));
    this.part.value = value;
  }
}

/** The parts of the shot that are drawn, by their names, and all of the shot. */
export function partOptions(desk: Desk): readonly HTMLOptionElement[] {
  const nodes = (desk.shot?.nodes ?? []).filter(({ point }) => point !== null);
  return [
    new Option("all of the shot", ""),
    ...nodes.map(({ id, part }) => new Option(part === null || part === id ? id : `${part} (${id})`, id)),
  ];
}
