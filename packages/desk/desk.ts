import { type Curve, type KeyEdit, type Shot, tryEditShot } from "@keyside/core/curves";
import type { Drag } from "./curves/drag.ts";
import { FramesView } from "./curves/frames-view.ts";
import { keyAt, Picked } from "./curves/picked.ts";
import type { DeskDisk, DeskHistory, DeskRecovery, DeskShot, FromDesk } from "./link.ts";
import { Bus } from "./state/bus.ts";
import { Channels, nameOf } from "./state/channels.ts";
import type { Moving } from "./state/moving.ts";
import { Notes, type NumberedNote } from "./state/notes.ts";
import { type LetteredRemark, playedStrokes, Review } from "./state/review.ts";
import { Sender } from "./state/sender.ts";
import { channelTitle, framesText, unitOf } from "./state/words.ts";
import type { Asked, Wire } from "./wire.ts";

/** The most channels that a note lays out by itself. */
const mostOfNote = 4;

/** What the page knows of the shot, what of it is shown and chosen, and what came of it. Panes listen to its bus. */
export class Desk {
  readonly bus = new Bus();
  readonly channels = new Channels();
  readonly notes = new Notes();
  readonly review = new Review();
  readonly picked = new Picked();
  readonly view = new FramesView(0, 100);
  readonly moving: Moving;
  readonly sender: Sender;
  private readonly wire: Wire;
  shot: DeskShot | null = null;
  page = -1;
  revision = -1;
  history: DeskHistory = { undo: null, redo: null };
  disk: DeskDisk = { isUnsaved: false, hasChanged: false };
  recoveries: readonly DeskRecovery[] = [];
  /** What is said of the feed where it is not there; empty where it is. */
  feedTrouble = "";
  /** What a judgement that takes long has found so far; null while none does. */
  soFar: Extract<FromDesk, { type: "soFar" }> | null = null;
  /** What is said of the desk itself where it is not there; empty where it is. */
  lost = "";
  /** The last thing that happened, in a sentence. */
  said = "";
  /** Names of the channels whose curves are shown. */
  shown: readonly string[] = [];
  /** Whether notes leave the channels that are shown alone. */
  isHeld = false;
  frame = 0;
  /** Fingerprints of the note that is chosen, and of that which is pointed at. */
  chosen: string | null = null;
  pointed: string | null = null;
  /** Id of the remark that is chosen; where one is, no note is. */
  chosenRemark: string | null = null;
  /** Curves while they are dragged, in place of those that the desk has. */
  private readonly dragged = new Map<string, Curve>();

  constructor(
    wire: (desk: Desk) => Wire,
    moving: Moving,
    atNextPicture: (act: () => void) => void = requestAnimationFrame,
  ) {
    this.moving = moving;
    this.wire = wire(this);
    this.sender = new Sender(
      (edits, { group, label }) =>
        this.edit({ type: "edit", base: this.revision, group, label, edits: [...edits] }),
      atNextPicture,
      ({ message }) => this.say(message),
    );
  }

  ask(message: Asked) {
    return this.wire.ask(message);
  }

  /** Asks for an edit; with the first of a step, what follows is compared with how far parts are from targets by now. */
  private edit(message: Extract<Asked, { type: "edit" }>) {
    if (message.group !== this.group) this.review.beginStep();
    this.group = message.group;
    return this.ask(message);
  }
  private group = "";

  /** Says what happened. */
  say(sentence: string): void {
    this.said = sentence;
    this.bus.tell("standing");
  }

  /** A curve as it is shown: as it is dragged, else as the desk has it; null where its keys are not known. */
  curve(name: string): Curve | null {
    return this.dragged.get(name) ?? this.channels.curve(name);
  }

  /** The keys that are chosen, where they are. */
  pickedKeys(): { readonly curve: Curve; readonly key: number }[] {
    return this.picked.all.flatMap(({ name, frame }) => {
      const curve = this.curve(name);
      const key = curve === null ? -1 : keyAt(curve, frame);
      return curve === null || key < 0 ? [] : [{ curve, key }];
    });
  }

  pick(picks: Parameters<Picked["set"]>[0]): void {
    this.picked.set(picks);
    this.bus.tell("picked");
  }

  setFrame(frame: number): void {
    if (frame === this.frame) return;
    this.frame = frame;
    this.bus.tell("frame");
  }

  /** Shows the curves of these channels. */
  show(names: readonly string[]): void {
    this.shown = names.filter((name) => this.channels.get(name) !== undefined);
    this.picked.keep(({ name }) => this.shown.includes(name));
    this.bus.tell("curves");
    void this.fetch();
  }

  /** Points at a note, or at none. */
  point(fingerprint: string | null): void {
    if (fingerprint === this.pointed) return;
    this.pointed = fingerprint;
    this.bus.tell("chosen");
  }

  /** Chooses a note and goes to its frames and keys; null for the whole shot. */
  choose(fingerprint: string | null): void {
    const note = this.notes.find(fingerprint);
    this.chosen = note?.fingerprint ?? null;
    this.chosenRemark = null;
    this.bus.tell("chosen");
    if (note === null) return;
    const names = [...new Set(note.keys.map(nameOf))].slice(0, mostOfNote);
    if (names.length > 0 && !this.isHeld) this.show(names);
    const [first] = note.keys;
    const [from, to] = note.frames;
    const beside = Math.max(6, 0.6 * (to - from));
    this.view.show(Math.min(from, first?.frame ?? from) - beside, Math.max(to, first?.frame ?? to) + beside);
    this.bus.tell("view");
    if (first !== undefined && this.shown.includes(nameOf(first)))
      this.pick([{ name: nameOf(first), frame: first.frame }]);
  }

  /** Chooses a remark and goes to its frames and its part's channels; null for none. */
  chooseRemark(id: string | null): void {
    const remark = this.review.find(id);
    this.chosen = null;
    // One that was just added may be answered before it is told.
    this.chosenRemark = id;
    this.bus.tell("chosen");
    if (remark === null) return;
    if (remark.node !== null && !this.isHeld) {
      const own = [...this.channels.all].filter(({ node }) => node === remark.node);
      if (own.length > 0) this.show(own.map(nameOf).slice(0, mostOfNote));
    }
    if (remark.frames === null || this.shot === null) return;
    const [first, last] = this.shot.range;
    this.setFrame(Math.min(last, Math.max(first, Math.round(remark.frames[0]))));
    this.view.reveal(this.frame);
    this.bus.tell("view");
  }

  /** The remark that is chosen; null for none. */
  get remark(): LetteredRemark | null {
    return this.review.find(this.chosenRemark);
  }

  /** The note that is to be seen on the curves: that which is pointed at, else that which is chosen. */
  get seen(): NumberedNote | null {
    return this.notes.find(this.pointed) ?? this.notes.find(this.chosen);
  }

  /** Shows what a drag makes of the curves, which is sent as it goes on. */
  showDrag(drag: Drag): void {
    const edits = drag.whole();
    for (const name of new Set(edits.map(nameOf))) {
      const curve = this.channels.curve(name);
      if (!this.dragged.has(name) && curve !== null) this.beforeDrag.set(name, curve);
    }
    for (const [name, before] of this.beforeDrag) {
      const after = editedCurve(
        before,
        edits.filter((edit) => nameOf(edit) === name),
      );
      if (after !== null) this.dragged.set(name, after);
    }
    this.bus.tell("curves");
  }
  private readonly beforeDrag = new Map<string, Curve>();

  /** The drag is over and answered: curves are as the desk has them. */
  endDrag(): void {
    this.dragged.clear();
    this.beforeDrag.clear();
    this.bus.tell("curves");
  }

  /** Takes what the desk says. */
  hear(message: Exclude<FromDesk, { type: "answer" }>): void {
    if (message.type === "shot") this.begin(message);
    else if (message.type === "changed") this.changed(message);
    else if (message.type === "motion") this.otherRange(message);
    else if (message.type === "moved") void this.moving.take([message.motion], null);
    else if (message.type === "notes") this.judged(message);
    else if (message.type === "soFar") {
      this.soFar = message;
      this.bus.tell("standing");
    } else if (message.type === "review") this.reviewed(message);
    else if (message.type === "targets") {
      this.review.takeTargets(message.targets);
      this.bus.tell("review");
    } else if (message.type === "disk") {
      this.disk = message.disk;
      this.say(message.message);
    } else if (message.type === "feed") {
      this.feedTrouble = message.state === "back" ? "" : message.message;
      this.soFar = null;
      this.say(message.message);
    } else if (message.type === "recoveries") {
      this.recoveries = message.recoveries;
      this.bus.tell("standing");
    } else this.say(message.message);
  }

  /** The connection to the desk is there, or has ended. */
  connected(isThere: boolean): void {
    this.lost = isThere ? "" : "The desk has ended, or its connection is lost. It is tried again.";
    this.bus.tell("standing");
  }

  private begin(message: Extract<FromDesk, { type: "shot" }>): void {
    const isFirst = this.shot === null;
    const { shot, page, revision, history, disk, recoveries } = message;
    Object.assign(this, { shot, page, revision, history, disk, recoveries });
    this.feedTrouble = "";
    this.dragged.clear();
    this.channels.begin(shot.channels);
    this.notes.begin();
    this.review.take(message.review);
    void this.moving.begin(message.motion);
    this.showStrokes();
    this.view.bound(...shot.range);
    if (isFirst) this.view.showAll();
    this.frame = isFirst ? shot.range[0] : Math.min(shot.range[1], Math.max(shot.range[0], this.frame));
    this.bus.tell("shot");
    this.bus.tell("review");
    this.show(this.shown);
    this.bus.tell("view");
    this.bus.tell("standing");
  }

  private reviewed({ by, message, review, history }: Extract<FromDesk, { type: "review" }>): void {
    this.history = history;
    this.review.take(review);
    this.showStrokes();
    if (this.chosenRemark !== null && this.remark === null) this.chosenRemark = null;
    this.bus.tell("review");
    this.bus.tell("chosen");
    if (message !== "") this.say(by === this.page || by === 0 ? message : `Another page: ${message}`);
    else this.bus.tell("standing");
  }

  private showStrokes(): void {
    const { remarks } = this.review;
    void this.moving.takeStrokes((sampleOf) => playedStrokes(remarks, sampleOf));
  }

  private otherRange({ range, motion }: Extract<FromDesk, { type: "motion" }>): void {
    if (this.shot !== null) this.shot = { ...this.shot, range };
    void this.moving.renew(motion);
    this.view.bound(...range);
    this.bus.tell("view");
    this.setFrame(Math.min(range[1], Math.max(range[0], this.frame)));
  }

  private changed(message: Extract<FromDesk, { type: "changed" }>): void {
    const { revision, by, how, channels, history, disk } = message;
    Object.assign(this, { revision, history, disk });
    if (this.notes.fix !== null && this.notes.fix.revision !== revision) this.notes.fix = null;
    if (how === "fix") this.review.beginStep();
    const before = this.channels.changes;
    for (const change of channels) this.channels.change(change);
    if (before !== this.channels.changes) this.bus.tell("shot");
    if (by !== this.page) this.say(`Another page: ${whatChanged(how, message)}.`);
    if (!this.sender.isDragging) {
      this.picked.keep(({ name, frame }) => {
        const curve = this.channels.curve(name);
        return curve !== null && keyAt(curve, frame) >= 0;
      });
    }
    this.show(this.shown);
    this.bus.tell("picked");
    this.bus.tell("standing");
  }

  private judged(message: Extract<FromDesk, { type: "notes" }>): void {
    const isFirst = this.notes.revision < 0;
    this.soFar = null;
    const numberOf = (fingerprint: string | null) => this.notes.find(fingerprint)?.number ?? null;
    const [chosen, pointed] = [numberOf(this.chosen), numberOf(this.pointed)];
    const { came, went } = this.notes.take(message);
    void this.moving.take(message.points, this.notes);
    this.chosen = this.notes.numbered(chosen)?.fingerprint ?? null;
    this.pointed = this.notes.numbered(pointed)?.fingerprint ?? null;
    this.bus.tell("notes");
    this.bus.tell("chosen");
    if (!isFirst && went.length + came.length > 0) {
      const list = (what: string, notes: readonly NumberedNote[]) =>
        notes.length === 0 ? [] : [`${what}: ${notes.map(noteText).join("; ")}.`];
      this.say([...list("Gone", went), ...list("New", came)].join(" "));
    } else this.bus.tell("standing");
    if (isFirst && this.shown.length === 0) this.showFirst();
  }

  /** What lies on the desk to begin with: the channels of the first note; without notes, the first channels. */
  private showFirst(): void {
    const [first] = this.notes.all.filter(({ keys }) => keys.length > 0);
    const names = first?.keys.map(nameOf) ?? [...this.channels.all].map(({ name }) => name);
    this.show([...new Set(names)].slice(0, mostOfNote));
  }

  private async fetch(): Promise<void> {
    const of = this.shown.flatMap((name) => {
      const known = this.channels.get(name);
      return known === undefined || known.curve !== null ? [] : [known];
    });
    if (of.length === 0) return;
    const answer = await this.ask({
      type: "keys",
      of: of.map(({ node, channel }) => ({ node, channel })),
    });
    if (!answer.ok) {
      this.say(answer.message);
      return;
    }
    this.channels.fill(answer.keys ?? []);
    this.bus.tell("curves");
    this.bus.tell("picked");
  }

  /** What a channel is called, and what its numbers are counted in. */
  wordsOf(name: string): { readonly title: string; readonly unit: string } {
    const known = this.channels.get(name);
    if (known === undefined || this.shot === null) return { title: name, unit: "" };
    const node = this.shot.nodes.find(({ id }) => id === known.node);
    return {
      title: channelTitle(node, known.node, known.channel),
      unit: unitOf(known.channel, this.shot),
    };
  }
}

/** "3 hard stop, left hand". */
export function noteText({ number, title, part }: NumberedNote): string {
  return [`${number} ${title}`, part].filter(Boolean).join(", ");
}

/** "3 hard stop, left hand, frames 12 to 20". */
export function noteTextAt(note: NumberedNote): string {
  return `${noteText(note)}, ${framesText(note.frames)}`;
}

function whatChanged(how: string, { channels }: Extract<FromDesk, { type: "changed" }>): string {
  const names = channels.map(nameOf);
  const which = names.length > 2 ? `${names.length} channels` : names.join(" and ");
  const verbs: Readonly<Record<string, string>> = { undo: "undone", redo: "done again", fix: "fixed" };
  return `${which === "" ? "the shot" : which} ${verbs[how] ?? "edited"}`;
}

/** A curve after edits; null where they cannot be made, or take all of its keys. */
function editedCurve(curve: Curve, edits: readonly KeyEdit[]): Curve | null {
  const header = { nodes: [{ id: curve.node }] } as unknown as Shot["header"];
  const shot: Shot = {
    header,
    frameRate: { numerator: 1, denominator: 1 },
    range: [0, 0],
    curves: [curve],
  };
  const { shot: after, problems } = tryEditShot(shot, edits);
  return problems.length > 0 ? null : (after.curves[0] ?? null);
}
