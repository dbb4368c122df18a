import { Clock } from "./clock.ts";
import { Footage } from "./footage.ts";
import type { Motion, MotionNote, MotionStrength } from "./motion.ts";
import { isNote, Panel } from "./panel.ts";
import { Pencil } from "./pencil.ts";
import { type Showing, sides } from "./showing.ts";
import { type From, fromNames, Stage } from "./stage.ts";
import { type Poses, posesAfter, posesOf } from "./unpack.ts";

/** Seconds that are played before and behind a note. */
const aroundNote = 0.6;

/**
 * `<keyside-player>`: plays a shot with its notes. The shot is given as the property `motion`, or as JSON in an element
 * of the page that the attribute `for` names by its id. docs/player.md has all properties and events.
 */
export class KeysidePlayer extends HTMLElement {
  static readonly observedAttributes = ["for"];
  private readonly panel: Panel;
  private readonly pencil: Pencil;
  private readonly clock = new Clock();
  private readonly resizes = new ResizeObserver(() => this.draw());
  private data: Motion | null = null;
  private poses: Poses | null = null;
  private stage: Stage | null = null;
  private footage: Footage | null = null;
  /** Poses with the fix of a note, made when the note is first chosen. */
  private readonly fixed = new Map<MotionNote, Poses>();
  /** The poses that those follow from. */
  private posesFixed: Poses | null = null;
  private current = 0;
  private chosen: MotionNote | MotionStrength | null = null;
  private timer = 0;
  /** Counts what was asked for: what is unpacked too late is thrown away. */
  private asked = 0;

  constructor() {
    super();
    this.panel = new Panel(this.attachShadow({ mode: "open" }), {
      toggle: () => (this.playing ? this.pause() : this.play()),
      step: (frames) => this.stopAt(this.current + frames),
      end: (isLast) => this.stopAt(this.range()[isLast ? 1 : 0]),
      go: (sample) => this.stopAt(sample),
      note: (number) => {
        this.note = number;
      },
      strength: (number) => {
        this.strength = number;
      },
      pace: () => this.restart(),
      look: () => this.draw(),
      turn: (right, down) => {
        this.stage?.turn(right, down);
        this.draw();
      },
    });
    this.pencil = new Pencil({
      canvas: this.panel.canvas,
      view: () => this.stage?.view() ?? null,
      redraw: () => this.draw(),
      done: (drawing) => this.tell("stroke", drawing),
    });
  }

  connectedCallback(): void {
    this.resizes.observe(this.panel.canvas);
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", this.draw);
    if (this.data === null) this.readFor();
  }

  disconnectedCallback(): void {
    this.pause();
    this.resizes.disconnect();
    matchMedia("(prefers-color-scheme: dark)").removeEventListener("change", this.draw);
  }

  attributeChangedCallback(): void {
    if (this.isConnected) this.readFor();
  }

  /** The shot that is played; null before there is one. Setting it begins at its first frame. */
  get motion(): Motion | null {
    return this.data;
  }
  set motion(motion: Motion | null) {
    void this.take(motion);
  }

  /** The frame that is shown, as the shot counts. Setting it stops there. */
  get frame(): number {
    return this.data === null ? 0 : this.frameOf(this.current);
  }
  set frame(frame: number) {
    if (this.data !== null) this.stopAt(Math.round((frame - this.data.firstFrame) / this.data.frameStep));
  }

  /** Number of the note that is shown; null for the whole shot. Setting it goes to the note's frames. */
  get note(): number | null {
    return this.chosen !== null && isNote(this.chosen) ? this.chosen.number : null;
  }
  set note(number: number | null) {
    void this.choose(this.data?.notes.find((note) => note.number === number) ?? null);
  }

  /** Number of what holds that is shown; null where none is. Setting it goes to its frames. */
  get strength(): number | null {
    return this.chosen === null || isNote(this.chosen) ? null : this.chosen.number;
  }
  set strength(number: number | null) {
    void this.choose(this.data?.strengths?.find((strength) => strength.number === number) ?? null);
  }

  /** Which motion is shown; "before" where the note has no fix. */
  get showing(): Showing {
    const isFixed = this.chosen !== null && isNote(this.chosen) && this.fixed.has(this.chosen);
    return isFixed ? (this.panel.select("showing").value as Showing) : "before";
  }
  set showing(showing: Showing) {
    this.panel.select("showing").value = showing;
    this.draw();
  }

  /** Times the shot's own speed. */
  get speed(): number {
    return Number(this.panel.select("speed").value);
  }
  set speed(speed: number) {
    const select = this.panel.select("speed");
    if (![...select.options].some(({ value }) => Number(value) === speed)) {
      select.add(new Option(`${speed} ×`, String(speed)));
    }
    select.value = String(speed);
    this.restart();
  }

  /** From where the shot is seen. */
  get from(): From {
    return (this.panel.select("from").value || "side") as From;
  }
  set from(from: From) {
    this.panel.select("from").value = from;
    this.draw();
  }

  /** Whether it plays. */
  get playing(): boolean {
    return this.timer !== 0;
  }

  /** Plays on from the frame that is shown: the shot again and again, or what is around the note. */
  play(): void {
    if (this.stage === null || this.playing) return;
    this.clock.begin(this.current, performance.now(), this.range());
    this.timer = requestAnimationFrame(this.tick);
    this.hear();
    this.tellPlaying();
  }

  /** Stops at the frame that is shown. */
  pause(): void {
    if (!this.playing) return;
    cancelAnimationFrame(this.timer);
    this.timer = 0;
    this.footage?.silence();
    this.tellPlaying();
  }

  /** The point of the part that is seen at a place of the window, or near it; null where there is none. */
  pointAt(clientX: number, clientY: number): number | null {
    const { left, top } = this.panel.canvas.getBoundingClientRect();
    return this.stage?.pointAt(clientX - left, clientY - top) ?? null;
  }

  /**
   * Stops, and has a line drawn over the picture, by pointer or by keyboard, in the plane through a point that faces
   * whoever looks. `keyside-stroke` tells what was drawn. null puts the pencil down.
   */
  drawThrough(point: number | null): void {
    if (point === null || this.poses === null) {
      this.pencil.drop();
      return;
    }
    this.pause();
    const { at, count } = this.poses;
    const place = (axis: number) => at[(3 * point + axis) * count + this.current];
    this.pencil.take([place(0), place(1), place(2)]);
    this.panel.canvas.focus();
  }

  /** Whether a line is being drawn, or waits to be. */
  get drawing(): boolean {
    return this.pencil.isDrawing;
  }

  private readonly tick = (now: number): void => {
    if (this.data === null) return;
    const due = this.clock.frameAt(now, this.data.rate * this.speed);
    if (due !== this.current) {
      this.go(due);
      this.hear();
    }
    this.timer = requestAnimationFrame(this.tick);
  };

  private restart(): void {
    if (!this.playing) return;
    this.clock.begin(this.current, performance.now(), this.range());
    this.hear();
  }

  /** Keeps the sound in time with the frame that is shown. */
  private hear(): void {
    if (this.panel.input("sound").checked) this.footage?.hear(this.frame, this.speed);
    else this.footage?.silence();
  }

  private tellPlaying(): void {
    this.panel.tellPlaying(this.playing);
    this.tell("playing", this.playing);
    this.tellHere();
  }

  private tell(what: string, detail?: unknown): void {
    this.dispatchEvent(new CustomEvent(`keyside-${what}`, { detail }));
  }

  /** First and last frame that are played. */
  private range(): readonly [number, number] {
    if (this.data === null) return [0, 0];
    const { count, rate } = this.data;
    if (this.chosen === null || !this.panel.input("loop").checked) return [0, count - 1];
    const margin = Math.round(aroundNote * rate);
    return [Math.max(0, this.chosen.from - margin), Math.min(count - 1, this.chosen.to + margin)];
  }

  private readFor(): void {
    const id = this.getAttribute("for");
    const text = id === null ? null : (this.getRootNode() as Document).getElementById(id)?.textContent;
    if (text === null || text === undefined) return;
    try {
      this.motion = JSON.parse(text);
    } catch (error) {
      this.panel.alert(error);
    }
  }

  private async take(motion: Motion | null): Promise<void> {
    this.pause();
    [this.data, this.poses, this.stage, this.chosen, this.footage] = [null, null, null, null, null];
    this.fixed.clear();
    this.panel.alert(null);
    const asked = ++this.asked;
    if (motion === null) return;
    try {
      if (motion.format !== "keyside.motion" || motion.version !== 1) {
        throw new Error('it is no "keyside.motion" of version 1.');
      }
      const poses = await posesOf(motion);
      if (asked === this.asked) this.begin(motion, poses);
    } catch (error) {
      if (asked === this.asked) this.panel.alert(error);
    }
  }

  private begin(motion: Motion, poses: Poses): void {
    const stage = new Stage(motion, poses);
    [this.data, this.poses, this.stage] = [motion, poses, stage];
    this.footage = new Footage(motion, this.draw, (words) => this.panel.warn(words));
    this.panel.offer(motion);
    this.panel.tellNote(null, motion.count);
    this.panel.input("follow").checked = stage.goesFar;
    this.go(0);
    this.tell("ready");
  }

  /**
   * Takes the shot after a change: frame, view and whether it plays stay as they are, and so does the note where it is
   * still there.
   * @param motion the changed shot; its packed `poses` may be those of before
   * @param poses where its points are now; `posesOf` gives those of a motion
   */
  revise(motion: Motion, poses: Poses): void {
    if (this.data === null || this.stage === null) {
      this.asked++;
      this.begin(motion, poses);
      return;
    }
    const { chosen, data } = this;
    [this.data, this.poses, this.stage] = [motion, poses, this.stage.revised(motion, poses)];
    if (poses !== this.posesFixed) this.fixed.clear();
    if (motion.notes !== data.notes || motion.strengths !== data.strengths) this.panel.offerNotes(motion);
    if (motion.strokes !== data.strokes) this.panel.offerStrokes(motion);
    if (motion.count !== data.count || motion.firstFrame !== data.firstFrame) {
      this.panel.offerFrames(motion.count);
      this.go(this.current);
    }
    const among = chosen !== null && isNote(chosen) ? motion.notes : motion.strengths;
    const now = chosen === null ? null : (among?.find(({ number }) => number === chosen.number) ?? null);
    if (now !== chosen || (now !== null && isNote(now) && now.fix !== null && !this.fixed.has(now)))
      void this.choose(now, true);
    else {
      if (motion.notes !== data.notes) this.tellHere();
      this.draw();
    }
  }

  private async choose(note: MotionNote | MotionStrength | null, staysHere = false): Promise<void> {
    const { poses, data } = this;
    if (data === null || poses === null) return;
    const before = this.note;
    this.chosen = note;
    this.panel.tellNote(note, data.count);
    if (note !== null && isNote(note) && note.fix !== null && !this.fixed.has(note)) {
      try {
        this.fixed.set(note, await posesAfter(poses, note.fix, data.grain));
        this.posesFixed = poses;
      } catch (error) {
        this.panel.alert(error);
      }
      if (this.poses !== poses || this.chosen !== note) return;
    }
    if (staysHere) {
      this.tellHere();
      this.draw();
      if (before !== this.note) this.tell("note", this.note);
      return;
    }
    const [first, last] = this.range();
    if (note !== null && (!this.playing || this.current < first || this.current > last)) {
      this.go(Math.round((note.from + note.to) / 2));
    }
    this.restart();
    this.tellHere();
    this.draw();
    this.tell("note", this.note);
  }

  private frameOf(sample: number): number {
    const { firstFrame, frameStep } = this.data as Motion;
    return Math.round((firstFrame + sample * frameStep) * 1000) / 1000;
  }

  private stopAt(sample: number): void {
    this.pause();
    this.go(sample);
  }

  private go(sample: number): void {
    if (this.data === null) return;
    this.current = Math.min(this.data.count - 1, Math.max(0, sample));
    this.panel.tellFrame(this.current, this.frame, this.frameOf(this.data.count - 1));
    this.draw();
    if (!this.playing) this.tellHere();
    this.tell("frame", this.frame);
  }

  /** Says the note that is shown, or those that speak of this frame. */
  private tellHere(): void {
    const { chosen, data, current } = this;
    if (chosen !== null) {
      const fix = !isNote(chosen) || chosen.fix === null ? "" : ` With the fix: ${chosen.fix.title}`;
      this.panel.tellWords(`${chosen.message}${fix}`);
    } else if (data !== null && !this.playing) {
      const here = data.notes.filter(({ from, to }) => from <= current && current <= to);
      this.panel.tellHere(here, (number) => {
        this.note = number;
      });
    }
  }

  private readonly draw = (): void => {
    const { data, panel, chosen, showing, from } = this;
    if (data === null || this.stage === null) return;
    const after = chosen === null || !isNote(chosen) ? undefined : this.fixed.get(chosen);
    const hasRendered = from === "rendered" || (from === "camera" && panel.input("beneath").checked);
    this.stage.draw(
      panel.canvas,
      panel.probe,
      {
        sample: this.current,
        note: chosen,
        ghosts: Number(panel.select("ghosts").value),
        hasPath: panel.input("path").checked,
        hasStrokes: panel.input("strokes").checked,
        rendered: hasRendered ? (this.footage?.renderedAt(this.frame) ?? null) : null,
      },
      {
        from,
        size: Number(panel.input("size").value),
        isFollowing: panel.input("follow").checked,
        frames: chosen === null ? [0, data.count - 1] : this.range(),
      },
      after === undefined || showing === "before" ? null : { after, showing },
      (pen, view, palette) => this.pencil.draw(pen, view, palette),
    );
    panel.tellSides(...sides[showing]);
    panel.canvas.setAttribute("aria-label", `${data.name}, frame ${this.frame}, from ${fromNames[from]}`);
  };
}
