import type { KeysidePlayer } from "@keyside/player";
import type { Actions } from "../actions.ts";
import type { Desk } from "../desk.ts";
import type { DeskDecision } from "../link.ts";
import type { ReviewActions } from "../review-actions.ts";
import { nameOf } from "../state/channels.ts";
import type { NumberedNote } from "../state/notes.ts";
import { framesText, numberText } from "../state/words.ts";
import { DecisionPart } from "./decision-part.ts";
import { button, el, reveal, setText } from "./element.ts";
import { FixPart } from "./fix-part.ts";
import { squintFigure } from "./squint.ts";

/** A note in the list: what it says; where it is chosen, why, its keys, its fix, and that it can be meant. */
export class NoteItem {
  readonly element = el("li", { class: "note" });
  private readonly desk: Desk;
  private readonly actions: Actions;
  private readonly review: ReviewActions;
  private note: NumberedNote;
  private readonly head = el("button", { type: "button", class: "note-head", "aria-expanded": "false" });
  private readonly message = el("p", { class: "message" });
  private readonly more = el("div", { class: "more", hidden: true });
  private readonly facts = el("dl", {});
  private readonly squint = el("div", {});
  private readonly causes = el("ul", { class: "causes" });
  private readonly fix: FixPart;
  private readonly decision: DecisionPart;
  private readonly reason = el("input", { type: "text", required: true, maxlength: 500 });
  private readonly by = el("input", { type: "text", maxlength: 100, autocomplete: "name" });
  private readonly waiver: HTMLFormElement;
  private isChosen = false;
  private decided: DeskDecision | null = null;
  private wasBuiltFor: NumberedNote | null = null;

  constructor(desk: Desk, actions: Actions, review: ReviewActions, note: NumberedNote) {
    [this.desk, this.actions, this.review, this.note] = [desk, actions, review, note];
    this.fix = new FixPart(desk, actions, () => this.note);
    this.decision = new DecisionPart(desk, review, () => this.note);
    this.waiver = el(
      "form",
      { class: "waiver", hidden: true },
      el("label", {}, "It is meant, because ", this.reason),
      el("label", {}, "Says who ", this.by),
      el("button", { type: "submit" }, "Waive"),
      button("Not so", () => this.openWaiver(false)),
    );
    this.waiver.addEventListener("submit", (event) => {
      event.preventDefault();
      const reason = this.reason.value.trim();
      if (reason === "") return;
      review.by = this.by.value.trim();
      void review.drop(this.note.fingerprint, reason);
    });
    this.more.append(
      this.facts,
      this.squint,
      this.fix.element,
      this.causes,
      el(
        "div",
        { class: "row" },
        button("It is meant", () => this.openWaiver(true), { class: "waive" }),
        button("Play it", () => this.play(), { class: "play" }),
      ),
      this.waiver,
      this.decision.element,
    );
    this.element.append(this.head, this.message, this.more);
    this.listen();
    this.write();
  }

  /** Takes the note as it is now. */
  take(note: NumberedNote): void {
    const decided = this.desk.review.decision(note.fingerprint);
    if (note !== this.note || decided !== this.decided) {
      [this.note, this.decided] = [note, decided];
      this.write();
    }
    this.fix.refresh();
    this.decision.refresh();
  }

  /** Shows whether it is chosen and whether it is pointed at. */
  mark(isChosen: boolean, isPointed: boolean): void {
    this.element.classList.toggle("pointed", isPointed);
    if (isChosen === this.isChosen) return;
    this.isChosen = isChosen;
    this.element.classList.toggle("chosen", isChosen);
    this.head.setAttribute("aria-expanded", String(isChosen));
    this.more.hidden = !isChosen;
    if (!isChosen) this.openWaiver(false);
    this.writeMore();
    if (isChosen) reveal(this.element);
  }

  focus(): void {
    this.head.focus({ preventScroll: true });
  }

  /** Opens or closes the form in which a reason is given. */
  openWaiver(isOpen: boolean): void {
    const hadFocus = this.waiver.contains(document.activeElement);
    this.waiver.hidden = !isOpen;
    if (isOpen) this.by.value = this.review.by;
    if (isOpen) this.reason.focus();
    else if (hadFocus) this.head.focus();
  }

  private play(): void {
    document.querySelector<KeysidePlayer>("keyside-player")?.play();
  }

  private listen(): void {
    const { desk, head, element } = this;
    head.addEventListener("click", () => desk.choose(this.isChosen ? null : this.note.fingerprint));
    head.addEventListener("focus", () => desk.point(this.note.fingerprint));
    head.addEventListener("blur", () => desk.point(null));
    element.addEventListener("pointerenter", () => desk.point(this.note.fingerprint));
    element.addEventListener("pointerleave", () => desk.point(null));
  }

  private write(): void {
    const { number, title, part, frames, message } = this.note;
    const decided = this.desk.review.decision(this.note.fingerprint);
    this.decided = decided;
    const { tier } = this.note;
    const weighed = decided?.weight == null ? "" : `, ${decided.weight}`;
    const kept = decided?.isKept === true ? ", kept" : "";
    this.element.dataset["fingerprint"] = this.note.fingerprint;
    for (const name of ["broken", "major", "minor", "polish"]) {
      this.element.classList.toggle(name, name === tier);
    }
    this.head.replaceChildren(
      el("span", { class: "number-chip" }, String(number)),
      el("span", { class: "note-title" }, `${title}${part === "" ? "" : `, ${part}`}`),
      el(
        "span",
        { class: "where" },
        el("span", { class: "tier-name" }, tier),
        `${weighed}, ${framesText(frames)}${kept}`,
      ),
    );
    setText(this.message, decided?.text ?? message);
    this.writeMore();
  }

  private writeMore(): void {
    const { note } = this;
    if (!this.isChosen || this.wasBuiltFor === note) return;
    this.wasBuiltFor = note;
    const fact = (name: string, text: string) =>
      text === "" ? [] : [el("dt", {}, name), el("dd", {}, text)];
    this.facts.replaceChildren(
      ...fact("Number", note.measured),
      ...fact("Change", note.suggestion),
      ...fact("Why", note.why),
      ...fact("Also", note.also.join("; ")),
    );
    const seen = squintFigure(note.squint, "What the camera sees, as with eyes half shut.");
    this.squint.replaceChildren(...(seen === null ? [] : [seen]));
    const items = note.keys.slice(0, 8).map((key) => {
      const share = key.share === undefined ? "" : `, ${Math.round(100 * key.share)} % of it`;
      const text = `${nameOf(key)} at ${numberText(key.frame)}${share}`;
      return el(
        "li",
        {},
        button(text, () => this.actions.goTo(nameOf(key), key.frame)),
      );
    });
    const left = note.keys.length - items.length;
    this.causes.replaceChildren(
      ...items,
      ...(left > 0 ? [el("li", { class: "quiet" }, `and ${left} more keys`)] : []),
    );
    this.causes.setAttribute("aria-label", "Keys that cause it");
  }

  /** Opens the form in which the note is reworded. */
  openRewording(): void {
    this.decision.open(true);
  }

  /** Looks for the note's fix, or goes to the one that was found. */
  findFix(): void {
    this.fix.find();
  }
}
