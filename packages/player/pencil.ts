import type { Palette } from "./draw/colours.ts";
import { drawLine } from "./draw/strokes.ts";
import { noPoint, type Place, type View } from "./view.ts";

/** A line that was drawn. */
export interface Drawing {
  /** x, y and z of each of its places in the world, one after the other; metres. */
  readonly line: readonly number[];
  /** The way in which it was looked, of length 1: the plane of the line stands square to it. */
  readonly facing: Place;
}

/** What the pencil needs of the picture that it draws on. */
export interface Paper {
  readonly canvas: HTMLCanvasElement;
  /** The view of the picture as it is now, aimed; null where there is none. */
  view(): View | null;
  /** Draws the picture anew. */
  redraw(): void;
  /** Takes a line that was drawn; null where drawing was given up. */
  done(drawing: Drawing | null): void;
}

/** Pixels between two places of a line: closer ones say nothing more. */
const least = 3;
/** Pixels by which arrows move the cross, and with Alt. */
const step = 12;
const fine = 2;
/** Most places of a line; of longer ones every second place is dropped. */
const mostPlaces = 400;

/**
 * Draws a line over the picture, by pointer or by keyboard. It lies in the plane through a place that faces whoever
 * looks, so that it stays where it was drawn when the view turns.
 */
export class Pencil {
  private readonly paper: Paper;
  private through: Place | null = null;
  private facing: Place = [0, 0, 1];
  private line: number[] = [];
  private isDown = false;
  /** Where the last place was seen, and where the cross of the keyboard is; pixels. */
  private last: readonly [number, number] = [0, 0];
  private cross: [number, number] | null = null;
  private readonly seen = noPoint();
  private readonly place: Place = [0, 0, 0];

  constructor(paper: Paper) {
    this.paper = paper;
    const { canvas } = paper;
    // Before all else that listens there: what turns the view does not hear of a line that is drawn.
    const on = <K extends keyof HTMLElementEventMap>(
      kind: K,
      act: (event: HTMLElementEventMap[K]) => boolean,
    ) => {
      canvas.addEventListener(
        kind,
        (event) => {
          if (this.through === null || !act(event)) return;
          event.preventDefault();
          event.stopImmediatePropagation();
        },
        { capture: true },
      );
    };
    on("pointerdown", (event) => this.down(event));
    on("pointermove", (event) => this.moved(event));
    on("pointerup", () => this.up());
    on("pointercancel", () => this.up());
    on("keydown", (event) => this.pressed(event));
  }

  /** Whether a line is being drawn, or waits to be. */
  get isDrawing(): boolean {
    return this.through !== null;
  }

  /** Has a line drawn in the plane through a place. */
  take(through: Place): void {
    this.through = through;
    this.line = [];
    this.isDown = false;
    this.cross = null;
    this.paper.canvas.classList.add("drawing");
    this.paper.redraw();
  }

  /** Puts the pencil down: what was drawn is forgotten. */
  drop(): void {
    if (this.through !== null) this.end(false);
  }

  /** Draws what there is of the line, and the cross of the keyboard. */
  draw(pen: CanvasRenderingContext2D, view: View, palette: Palette): void {
    if (this.through === null) return;
    drawLine(pen, this.line, view, palette, false);
    if (this.cross === null) return;
    const [x, y] = this.cross;
    for (const isRim of [true, false]) {
      pen.strokeStyle = isRim ? palette["--paper"] : palette["--pen"];
      pen.lineWidth = isRim ? 4 : 1.5;
      pen.beginPath();
      pen.moveTo(x - 9, y);
      pen.lineTo(x + 9, y);
      pen.moveTo(x, y - 9);
      pen.lineTo(x, y + 9);
      pen.stroke();
    }
  }

  private down(event: PointerEvent): boolean {
    if (event.button !== 0) return false;
    this.paper.canvas.setPointerCapture(event.pointerId);
    this.isDown = true;
    this.line = [];
    this.cross = null;
    this.add(event.offsetX, event.offsetY);
    return true;
  }

  private moved(event: PointerEvent): boolean {
    if (!this.isDown) return true;
    for (const one of event.getCoalescedEvents?.() ?? [event]) {
      const [x, y] = [one.offsetX, one.offsetY];
      if (Math.hypot(x - this.last[0], y - this.last[1]) >= least) this.add(x, y);
    }
    this.paper.redraw();
    return true;
  }

  private up(): boolean {
    if (!this.isDown) return true;
    this.isDown = false;
    // A click is no line.
    if (this.line.length >= 6) this.end(true);
    return true;
  }

  private pressed({ key, altKey }: KeyboardEvent): boolean {
    const by = altKey ? fine : step;
    const ways: Readonly<Record<string, readonly [number, number]>> = {
      ArrowLeft: [-by, 0],
      ArrowRight: [by, 0],
      ArrowUp: [0, -by],
      ArrowDown: [0, by],
    };
    const way = ways[key];
    if (way !== undefined) {
      const [x, y] = this.cross ?? this.startOfCross();
      this.cross = [x + way[0], y + way[1]];
    } else if (key === " ") {
      this.cross ??= this.startOfCross();
      this.add(...this.cross);
    } else if (key === "Backspace") this.line.splice(-3);
    else if (key === "Enter") {
      if (this.line.length >= 6) this.end(true);
      return true;
    } else if (key === "Escape") {
      this.end(false);
      return true;
    } else return false;
    this.paper.redraw();
    return true;
  }

  /** The cross begins where the plane's place is seen. */
  private startOfCross(): [number, number] {
    const { through, seen } = this;
    const view = this.paper.view();
    if (through === null || view === null || !view.see(...through, seen)) {
      const { clientWidth, clientHeight } = this.paper.canvas;
      return [clientWidth / 2, clientHeight / 2];
    }
    return [seen.x, seen.y];
  }

  private add(x: number, y: number): void {
    const view = this.paper.view();
    if (view === null || this.through === null) return;
    if (this.line.length === 0) view.facing(this.facing);
    if (!view.placeAt(x, y, this.through, this.place)) return;
    this.line.push(...this.place);
    this.last = [x, y];
    if (this.line.length > 3 * mostPlaces) this.line = everySecond(this.line);
  }

  private end(isMade: boolean): void {
    const drawing = isMade ? { line: this.line, facing: [...this.facing] as Place } : null;
    this.through = null;
    this.line = [];
    this.cross = null;
    this.paper.canvas.classList.remove("drawing");
    this.paper.done(drawing);
    this.paper.redraw();
  }
}

/** Every second place of a line, and its last one. */
function everySecond(line: readonly number[]): number[] {
  const places = line.length / 3;
  return line.filter((_, n) => Math.floor(n / 3) % 2 === 0 || Math.floor(n / 3) === places - 1);
}
