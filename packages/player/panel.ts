import type { Motion, MotionNote, MotionStrength } from "./motion.ts";
import { type From, fromNames } from "./stage.ts";
import { markup, style } from "./style.ts";

/** What the hand asks of the player. */
export interface Wishes {
  /** Plays, or stops. */
  toggle(): void;
  /** Goes on by so many frames, or to the first or last that is played. */
  step(frames: number): void;
  end(isLast: boolean): void;
  /** Goes to a judged frame, from 0. */
  go(sample: number): void;
  note(number: number | null): void;
  strength(number: number): void;
  /** The time is to run otherwise. */
  pace(): void;
  /** The picture is to be drawn anew. */
  look(): void;
  turn(right: number, down: number): void;
}

/** What stands on a note's select where no note is chosen. */
const wholeShot = "the whole shot";
/** Before the number of what holds, among the values of that select. */
const holds = "holds ";

/** Whether what is chosen is a note, and not what holds. */
export function isNote(chosen: MotionNote | MotionStrength): chosen is MotionNote {
  return "tier" in chosen;
}

/** The player's buttons, its canvas and its words. */
export class Panel {
  private readonly root: ShadowRoot;

  constructor(root: ShadowRoot, wishes: Wishes) {
    this.root = root;
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(style);
    root.adoptedStyleSheets = [sheet];
    root.innerHTML = markup;
    this.listen(wishes);
  }

  get canvas(): HTMLCanvasElement {
    return this.find<HTMLCanvasElement>("canvas");
  }
  /** An element on which colours can be tried. */
  get probe(): HTMLElement {
    return this.find(".names");
  }
  select(id: "note" | "showing" | "speed" | "from" | "ghosts"): HTMLSelectElement {
    return this.find<HTMLSelectElement>(`#${id}`);
  }
  input(
    id: "frame" | "size" | "loop" | "follow" | "path" | "strokes" | "beneath" | "sound",
  ): HTMLInputElement {
    return this.find<HTMLInputElement>(`#${id}`);
  }

  /** Offers what a motion has: its frames, notes and views. */
  offer(motion: Motion): void {
    const { count, camera, images, sound } = motion;
    this.offerFrames(count);
    this.offerNotes(motion);
    const hasImages = images !== undefined;
    const there = (from: From) =>
      from === "camera" || from === "squint" ? camera !== null : from === "rendered" ? hasImages : true;
    const views = (Object.keys(fromNames) as From[]).filter(there);
    this.find("#beneath-it").hidden = !hasImages || camera === null;
    this.find("#sounding").hidden = sound === undefined;
    this.offerStrokes(motion);
    this.select("from").replaceChildren(...views.map((from) => new Option(fromNames[from], from)));
  }

  /** Offers to show what people drew, where there is something. */
  offerStrokes({ strokes = [] }: Pick<Motion, "strokes">): void {
    this.find("#drawn").hidden = strokes.length === 0;
  }

  offerFrames(count: number): void {
    const frame = this.input("frame");
    [frame.min, frame.max] = ["0", String(count - 1)];
  }

  /** Offers other notes; the one that is chosen stays so where it is among them. */
  offerNotes({ notes, strengths = [] }: Pick<Motion, "notes" | "strengths">): void {
    const select = this.select("note");
    const { value } = select;
    const options = notes.map((note) => new Option(nameOf(note), String(note.number)));
    select.replaceChildren(new Option(wholeShot, ""), ...options);
    if (strengths.length > 0) {
      const group = document.createElement("optgroup");
      group.label = "what holds";
      group.append(...strengths.map((one) => new Option(nameOf(one), `${holds}${one.number}`)));
      select.append(group);
    }
    if ([...select.options].some((option) => option.value === value)) select.value = value;
  }

  /** Shows which note is chosen, and where on the time it stands. */
  tellNote(note: MotionNote | MotionStrength | null, count: number): void {
    const value = note === null ? "" : isNote(note) ? String(note.number) : `${holds}${note.number}`;
    this.select("note").value = value;
    this.find("#looping").hidden = note === null;
    this.find("#fixing").hidden = note === null || !isNote(note) || note.fix === null;
    const span = this.find(".span");
    span.hidden = note === null;
    if (note === null) return;
    const last = Math.max(1, count - 1);
    span.style.left = `${(100 * note.from) / last}%`;
    span.style.width = `max(4px, ${(100 * (note.to - note.from)) / last}%)`;
  }

  tellFrame(sample: number, frame: number, last: number): void {
    const slider = this.input("frame");
    slider.value = String(sample);
    slider.setAttribute("aria-valuetext", `frame ${frame}`);
    this.find("output").textContent = `frame ${frame} of ${last}`;
  }

  tellPlaying(isPlaying: boolean): void {
    const button = this.find("#play");
    button.textContent = isPlaying ? "Pause" : "Play";
    button.setAttribute("aria-pressed", String(isPlaying));
  }

  /** Says what the chosen note says. */
  tellWords(words: string): void {
    this.find("#here").textContent = words;
  }

  /** Says which notes speak of a frame, each to go to. */
  tellHere(notes: readonly MotionNote[], go: (number: number) => void): void {
    const items = notes.map((note) => {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = nameOf(note);
      button.addEventListener("click", () => {
        go(note.number);
        this.select("note").focus();
      });
      const item = document.createElement("li");
      item.append(button);
      return item;
    });
    const list = document.createElement("ul");
    list.append(...items);
    this.find("#here").replaceChildren(notes.length === 0 ? "No note speaks of this frame." : list);
  }

  /** Names what is on the left and on the right of the picture. */
  tellSides(left: string, right: string): void {
    const sides = this.root.querySelectorAll(".names span");
    [sides[0].textContent, sides[1].textContent] = [left, right];
  }

  /** Says that something is wrong; null where nothing is. */
  alert(error: unknown): void {
    const words = error instanceof Error ? error.message : String(error);
    this.warn(error === null ? "" : `This motion cannot be played: ${words}`);
  }

  /** Says what is missing where the rest plays. */
  warn(words: string): void {
    this.find("[role=alert]").textContent = words;
  }

  private listen(wishes: Wishes): void {
    const on = (id: string, kind: string, act: () => void) => this.find(`#${id}`).addEventListener(kind, act);
    on("play", "click", () => wishes.toggle());
    on("back", "click", () => wishes.step(-1));
    on("on", "click", () => wishes.step(1));
    on("frame", "input", () => wishes.go(Number(this.input("frame").value)));
    on("note", "change", () => {
      const { value } = this.select("note");
      if (value.startsWith(holds)) wishes.strength(Number(value.slice(holds.length)));
      else wishes.note(value === "" ? null : Number(value));
    });
    for (const id of ["speed", "loop", "sound"]) on(id, "change", () => wishes.pace());
    for (const id of ["from", "size", "follow", "path", "strokes", "ghosts", "showing", "loop", "beneath"]) {
      on(id, "input", () => wishes.look());
    }
    const { canvas } = this;
    canvas.addEventListener("keydown", (event) => {
      const actions: Readonly<Record<string, () => void>> = {
        " ": () => wishes.toggle(),
        ArrowLeft: () => wishes.step(-1),
        ArrowRight: () => wishes.step(1),
        Home: () => wishes.end(false),
        End: () => wishes.end(true),
      };
      const action = event.ctrlKey || event.metaKey || event.altKey ? undefined : actions[event.key];
      if (action === undefined) return;
      event.preventDefault();
      action();
    });
    canvas.addEventListener("pointerdown", ({ pointerId }) => canvas.setPointerCapture(pointerId));
    canvas.addEventListener("pointermove", ({ buttons, movementX, movementY }) => {
      if (buttons === 0 || (movementX === 0 && movementY === 0)) return;
      this.select("from").value = "turned" satisfies From;
      wishes.turn(movementX, movementY);
    });
  }

  private find<E extends HTMLElement>(selector: string): E {
    return this.root.querySelector(selector) as E;
  }
}

/** "3 hard stop, left hand". */
function nameOf({ number, title, part }: MotionStrength): string {
  return [`${number} ${title}`, part].filter(Boolean).join(", ");
}
