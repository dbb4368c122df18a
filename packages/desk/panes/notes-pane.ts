import type { Actions } from "../actions.ts";
import type { Desk } from "../desk.ts";
import type { ReviewActions } from "../review-actions.ts";
import { countsText, type NumberedNote } from "../state/notes.ts";
import type { LetteredRemark } from "../state/review.ts";
import { framesText } from "../state/words.ts";
import { button, byId, el, setText } from "./element.ts";
import { NoteItem } from "./note-item.ts";
import { RemarkItem } from "./remark-item.ts";

/** The most that is listed at once; the rest follows by a button. */
const listed = 60;

/** Remarks and notes in one list: as the reviewer has put them, then as they matter. */
export class NotesPane {
  private readonly desk: Desk;
  private readonly actions: Actions;
  private readonly list = byId<HTMLOListElement>("note-list");
  private readonly review: ReviewActions;
  private readonly draw: () => void;
  /** Items by the numbers of their notes, and by the ids of their remarks. */
  private readonly items = new Map<number, NoteItem>();
  private readonly remarks = new Map<string, RemarkItem>();
  private readonly more = el("button", { type: "button" });
  private most = listed;
  private waivedTold = "";

  /** @param draw has a line drawn for the remark that is chosen */
  constructor(desk: Desk, actions: Actions, review: ReviewActions, draw: () => void) {
    [this.desk, this.actions, this.review, this.draw] = [desk, actions, review, draw];
    this.list.tabIndex = -1;
    this.more.addEventListener("click", () => {
      this.most += 4 * listed;
      this.refresh();
    });
    this.list.after(this.more);
    desk.bus.on(["notes", "review"], () => this.refresh());
    desk.bus.on(["chosen"], () => this.mark());
    desk.bus.on(["standing", "notes", "review"], () => this.tellCounts());
  }

  /** The note that is chosen, to be acted on by letters. */
  get chosen(): NoteItem | null {
    const { number } = this.desk.notes.find(this.desk.chosen) ?? {};
    return number === undefined ? null : (this.items.get(number) ?? null);
  }

  /** The remark that is chosen, to be acted on by letters. */
  get chosenRemark(): RemarkItem | null {
    const { chosenRemark } = this.desk;
    return chosenRemark === null ? null : (this.remarks.get(chosenRemark) ?? null);
  }

  private refresh(): void {
    const { desk, list } = this;
    const all = desk.review.list(desk.notes.all);
    const shown = all.slice(0, this.most);
    const ids = new Set<string | number>(
      shown.map((one) => (one.kind === "note" ? one.note.number : one.id)),
    );
    for (const items of [this.items, this.remarks] as Map<string | number, NoteItem | RemarkItem>[]) {
      for (const [id, item] of items) {
        if (ids.has(id)) continue;
        // Whoever had the focus in it is not thrown out of the list.
        if (item.element.contains(document.activeElement)) list.focus();
        item.element.remove();
        items.delete(id);
      }
    }
    shown.forEach((one, index) => {
      const { element } = one.kind === "note" ? this.noteItem(one.note) : this.remarkItem(one.remark);
      const there = list.children[index];
      if (there !== element) this.moveTo(element, there ?? null);
    });
    const left = all.length - shown.length;
    this.more.hidden = left <= 0;
    setText(this.more, `${left} more`);
    this.tellWaived();
    this.mark();
  }

  private noteItem(note: NumberedNote): NoteItem {
    const known = this.items.get(note.number);
    if (known !== undefined) {
      known.take(note);
      return known;
    }
    const item = new NoteItem(this.desk, this.actions, this.review, note);
    this.items.set(note.number, item);
    return item;
  }

  private remarkItem(remark: LetteredRemark): RemarkItem {
    const known = this.remarks.get(remark.id);
    if (known !== undefined) {
      known.take(remark);
      return known;
    }
    const item = new RemarkItem(this.desk, this.review, this.draw, remark);
    this.remarks.set(remark.id, item);
    return item;
  }

  /** Puts an item elsewhere on the list; the focus stays in it. */
  private moveTo(element: HTMLElement, before: Element | null): void {
    const focused = element.contains(document.activeElement) ? document.activeElement : null;
    this.list.insertBefore(element, before);
    if (focused instanceof HTMLElement) focused.focus({ preventScroll: true });
  }

  private tellCounts(): void {
    const { notes, revision, feedTrouble, soFar } = this.desk;
    const done = soFar === null ? "" : `, ${Math.floor(100 * soFar.share)} %`;
    const isBehind = notes.revision < revision && notes.revision >= 0;
    const wait =
      feedTrouble !== "" ? "; they are of before" : isBehind ? `; being worked out anew${done}` : "";
    const remarks = remarksText(this.desk.review.remarks);
    const text = `${remarks}${notes.revision < 0 ? `Being worked out${done}` : countsText(notes.all)}`;
    const counts = byId("counts");
    setText(counts, `${text}${wait}.`);
    const early = byId("so-far");
    setText(early, soFar === null ? "" : soFar.found.map((line) => `${line}.`).join(" "));
    // Its place stays once it was needed, so that the list does not jump under the pointer.
    if (early.textContent !== "") early.hidden = false;
    counts.dataset["judged"] = String(notes.revision);
    counts.dataset["revision"] = String(revision);
  }

  private tellWaived(): void {
    const { waived, failures } = this.desk.notes;
    const parts: HTMLElement[] = [];
    if (waived.length > 0) {
      const items = waived.map(({ check, node, frames, reason, by, decision }) => {
        const where = [node, frames === null ? null : framesText(frames)].filter(Boolean).join(", ");
        const said = `${check}${where === "" ? "" : `, ${where}`}: ${reason}${by === null ? "" : ` (${by})`} `;
        const back =
          decision === null ? null : button("Take it back", () => void this.review.takeBack(decision));
        return el("li", {}, said, back);
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
    for (const problem of this.desk.review.problems) parts.push(el("p", { class: "quiet" }, problem));
    for (const failure of failures) parts.push(el("p", {}, failure));
    // Whoever works in it is not thrown out.
    const wanted = JSON.stringify([waived, failures, this.desk.review.problems]);
    if (wanted === this.waivedTold) return;
    this.waivedTold = wanted;
    const wasOpen = byId("waived").querySelector("details")?.open === true;
    byId("waived").replaceChildren(...parts);
    const details = byId("waived").querySelector("details");
    if (details !== null) details.open = wasOpen;
  }

  private mark(): void {
    const { notes, chosen, pointed, chosenRemark } = this.desk;
    const [of, at] = [notes.find(chosen)?.number, notes.find(pointed)?.number];
    for (const [number, item] of this.items) item.mark(number === of, number === at);
    for (const [id, item] of this.remarks) item.mark(id === chosenRemark);
  }
}

/** "2 open remarks, 1 done, 1 praise; " or nothing where there is none. */
function remarksText(remarks: readonly LetteredRemark[]): string {
  if (remarks.length === 0) return "";
  const count = (isOne: (remark: LetteredRemark) => boolean) => remarks.filter(isOne).length;
  const praise = count(({ isDone, weight }) => !isDone && weight === "keep");
  const done = count(({ isDone }) => isDone);
  const open = remarks.length - done - praise;
  const more = [...(done === 0 ? [] : [`${done} done`]), ...(praise === 0 ? [] : [`${praise} praise`])];
  return `${[`${open} open ${open === 1 ? "remark" : "remarks"}`, ...more].join(", ")}; `;
}
