import type { Desk } from "../desk.ts";
import type { RemarkWeight } from "../link.ts";
import type { ReviewActions } from "../review-actions.ts";
import { type LetteredRemark, targetText } from "../state/review.ts";
import { framesText } from "../state/words.ts";
import { button, el, reveal, setText } from "./element.ts";
import { frameField, partOptions, weights } from "./remark-form.ts";

/** A remark on the list: what it says; where it is chosen, its lines, and what can be done with it. */
export class RemarkItem {
  readonly element = el("li", { class: "remark" });
  private readonly desk: Desk;
  private readonly actions: ReviewActions;
  private remark: LetteredRemark;
  private readonly head = el("button", { type: "button", class: "note-head", "aria-expanded": "false" });
  private readonly said = el("p", { class: "remark-text" });
  private readonly trouble = el("p", { class: "quiet" });
  private readonly more = el("div", { class: "more", hidden: true });
  private readonly facts = el("dl", {});
  private readonly lines = el("ul", { class: "lines" });
  private readonly done = button("", () => void this.actions.toggleDone(this.remark), {
    class: "done",
    "aria-keyshortcuts": "X",
  });
  private readonly weight = el("select", {});
  private readonly part = el("select", {});
  private readonly first = frameField();
  private readonly last = frameField();
  private readonly text = el("textarea", { rows: 2, maxlength: 4000, required: true });
  private readonly rewording: HTMLFormElement;
  private isChosen = false;

  /** @param draw has a line drawn for the remark */
  constructor(desk: Desk, actions: ReviewActions, draw: () => void, remark: LetteredRemark) {
    [this.desk, this.actions, this.remark] = [desk, actions, remark];
    this.weight.append(...weights.map(([weight, words]) => new Option(`${weight}: ${words}`, weight)));
    this.weight.addEventListener("change", () => {
      void actions.weigh(this.remark, this.weight.value as RemarkWeight);
    });
    this.part.addEventListener("change", () => {
      const { value } = this.part;
      void actions.change(this.remark, "let a remark speak of another part", {
        node: value === "" ? null : value,
      });
    });
    for (const field of [this.first, this.last]) field.addEventListener("change", () => this.span());
    this.rewording = el(
      "form",
      { class: "waiver", hidden: true },
      el("label", { class: "wide" }, el("span", {}, "In other words"), this.text),
      el("button", { type: "submit" }, "Keep these words"),
      button("Leave it", () => this.openRewording(false)),
    );
    this.rewording.addEventListener("submit", (event) => {
      event.preventDefault();
      void this.reword();
    });
    this.rewording.addEventListener("keydown", (event) => {
      if (event.key === "Escape") this.openRewording(false);
      else if (event.key === "Enter" && event.target === this.text && !event.shiftKey)
        this.rewording.requestSubmit();
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
    this.more.append(
      this.facts,
      this.lines,
      el(
        "div",
        { class: "row" },
        this.done,
        button("Draw a line", draw, { "aria-keyshortcuts": "D" }),
        button("Reword", () => this.openRewording(true), { "aria-keyshortcuts": "Q" }),
        button("Take out", () => void actions.remove(this.remark)),
      ),
      el("label", {}, "Weight ", this.weight),
      el("label", {}, "Part ", this.part),
      el(
        "div",
        { class: "row" },
        el("label", {}, "From frame ", this.first),
        el("label", {}, "to ", this.last),
      ),
      this.rewording,
    );
    this.element.append(this.head, this.said, this.trouble, this.more);
    this.head.addEventListener("click", () => desk.chooseRemark(this.isChosen ? null : this.remark.id));
    this.write();
  }

  /** Takes the remark as it is now, and how far its part is from its targets. */
  take(remark: LetteredRemark): void {
    if (remark !== this.remark) {
      this.remark = remark;
      this.write();
    }
    this.tellTargets();
  }

  mark(isChosen: boolean): void {
    if (isChosen === this.isChosen) return;
    this.isChosen = isChosen;
    this.element.classList.toggle("chosen", isChosen);
    this.head.setAttribute("aria-expanded", String(isChosen));
    this.more.hidden = !isChosen;
    if (isChosen) this.offerParts();
    else this.openRewording(false);
    if (isChosen) reveal(this.element);
  }

  focus(): void {
    this.head.focus({ preventScroll: true });
  }

  openRewording(isOpen: boolean): void {
    const hadFocus = this.rewording.contains(document.activeElement);
    this.rewording.hidden = !isOpen;
    this.text.value = this.remark.text;
    if (isOpen) this.text.select();
    if (isOpen) this.text.focus();
    else if (hadFocus) this.head.focus();
  }

  private offerParts(): void {
    this.part.replaceChildren(...partOptions(this.desk));
    this.part.value = this.remark.node ?? "";
  }

  /** Takes other frames, for its lines too. */
  private span(): void {
    const [first, last] = [this.first.valueAsNumber, this.last.valueAsNumber];
    if (!Number.isNaN(first) && !Number.isNaN(last)) void this.actions.span(this.remark, [first, last]);
  }

  private async reword(): Promise<void> {
    const text = this.text.value.trim();
    if (text === "") return;
    // What is pressed from here on is for the page again.
    this.openRewording(false);
    if (await this.actions.change(this.remark, "reword a remark", { text })) return;
    this.openRewording(true);
    this.text.value = text;
  }

  private write(): void {
    const { id, letter, weight, part, frames, text, by, date, version, isDone, isOfBefore, trouble } =
      this.remark;
    this.element.dataset["remark"] = id;
    this.element.classList.toggle("is-done", isDone);
    this.element.classList.toggle("keep", weight === "keep");
    // Praise is never open: nothing is to be done about it.
    const stands = weight === "keep" ? "of the version before" : "still open";
    const state = isDone ? ["done"] : isOfBefore ? [stands] : [];
    const where = [frames === null ? "all of the shot" : framesText(frames), by, ...state].filter(Boolean);
    this.head.replaceChildren(
      el("span", { class: "number-chip" }, letter),
      el("span", { class: "note-title" }, `${weight}${part === "" ? "" : `, ${part}`}`),
      el("span", { class: "where" }, where.join(", ")),
    );
    setText(this.said, text);
    setText(this.trouble, trouble);
    this.trouble.hidden = trouble === "";
    setText(this.done, isDone ? "Open it again" : "It is done");
    this.weight.value = weight;
    this.part.value = this.remark.node ?? "";
    if (document.activeElement !== this.first) this.first.value = String(frames?.[0] ?? "");
    if (document.activeElement !== this.last) this.last.value = String(frames?.[1] ?? "");
    const fact = (name: string, what: string) =>
      what === "" ? [] : [el("dt", {}, name), el("dd", {}, what)];
    this.facts.replaceChildren(...fact("Made", date.slice(0, 10)), ...fact("For", version));
    this.writeLines();
  }

  private writeLines(): void {
    const { remark, actions } = this;
    this.lines.replaceChildren(
      ...remark.strokes.map(({ frames, target }, at) => {
        const isTarget = el("input", { type: "checkbox", checked: target !== null });
        isTarget.addEventListener("change", () => void actions.toggleTarget(remark, at));
        return el(
          "li",
          {},
          el("span", {}, `Line, ${framesText(frames)}`),
          el("label", {}, isTarget, " target path"),
          button("Rub it out", () => void actions.removeStroke(remark, at)),
          el("p", { class: "target", "data-stroke": at }),
        );
      }),
    );
    this.tellTargets();
  }

  private tellTargets(): void {
    for (const place of this.lines.querySelectorAll<HTMLElement>(".target")) {
      const told = this.desk.review.target(this.remark.id, Number(place.dataset["stroke"]));
      setText(place, told === null ? "" : targetText(told));
      place.hidden = told === null;
    }
  }
}
