import type { Actions } from "../actions.ts";
import type { Desk } from "../desk.ts";
import { countsText, type NumberedNote } from "../state/notes.ts";
import { framesText } from "../state/words.ts";
import { byId, el, setText } from "./element.ts";
import { NoteItem } from "./note-item.ts";

/** The most notes that are listed at once; the others follow by a button. */
const listed = 60;

/** The notes beside the keys, the one that matters most first. */
export class NotesPane {
  private readonly desk: Desk;
  private readonly actions: Actions;
  private readonly list = byId<HTMLOListElement>("note-list");
  /** Items by the numbers of their notes. */
  private readonly items = new Map<number, NoteItem>();
  private readonly more = el("button", { type: "button" });
  private most = listed;

  constructor(desk: Desk, actions: Actions) {
    [this.desk, this.actions] = [desk, actions];
    this.more.addEventListener("click", () => {
      this.most += 4 * listed;
      this.refresh();
    });
    this.list.after(this.more);
    desk.bus.on(["notes"], () => this.refresh());
    desk.bus.on(["chosen"], () => this.mark());
    desk.bus.on(["standing", "notes"], () => this.tellCounts());
  }

  /** The note that is chosen, to be acted on by letters. */
  get chosen(): NoteItem | null {
    const { number } = this.desk.notes.find(this.desk.chosen) ?? {};
    return number === undefined ? null : (this.items.get(number) ?? null);
  }

  private refresh(): void {
    const { desk, list, items } = this;
    const shown: readonly NumberedNote[] = desk.notes.all.slice(0, this.most);
    const now = new Set(shown.map(({ number }) => number));
    for (const [number, item] of items) {
      if (now.has(number)) continue;
      // Whoever had the focus in it is not thrown out of the list.
      if (item.element.contains(document.activeElement)) list.focus();
      item.element.remove();
      items.delete(number);
    }
    shown.forEach((note, index) => {
      let item = items.get(note.number);
      if (item === undefined) {
        item = new NoteItem(this.desk, this.actions, note);
        items.set(note.number, item);
      } else item.take(note);
      const there = list.children[index];
      if (there !== item.element) list.insertBefore(item.element, there ?? null);
    });
    const left = desk.notes.all.length - shown.length;
    this.more.hidden = left <= 0;
    setText(this.more, `${left} more`);
    this.tellWaived();
    this.mark();
  }

  private tellCounts(): void {
    const { notes, revision, feedTrouble } = this.desk;
    const isBehind = notes.revision < revision && notes.revision >= 0;
    const wait = feedTrouble !== "" ? "; they are of before" : isBehind ? "; being worked out anew" : "";
    const text = notes.revision < 0 ? "Being worked out" : countsText(notes.all);
    const counts = byId("counts");
    setText(counts, `${text}${wait}.`);
    counts.dataset["judged"] = String(notes.revision);
    counts.dataset["revision"] = String(revision);
  }

  private tellWaived(): void {
    const { waived, failures } = this.desk.notes;
    const parts: HTMLElement[] = [];
    if (waived.length > 0) {
      const items = waived.map(({ check, node, frames, reason, by }) => {
        const where = [node, frames === null ? null : framesText(frames)].filter(Boolean).join(", ");
        return el(
          "li",
          {},
          `${check}${where === "" ? "" : `, ${where}`}: ${reason}${by === null ? "" : ` (${by})`}`,
        );
      });
      parts.push(
        el(
          "details",
          {},
          el("summary", {}, `${waived.length} waived`),
          el("ul", { class: "quiet" }, ...items),
        ),
      );
    }
    for (const failure of failures) parts.push(el("p", {}, failure));
    byId("waived").replaceChildren(...parts);
  }

  private mark(): void {
    const { notes, chosen, pointed } = this.desk;
    const [of, at] = [notes.find(chosen)?.number, notes.find(pointed)?.number];
    for (const [number, item] of this.items) item.mark(number === of, number === at);
  }
}
