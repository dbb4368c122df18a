import type { Actions } from "../actions.ts";
import { rowsOf, type Spanned } from "../curves/strip-rows.ts";
import { type Desk, noteTextAt } from "../desk.ts";
import { palette } from "../draw/palette.ts";
import { drawStrip, leastWidth, rowHeight, ruler, type Strip, spanOf } from "../draw/strip.ts";
import { Surface } from "../draw/surface.ts";
import type { NumberedNote } from "../state/notes.ts";
import type { LetteredRemark } from "../state/review.ts";
import { numberText } from "../state/words.ts";
import { byId } from "./element.ts";

/** Rows of notes that the strip has at most; what finds no room stands in the list alone. */
const mostRows = 6;

/** The strip of the shot: its frames, the notes over them, and the frame that is shown. */
export class StripPane {
  private readonly desk: Desk;
  private readonly place = byId<HTMLElement>("strip");
  private readonly here = this.place.querySelector<HTMLElement>(".here") as HTMLElement;
  private readonly surface: Surface;
  private strip: Strip = {
    ...{ notes: [], remarks: [], rows: new Int16Array(0), texts: [] },
    ...{ chosen: null, pointed: null, chosenRemark: null, range: [0, 0] },
  };
  private laidOut = "";

  constructor(desk: Desk, actions: Actions) {
    this.desk = desk;
    this.surface = new Surface(
      this.place.querySelector("canvas") as HTMLCanvasElement,
      (pen, width, height) => drawStrip(pen, this.strip, desk.view, palette(), width, height),
    );
    new ResizeObserver(() => this.fit()).observe(this.place);
    desk.bus.on(["notes", "review", "view", "chosen", "shot"], () => this.fit());
    desk.bus.on(["frame", "view", "shot"], () => this.tellFrame());
    this.listen(actions);
  }

  /** Colours are others now. */
  repaint(): void {
    this.surface.redraw();
  }

  private fit(): void {
    const { desk, place } = this;
    const width = place.clientWidth;
    if (width === 0 || desk.shot === null) return;
    desk.view.resize(width);
    const { all } = desk.notes;
    const remarks = desk.review.remarks.filter(({ frames, isDone }) => frames !== null && !isDone);
    const spans = remarks.map(({ id, frames }) => `${id} ${frames}`);
    const wanted = `${desk.view.scale.toFixed(4)} ${desk.notes.revision} ${all.length} ${spans}`;
    const rows =
      wanted === this.laidOut
        ? this.strip.rows
        : rowsOf([...(remarks as readonly Spanned[]), ...all], leastWidth / desk.view.scale, mostRows);
    this.laidOut = wanted;
    this.strip = {
      notes: all,
      remarks,
      rows,
      texts: all.map(({ number }) => String(number)),
      chosen: desk.chosen,
      pointed: desk.pointed,
      chosenRemark: desk.chosenRemark,
      range: desk.shot.range,
    };
    const count = Math.max(
      1,
      rows.reduce((most, row) => Math.max(most, row + 1), 0),
    );
    this.surface.resize(width, ruler + count * rowHeight + 4);
    this.tellFrame();
  }

  private tellFrame(): void {
    const { desk, place, here } = this;
    if (desk.shot === null) return;
    here.style.transform = `translateX(${desk.view.xOf(desk.frame)}px)`;
    const [first, last] = desk.shot.range;
    const at = desk.notes.all.filter(({ frames: [a, b] }) => a <= desk.frame && desk.frame <= b);
    const remarks = desk.review.remarks.filter(
      ({ frames, isDone }) =>
        frames !== null && !isDone && frames[0] <= desk.frame && desk.frame <= frames[1],
    );
    const found = [
      ...remarks.slice(0, 3).map(({ letter, weight }) => `remark ${letter}, ${weight}`),
      ...at.slice(0, 3).map(({ number, title }) => `${number} ${title}`),
    ];
    const said = found.length === 0 ? "no note" : found.join(", ");
    place.setAttribute("aria-valuemin", String(first));
    place.setAttribute("aria-valuemax", String(last));
    place.setAttribute("aria-valuenow", String(desk.frame));
    place.setAttribute("aria-valuetext", `frame ${numberText(desk.frame)}: ${said}`);
  }

  private noteAt(x: number, y: number): NumberedNote | null {
    return this.at(x, y, this.strip.notes, this.strip.remarks.length);
  }

  private remarkAt(x: number, y: number): LetteredRemark | null {
    return this.at(x, y, this.strip.remarks, 0);
  }

  /** What lies at a place of the strip. @param first where the rows of these begin */
  private at<One extends { readonly frames: readonly [number, number] | null }>(
    x: number,
    y: number,
    among: readonly One[],
    first: number,
  ): One | null {
    const span = { left: 0, right: 0 };
    const row = Math.floor((y - ruler) / rowHeight);
    for (let i = 0; i < among.length; i++) {
      if (this.strip.rows[first + i] !== row) continue;
      spanOf(this.desk.view, among[i], span);
      if (x >= span.left - 2 && x <= span.right + 2) return among[i];
    }
    return null;
  }

  private listen(actions: Actions): void {
    const { desk, place } = this;
    const scrub = (x: number) => {
      if (desk.shot === null) return;
      const [first, last] = desk.shot.range;
      desk.setFrame(Math.min(last, Math.max(first, Math.round(desk.view.frameAt(x)))));
    };
    let isScrubbing = false;
    place.addEventListener("pointerdown", ({ offsetX, offsetY, pointerId, button }) => {
      if (button !== 0) return;
      const note = this.noteAt(offsetX, offsetY);
      if (note !== null) {
        desk.choose(note.fingerprint);
        return;
      }
      const remark = this.remarkAt(offsetX, offsetY);
      if (remark !== null) {
        desk.chooseRemark(remark.id);
        return;
      }
      place.setPointerCapture(pointerId);
      isScrubbing = true;
      scrub(offsetX);
    });
    place.addEventListener("pointermove", ({ clientX, offsetX, offsetY }) => {
      if (isScrubbing) {
        scrub(clientX - place.getBoundingClientRect().left);
        return;
      }
      const note = this.noteAt(offsetX, offsetY);
      const remark = this.remarkAt(offsetX, offsetY);
      desk.point(note?.fingerprint ?? null);
      const said = remark === null ? "" : `${remark.letter} ${remark.weight}: ${remark.text}`;
      place.title = note === null ? said : `${noteTextAt(note)}, ${note.tier}`;
      place.classList.toggle("on-note", note !== null || remark !== null);
    });
    for (const end of ["pointerup", "pointercancel"]) {
      place.addEventListener(end, () => {
        isScrubbing = false;
      });
    }
    place.addEventListener("pointerleave", () => desk.point(null));
    place.addEventListener("keydown", (event) => {
      if (desk.shot === null || event.ctrlKey || event.metaKey || event.altKey) return;
      const [first, last] = desk.shot.range;
      const steps: Readonly<Record<string, number>> = {
        ...{ ArrowLeft: -1, ArrowRight: 1, ArrowDown: -1, ArrowUp: 1, PageUp: 10, PageDown: -10 },
        ...{ Home: first - desk.frame, End: last - desk.frame },
      };
      const step = steps[event.key];
      if (step === undefined) return;
      event.preventDefault();
      actions.stepFrame(step);
    });
    zoomByWheel(place, desk);
  }
}

/** The wheel with Ctrl, as a pinch tells it, goes closer; sideways, or with Shift, it goes along the shot. */
export function zoomByWheel(place: HTMLElement, desk: Desk): void {
  place.addEventListener(
    "wheel",
    (event) => {
      const along = event.shiftKey ? event.deltaY + event.deltaX : event.deltaX;
      if (event.ctrlKey || event.metaKey) {
        const about = desk.view.frameAt(event.clientX - place.getBoundingClientRect().left);
        desk.view.zoom(Math.exp(-event.deltaY / 300), about);
      } else if (Math.abs(along) > Math.abs(event.shiftKey ? 0 : event.deltaY)) {
        desk.view.pan(along / desk.view.scale);
      } else return;
      event.preventDefault();
      desk.bus.tell("view");
    },
    { passive: false },
  );
}
