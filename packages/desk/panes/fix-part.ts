import type { KeysidePlayer, Showing } from "@keyside/player";
import type { Actions } from "../actions.ts";
import type { Desk } from "../desk.ts";
import type { FoundFix } from "../link.ts";
import type { NumberedNote } from "../state/notes.ts";
import { targetText } from "../state/review.ts";
import { button, el, reveal } from "./element.ts";
import { squintFigure } from "./squint.ts";

/** What can be seen of a motion with a fix, in words. */
const showings: readonly (readonly [Showing, string])[] = [
  ["before", "as it is"],
  ["after", "with the fix"],
  ["over", "one over the other"],
  ["beside", "side by side"],
];

/** Centimetres below which nobody is told that a distance is another one: less than is shown. */
const leastChange = 0.05;

/** The fix of a note: looked for, shown before and after in the player, and made. */
export class FixPart {
  readonly element = el("div", { class: "fix" });
  private readonly desk: Desk;
  private readonly actions: Actions;
  private readonly noteNow: () => NumberedNote;
  private readonly look: HTMLButtonElement;
  private readonly found = el("div", { class: "found", hidden: true });
  private shownFor: object | null = null;

  constructor(desk: Desk, actions: Actions, noteNow: () => NumberedNote) {
    [this.desk, this.actions, this.noteNow] = [desk, actions, noteNow];
    this.look = button("Look for a fix", () => this.find(), { class: "look" });
    this.element.append(this.look, this.found);
  }

  /** Looks for a fix; where one was found, puts the hand on the button that makes it. */
  find(): void {
    if (!this.found.hidden) {
      this.focusApply();
      return;
    }
    this.look.disabled = true;
    void this.actions.findFix(this.noteNow().fingerprint).finally(() => {
      this.look.disabled = false;
      if (!this.found.hidden) this.focusApply();
    });
  }

  /** Puts the hand on the button that makes the fix; the page stays where it is. */
  private focusApply(): void {
    this.found.querySelector<HTMLButtonElement>(".apply")?.focus({ preventScroll: true });
    reveal(this.element);
  }

  /** Shows the fix that the desk has, or that there is none just now. */
  refresh(): void {
    const { fix } = this.desk.notes;
    const note = this.noteNow();
    const found = fix?.found.fingerprint === note.fingerprint ? fix.found : null;
    if (found === this.shownFor) return;
    this.shownFor = found;
    const hadFocus = this.found.contains(document.activeElement);
    this.look.hidden = found !== null;
    this.found.hidden = found === null;
    if (found === null) {
      this.found.replaceChildren();
      if (hadFocus) this.look.focus();
      return;
    }
    const { notes } = this.desk;
    const others = found.gone.filter((fingerprint) => fingerprint !== note.fingerprint);
    const numbers = others.flatMap((fingerprint) => notes.find(fingerprint)?.number ?? []);
    this.found.replaceChildren(
      el("p", { class: "fix-title" }, found.title),
      el("ul", {}, ...found.moves.map((move) => el("li", {}, move))),
      ...(numbers.length > 0 ? [el("p", { class: "quiet" }, `Also clears ${numbers.join(", ")}.`)] : []),
      ...found.added.map((sentence) => el("p", { class: "quiet" }, `It brings: ${sentence}`)),
      ...this.targets(found).map((sentence) => el("p", { class: "quiet" }, sentence)),
      squintFigure(found.squint, "What the camera sees, before the fix and after it.") ?? "",
      ...(found.motion === null ? [] : [this.choices()]),
      button("Make this change", () => void this.actions.applyFix(note.fingerprint), { class: "apply" }),
    );
    if (found.motion !== null) this.show("over");
  }

  /** How far parts are from their targets with the fix, where it changes that. */
  private targets({ targets }: FoundFix): readonly string[] {
    const { review } = this.desk;
    return targets.flatMap((then) => {
      const now = review.target(then.remark, then.stroke)?.now;
      const remark = review.find(then.remark);
      if (now === undefined || remark === null || Math.abs(now.mean - then.mean) < leastChange) return [];
      return [`Target path of ${remark.letter} with it: ${targetText({ now: then, before: now })}.`];
    });
  }

  private choices(): HTMLElement {
    const group = el("fieldset", { class: "row" }, el("legend", {}, "In motion"));
    for (const [showing, words] of showings) {
      const radio = el("input", {
        type: "radio",
        name: "showing",
        value: showing,
        checked: showing === "over",
      });
      radio.addEventListener("change", () => this.show(showing));
      group.append(el("label", {}, radio, ` ${words}`));
    }
    return group;
  }

  private show(showing: Showing): void {
    const player = document.querySelector<KeysidePlayer>("keyside-player");
    if (player === null) return;
    player.note = this.noteNow().number;
    player.showing = showing;
  }
}
