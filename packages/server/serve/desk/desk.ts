import type { FeedNote } from "@keyside/adapters";
import type { KeyEdit, ReviewFile, Waiver } from "@keyside/core";
import type { FoundFix, FromDesk, ReviewChange } from "@keyside/desk/link";
import type { Motion } from "@keyside/player/motion";
import { UnreadableError, unexpectedly } from "../../base/errors.ts";
import type { Files } from "../../base/files/read.ts";
import type { Pending, Timers } from "../feed/environment.ts";
import { stableShot } from "../feed/stable-shot.ts";
import { edited, type TextVersion, versionOf } from "./desk-text.ts";
import { FeedLink, type RunningFeed } from "./feed-link.ts";
import type { Footage } from "./footage.ts";
import { type Held, History, type Standing } from "./history.ts";
import { keyChanges } from "./keys.ts";
import { deskShot, knownWaivers, type LaidOut, waiversOf } from "./laid-out.ts";
import { MovingShot } from "./moving-shot.ts";
import { soFarMessage, squintOf } from "./notes.ts";
import { type Page, Refused, send } from "./page.ts";
import { Reviewing } from "./reviewing.ts";
import { Saving } from "./saving.ts";
import { ToldNotes } from "./told-notes.ts";

export interface DeskWorld {
  readonly files: Files;
  readonly timers: Timers;
  /** Starts the feed that judges the shot. */
  startFeed(): Promise<RunningFeed>;
  /** Settings of the shot, written as in a configuration file; null for the defaults. */
  readonly config: object | null;
  /** The shot's own pictures and sound; null for none. */
  readonly footage: Footage | null;
  /** Who reviews where nobody says another name. */
  readonly reviewer: string;
}

/** Milliseconds after the last edit at which it is kept beside the file. */
const keepPause = 1000;
/** Milliseconds between two looks at the file on disk. */
const lookPause = 1000;

/** How a change came about, and who has to be told what of it. */
interface Change {
  readonly by: number;
  readonly how: "edit" | "undo" | "redo" | "fix";
  /** Edits that make the change, where it is one of keys alone. */
  readonly edits?: readonly KeyEdit[];
}

/** One shot on a desk: its text, its history, how it moves and what is noted, told to all pages that are open on it. */
export class Desk {
  readonly saving: Saving;
  readonly feed: FeedLink;
  readonly footage: Footage | null;
  revision = 0;
  /** Edits of a page that knows no newer revision than this belong to a document that was put aside. */
  documentSince = 0;
  version: TextVersion;
  private readonly laid: LaidOut;
  private readonly timers: Timers;
  private readonly history = new History();
  private readonly pages = new Set<Page>();
  private moving: MovingShot;
  private waiversText: string;
  private waivers: readonly Waiver[];
  private readonly reviewing: Reviewing;
  /** Whether the last change of the review is on the disk, or the pages were told why not. */
  reviewWritten: Promise<void> = Promise.resolve();
  /** The waivers of the file beside the shot, and what the review drops. */
  private allWaivers: readonly Waiver[];
  private readonly notes = new ToldNotes();
  private feedNews: Extract<FromDesk, { type: "feed" }> | null = null;
  private movesDue: Pending | null = null;
  private keepDue: Pending | null = null;
  private lookDue: Pending | null = null;
  private hasEnded = false;

  constructor(laid: LaidOut, world: DeskWorld) {
    this.laid = laid;
    this.timers = world.timers;
    this.footage = world.footage;
    this.version = laid.version;
    this.waiversText = laid.waivers;
    this.waivers = knownWaivers(laid.waivers);
    this.saving = new Saving(laid, world.files);
    this.moving = new MovingShot(laid.version.shot, laid.loaded.name, laid.settings);
    this.reviewing = new Reviewing(laid, world.files, world.reviewer);
    this.allWaivers = this.waivers;
    const now = () => this.version.text;
    this.feed = new FeedLink(
      () => world.startFeed(),
      () => ({ revision: this.revision, waivers: this.allWaivers, content: () => ({ text: now() }) }),
      world.config,
      {
        notes: (revision, notes, failures) =>
          this.safely(() => this.takeNotes({ revision, notes, failures })),
        soFar: (share, notes) =>
          this.safely(() => this.tell(soFarMessage(this.revision, share, notes, this.moving.study))),
        failed: (message) => this.tell({ type: "trouble", message }),
        state: (state, message) => {
          this.feedNews = state === "back" ? null : { type: "feed", state, message };
          this.tell({ type: "feed", state, message });
        },
      },
      this.timers,
    );
  }

  /** Begins: the feed is started, the disk is watched. Pages may come from now on. */
  async begin(): Promise<void> {
    await this.saving.findUnsaved();
    await this.saving.look();
    await this.reviewing.begin();
    this.allWaivers = [...this.waivers, ...this.reviewing.waivers];
    void this.feed.begin();
    this.lookSoon();
  }

  /**
   * Ends. What is not saved is kept beside the shot.
   * @returns the name of the file in which it is; null for nothing
   * @throws UnreadableError where it cannot be kept
   */
  async stop(): Promise<string | null> {
    // What is under way now would otherwise have itself called again, and keep the program from ending.
    this.hasEnded = true;
    for (const due of [this.movesDue, this.keepDue, this.lookDue]) due?.cancel();
    this.tell({ type: "closing", message: "The desk was stopped." });
    try {
      const kept = await this.saving.keep(this.held);
      await this.reviewing.write(true);
      return kept;
    } finally {
      await this.feed.stop();
    }
  }

  get held(): Held {
    return { text: this.version.text, waivers: this.waiversText };
  }

  private get standing(): Standing {
    return { ...this.held, review: this.reviewing.review };
  }

  /** Lets a page in, and tells it all. */
  join(page: Page): void {
    // The others are told what they lack first: the page that comes begins with it.
    this.safely(() => this.tellMoves());
    this.pages.add(page);
    this.safely(() => {
      send(page, this.shotMessage(page));
      const notes = this.notes.all(this.moving, this.waivers, this.reviewing.review);
      if (notes !== null) send(page, notes);
      send(page, this.reviewing.targets(this.moving.study, this.revision));
    });
    if (this.feedNews !== null) send(page, this.feedNews);
  }

  leave(page: Page): void {
    this.pages.delete(page);
  }

  /** Makes edits of keys. @throws NotTaken */
  edit(
    edits: readonly KeyEdit[],
    label: string,
    group: string | null,
    by: number,
    how: "edit" | "fix",
  ): void {
    const before = this.standing;
    const next = edited(this.version, edits, this.laid.measure);
    this.history.take(before, { ...before, text: next.text }, label, group);
    this.change(next, this.waiversText, { by, how, edits });
  }

  /** Goes a step back or forth in the history. Gives whether there was one. */
  step(way: "undo" | "redo", by: number): boolean {
    const before = this.standing;
    const after = this.history[way](before);
    if (after === null) return false;
    if (after.review !== before.review) this.putReview(after.review, by, "");
    if (after.text !== before.text || after.waivers !== before.waivers) {
      this.change(versionOf(after.text, this.laid.measure), after.waivers, { by, how: way });
    }
    return true;
  }

  /** Changes the review, which is written at once. @throws Refused */
  changeReview(change: ReviewChange, label: string, by: number): { readonly remark?: string } {
    const before = this.standing;
    const { review, ...more } = this.reviewing.after(change, this.version.shot, (fingerprint) =>
      this.noteCalled(fingerprint),
    );
    if (review === before.review) return more;
    this.history.take(before, { ...before, review }, label, null);
    this.putReview(review, by, "");
    return more;
  }

  /**
   * Puts another document in place, as one step of the history.
   * @param taken called once it is clear that it can be taken, before the pages are told
   * @throws NotTaken; UnreadableError
   */
  replace(held: Held, label: string, taken: () => void): void {
    const next = versionOf(held.text, this.laid.measure);
    waiversOf(this.laid, held.waivers);
    taken();
    const before = this.standing;
    this.history.take(before, { ...before, ...held }, label, null);
    this.put(next, held.waivers, null);
    this.relay();
  }

  /** A note that the pages know. @throws Refused */
  noteCalled(fingerprint: string): FeedNote {
    const note = this.notes.called(fingerprint);
    if (note === undefined) throw new Refused("unknown-note", "This note is no more.");
    return note;
  }

  /** What edits would do to the motion and, for a note, to the camera's picture; how far parts would be from their targets. */
  moveOf(
    title: string,
    edits: readonly KeyEdit[],
    note: FeedNote,
  ): Pick<FoundFix, "motion" | "targets" | "squint"> {
    const { motion, study } = this.moving.moveTo(title, edited(this.version, edits, this.laid.measure).shot);
    const { targets } = this.reviewing.targets(study, this.revision);
    return { motion, targets, squint: squintOf(note, this.moving.study, study) };
  }

  /** Tells all pages something. */
  tell(message: FromDesk): void {
    const text = JSON.stringify(message);
    for (const page of this.pages) page.send(text);
  }

  /** Tells how the shot stands against its file. */
  tellDisk(event: "saved" | "changed" | "kept", message: string): void {
    this.tell({ type: "disk", event, message, disk: this.saving.disk(this.held) });
  }

  tellRecoveries(): void {
    this.tell({ type: "recoveries", recoveries: this.saving.recoveries });
  }

  /** Keeps what is not saved beside the shot, soon: not with each edit of a drag. */
  keepSoon(): void {
    this.keepDue?.cancel();
    if (this.hasEnded) return;
    this.keepDue = this.timers.after(keepPause, () => {
      this.saving.keep(this.held).catch((error: unknown) => this.tell(troubleOf(error)));
    });
  }

  /** Puts a changed version in place and tells all pages. */
  private change(next: TextVersion, waivers: string, { by, how, edits }: Change): void {
    const before = this.version;
    const isOther = stableShot(before.shot, next.shot).header !== before.shot.header;
    const channels = isOther ? [] : keyChanges(before.shot, next.shot);
    const sameFrames = before.shot.range.every((frame, end) => frame === next.shot.range[end]);
    // What edits leave of the range is for whoever reads the text to say.
    const isSameText = edits === undefined && before.text === next.text;
    const given = isSameText ? [] : isOther || !sameFrames ? null : (edits ?? null);
    this.put(next, waivers, given);
    if (isOther) {
      this.relay();
      return;
    }
    const { revision, history, held } = this;
    const disk = this.saving.disk(held);
    this.tell({ type: "changed", revision, by, how, channels, history: history.labels, disk });
    this.movesDue ??= this.timers.soon(() => this.safely(() => this.tellMoves()));
  }

  /** @param given edits that the feed is given; null where it is given the whole text */
  private put(next: TextVersion, waivers: string, given: readonly KeyEdit[] | null): void {
    this.version = next;
    this.revision++;
    this.moving.take(next.shot);
    if (given === null) this.feed.replace();
    else if (given.length > 0) this.feed.edit(given);
    if (waivers !== this.waiversText) {
      this.waiversText = waivers;
      this.waivers = knownWaivers(waivers);
      this.waiveAnew();
    }
    this.keepSoon();
  }

  private waiveAnew(): void {
    this.allWaivers = [...this.waivers, ...this.reviewing.waivers];
    this.feed.waive();
  }

  /** Puts a changed review in place, writes it and tells all pages. */
  private putReview(review: ReviewFile, by: number, message: string): void {
    const isWaivedOtherwise = this.reviewing.put(review);
    if (isWaivedOtherwise) this.waiveAnew();
    this.tellReview(by, message);
    this.reviewWritten = this.reviewing
      .write()
      .then((news) => this.takeReviewNews(news))
      .catch((error: unknown) => this.tell(troubleOf(error)));
  }

  private tellReview(by: number, message: string): void {
    this.safely(() => {
      const { reviewing, moving, notes, history, revision } = this;
      const review = reviewing.told(moving.study, notes.known);
      this.tell({ type: "review", by, message, review, history: history.labels });
      this.tell(reviewing.targets(moving.study, revision));
      const told = notes.waived(moving, this.waivers, reviewing.review);
      if (told !== null) this.tell(told);
    });
  }

  /** Somebody else wrote into the review file; what they wrote stands on the desk by now. */
  private takeReviewNews(news: string | null): void {
    if (news === null) return;
    this.waiveAnew();
    this.tellReview(0, news);
  }

  /** Another document lies on the desk: all pages are told all of it. */
  private relay(): void {
    this.documentSince = this.revision;
    this.movesDue?.cancel();
    this.movesDue = null;
    const { loaded, settings } = this.laid;
    this.moving = new MovingShot(this.version.shot, loaded.name, settings);
    this.notes.forget();
    for (const page of this.pages) send(page, this.shotMessage(page));
  }

  private shotMessage({ number }: Page): FromDesk {
    const { revision, moving, history, saving } = this;
    return {
      type: "shot",
      revision,
      page: number,
      shot: deskShot(this.laid, moving.study, this.version, moving.pointOf),
      motion: this.wholeMotion(),
      review: this.reviewing.told(moving.study, this.notes.known),
      history: history.labels,
      disk: saving.disk(this.held),
      recoveries: saving.recoveries,
    };
  }

  private wholeMotion(): Motion {
    return { ...this.moving.whole(), ...this.footage?.motion };
  }

  private tellMoves(): void {
    this.movesDue?.cancel();
    this.movesDue = null;
    const { revision, moving } = this;
    const motion = moving.changes();
    if (motion === null) return;
    if (motion !== "all") {
      this.tell({ type: "moved", revision, motion });
      this.tellTargets();
      return;
    }
    const { range } = this.version.shot;
    this.tell({ type: "motion", revision, range: [range[0], range[1]], motion: this.wholeMotion() });
    const notes = this.notes.again(moving, this.waivers, this.reviewing.review);
    if (notes !== null) this.tell(notes);
    this.tellTargets();
  }

  private tellTargets(): void {
    if (this.reviewing.hasTargets) this.tell(this.reviewing.targets(this.moving.study, this.revision));
  }

  private takeNotes(judged: Parameters<ToldNotes["take"]>[0]): void {
    // What is judged is a document that was put aside.
    if (judged.revision < this.documentSince) return;
    const { reviewing, moving, notes } = this;
    this.tell(notes.take(judged, moving, this.waivers, reviewing.review));
    // Decisions are told by the fingerprints of the notes that there are now.
    const review = reviewing.toldIfOther(moving.study, notes.known);
    if (review !== null)
      this.tell({ type: "review", by: 0, message: "", review, history: this.history.labels });
  }

  /** Does what nobody asked for: where it fails, the pages are told, and the desk goes on. */
  private safely(work: () => void): void {
    try {
      work();
    } catch (error) {
      this.tell(troubleOf(error));
    }
  }

  private lookSoon(): void {
    if (this.hasEnded) return;
    this.lookDue = this.timers.after(lookPause, () => {
      this.look().catch((error: unknown) => this.tell(troubleOf(error)));
    });
  }

  private async look(): Promise<void> {
    try {
      const what = this.saving.hasChanged ? null : await this.saving.look();
      if (what !== null) this.tellDisk("changed", what);
      this.takeReviewNews(await this.reviewing.look());
    } finally {
      this.lookSoon();
    }
  }
}

function troubleOf(error: unknown): FromDesk {
  const message = error instanceof UnreadableError ? `${error.file}: ${error.message}` : unexpectedly(error);
  return { type: "trouble", message };
}
