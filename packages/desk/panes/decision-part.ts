import type { Desk } from "../desk.ts";
import type { NoteWeight } from "../link.ts";
import type { ReviewActions } from "../review-actions.ts";
import type { NumberedNote } from "../state/notes.ts";
import { button, el, setText } from "./element.ts";

/** What a note can be raised or lowered to. */
export const noteWeights = ["must", "should", "could"] as const satisfies readonly NoteWeight[];

/** What a reviewer decides about a computed note: that it stands, in which words, and how much it matters. */
export class DecisionPart {
  readonly element = el("div", { class: "decides" });
  private readonly desk: Desk;
  private readonly actions: ReviewActions;
  private readonly noteNow: () => NumberedNote;
  private readonly keep: HTMLButtonElement;
  private readonly weight = el("select", {});
  private readonly own = el("p", { class: "quiet" });
  private readonly text = el("textarea", { rows: 3, maxlength: 4000 });
  private readonly form: HTMLFormElement;

  constructor(desk: Desk, actions: ReviewActions, noteNow: () => NumberedNote) {
    [this.desk, this.actions, this.noteNow] = [desk, actions, noteNow];
    this.keep = button("Keep", () => void actions.toggleKept(this.noteNow().fingerprint), {
      ...{ class: "keeps", "aria-pressed": "false", "aria-keyshortcuts": "Y" },
    });
    this.weight.append(
      new Option("as computed", ""),
      ...noteWeights.map((weight) => new Option(weight, weight)),
    );
    this.weight.addEventListener("change", () => {
      const { value } = this.weight;
      void actions.raise(this.noteNow().fingerprint, value === "" ? null : (value as NoteWeight));
    });
    this.form = el(
      "form",
      { class: "waiver", hidden: true },
      el("label", { class: "wide" }, el("span", {}, "In the reviewer's words"), this.text),
      el("button", { type: "submit" }, "Keep these words"),
      button("Leave it", () => this.open(false)),
    );
    this.form.addEventListener("submit", (event) => {
      event.preventDefault();
      void this.reword();
    });
    this.form.addEventListener("keydown", (event) => {
      if (event.key === "Escape") this.open(false);
      else if (event.key === "Enter" && event.target === this.text && !event.shiftKey)
        this.form.requestSubmit();
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
    this.element.append(
      el(
        "div",
        { class: "row" },
        this.keep,
        button("Reword", () => this.open(true), { class: "reword", "aria-keyshortcuts": "Q" }),
        el("label", {}, "Weight ", this.weight),
      ),
      this.own,
      this.form,
    );
    this.refresh();
  }

  /** Shows what is decided now. */
  refresh(): void {
    const { fingerprint, message } = this.noteNow();
    const decided = this.desk.review.decision(fingerprint);
    this.keep.setAttribute("aria-pressed", String(decided?.isKept === true));
    setText(this.keep, decided?.isKept === true ? "Kept" : "Keep");
    this.weight.value = decided?.weight ?? "";
    this.own.hidden = decided?.text == null;
    setText(this.own, `Computed: ${message}`);
  }

  /** Opens or closes the form in which the note is reworded. */
  open(isOpen: boolean): void {
    const { fingerprint, message } = this.noteNow();
    const hadFocus = this.form.contains(document.activeElement);
    this.form.hidden = !isOpen;
    this.text.value = this.desk.review.decision(fingerprint)?.text ?? message;
    if (isOpen) this.text.focus();
    else if (hadFocus) this.element.querySelector<HTMLButtonElement>(".reword")?.focus();
  }

  private async reword(): Promise<void> {
    const { fingerprint, message } = this.noteNow();
    const text = this.text.value.trim();
    // What is pressed from here on is for the page again.
    this.open(false);
    if (await this.actions.reword(fingerprint, text === message ? "" : text)) return;
    this.open(true);
    this.text.value = text;
  }
}
