import {
  emptyReview,
  FixSession,
  type KeyEdit,
  type Note,
  type Problem,
  type Progress,
  type ProvenFix,
  type ResolvedSettings,
  type ReviewFile,
  type Shot,
  ShotSession,
  setWaiversBeside,
  tryEditShot,
  type Waiver,
  waiversOfReview,
} from "@keyside/core";
import { noteChanges } from "@keyside/core/internal";
import type { Job } from "../feed/scheduler.ts";
import { stableShot } from "../feed/stable-shot.ts";
import { remarksToSend } from "./host-review.ts";
import { type NotesChanged, type NotesSoFar, noteToSend, type ReviewChanged } from "./sent.ts";

/** A shot as it is opened. */
export interface OpenedShot {
  readonly name: string;
  readonly folder: string | null;
  readonly revision: number;
  readonly shot: Shot;
  readonly settings: ResolvedSettings;
  /** Waivers that the tool keeps; none if left out. */
  readonly waivers?: readonly Waiver[] | undefined;
  /** What people say of it; nothing if left out. */
  readonly review?: ReviewFile | undefined;
  /** Whether the client is told what has been found so far, while a judgement takes long; not if left out. */
  readonly tellsSoFar?: boolean | undefined;
}

/** Whom a shot tells what became of its notes. */
export interface HostShotListener {
  /** Whether an edit has arrived whose turn has not come. */
  isWaiting(): boolean;
  /** The clock, in milliseconds. */
  now(): number;
  changed(message: NotesChanged): void;
  soFar(message: NotesSoFar): void;
  reviewed(message: ReviewChanged): void;
  failed(revision: number, error: unknown): void;
}

/**
 * Milliseconds after which a client hears of a run that goes on: it is to hear something every 100, and a piece of the
 * work takes some tens in the longest shots.
 */
const betweenTellings = 60;
/** Milliseconds for which a run goes on at least before it is told of: most runs end sooner, and tell all. */
const shortRun = 25;

/**
 * A shot that a host tool edits: it counts revisions, and tells what became of the notes since it last told.
 *
 * What is being judged is brought to its end, however fast edits come in: they are made at once on the shot as the
 * tool knows it, and the run after takes them all. Each message says which revision it judges; none of an older one
 * comes after that of a newer one.
 */
export class HostShot implements Job {
  readonly name: string;
  /** The folder whose configuration file holds for it; null for none. */
  readonly folder: string | null;
  readonly runsToEnd = true;
  revision: number;
  private readonly listener: HostShotListener;
  private readonly tellsSoFar: boolean;
  /** When the client last heard of its notes; milliseconds. */
  private toldAt = Number.NEGATIVE_INFINITY;
  /** What is judged next. */
  private next: Version;
  /** What the session holds: it is judged, or has been. */
  private taken: Version;
  private takenRevision: number;
  private session: ShotSession;
  private told: readonly Note[] = [];
  private toldRevision: number | null = null;
  private hasFailed = false;
  /** The remarks as they were told last. */
  private toldReview = "[]";

  constructor(opened: OpenedShot, listener: HostShotListener) {
    this.name = opened.name;
    this.folder = opened.folder;
    this.revision = opened.revision;
    this.listener = listener;
    this.tellsSoFar = opened.tellsSoFar === true;
    this.next = {
      shot: opened.shot,
      settings: opened.settings,
      waivers: opened.waivers ?? [],
      review: opened.review ?? emptyReview(),
    };
    this.taken = this.next;
    this.takenRevision = opened.revision;
    this.session = sessionOn(this.next);
  }

  /** The notes that the client knows; null while they are not those of the newest revision. */
  get notes(): readonly Note[] | null {
    return this.isNewest(this.toldRevision) ? this.told : null;
  }

  /** Whether a revision is the newest, and nothing has arrived that makes another. */
  isNewest(revision: number | null): boolean {
    return revision === this.revision && !this.listener.isWaiting();
  }

  /** Makes edits, all or none; they count as one revision. */
  edit(edits: readonly KeyEdit[]): readonly Problem[] {
    const { shot, problems } = tryEditShot(this.next.shot, edits);
    if (problems.length === 0) this.revise({ shot });
    return problems;
  }

  replace(shot: Shot): void {
    this.revise({ shot: stableShot(this.next.shot, shot) });
  }

  configure(settings: ResolvedSettings): void {
    this.revise({ settings });
  }

  /** Takes the waivers that the tool keeps, in place of those before. */
  waive(waivers: readonly Waiver[]): void {
    this.revise({ waivers });
  }

  /** What people say of it, as the tool has it now. */
  get review(): ReviewFile {
    return this.next.review;
  }

  /** The shot as the tool has it now. */
  get shot(): Shot {
    return this.next.shot;
  }

  /** Takes what people say, in place of what they said before. */
  say(review: ReviewFile): void {
    this.revise({ review });
  }

  /** Looks for a fix of a note, a trial at a time; in a shot of its own, so that edits may come in between. */
  *fixInSteps(note: Note): Generator<unknown, { proven: ProvenFix | null; why: string | null }> {
    const { shot, settings } = this.next;
    const session = new FixSession(shot, settings, waiversOf(this.next));
    const proven = yield* session.proveInSteps(note);
    return { proven, why: proven?.kind === "fix" ? null : session.whyNot(note) };
  }

  /** Edits that have arrived are taken in before a run begins, unless they go on arriving for too long. */
  isSettled(): boolean {
    return !this.listener.isWaiting();
  }

  *steps(): Generator<unknown, void> {
    this.takeNext();
    const begun = this.listener.now();
    for (const progress of this.session.judgeInSteps()) {
      if (this.tellsSoFar) this.tellSoFar(progress, begun);
      yield;
    }
  }

  /** Tells how far a run has come, where the client has heard nothing for long. */
  private tellSoFar(progress: Progress, begun: number): void {
    const now = this.listener.now();
    if (now - begun < shortRun || now - this.toldAt < betweenTellings) return;
    this.toldAt = now;
    this.listener.soFar({
      shot: this.name,
      revision: this.takenRevision,
      share: progress.share,
      notes: progress.notes().map(noteToSend),
    });
  }

  done(): void {
    const { name, session } = this;
    const { added, changed, gone } = noteChanges(this.told, session.notes);
    this.told = session.notes;
    this.toldRevision = this.takenRevision;
    this.toldAt = this.listener.now();
    this.listener.changed({
      shot: name,
      revision: this.takenRevision,
      added: added.map(noteToSend),
      changed: changed.map(noteToSend),
      gone: gone.map(({ fingerprint }) => fingerprint),
      ...(session.failures.length === 0 ? {} : { failures: session.failures.map((one) => ({ ...one })) }),
    });
    this.tellReview();
  }

  /** Tells what people say, where any of it is other than was told. */
  private tellReview(): void {
    const { review, shot } = this.taken;
    if (review.remarks.length === 0 && this.toldReview === "[]") return;
    const remarks = remarksToSend(review, shot, this.session.study);
    const text = JSON.stringify(remarks);
    if (text === this.toldReview) return;
    this.toldReview = text;
    this.listener.reviewed({ shot: this.name, revision: this.takenRevision, remarks });
  }

  failed(error: unknown): void {
    this.hasFailed = true;
    this.listener.failed(this.takenRevision, error);
  }

  private revise(changes: Partial<Version>): void {
    this.next = { ...this.next, ...changes };
    this.revision++;
  }

  /** Puts the newest version before the session; after a failure nothing that was computed is trusted. */
  private takeNext(): void {
    const { next, taken, session } = this;
    if (this.hasFailed) {
      this.session = sessionOn(next);
      this.hasFailed = false;
    } else {
      if (next.shot !== taken.shot) session.takeShot(next.shot);
      if (next.settings !== taken.settings) session.takeSettings(next.settings);
      if (next.waivers !== taken.waivers || next.review !== taken.review)
        setWaiversBeside(session.study, waiversOf(next));
    }
    this.taken = next;
    this.takenRevision = this.revision;
  }
}

/** All that a judgement depends on. */
interface Version {
  readonly shot: Shot;
  readonly settings: ResolvedSettings;
  readonly waivers: readonly Waiver[];
  readonly review: ReviewFile;
}

/** The waivers that the tool keeps, and what the review drops. */
function waiversOf({ waivers, review }: Version): readonly Waiver[] {
  return [...waivers, ...waiversOfReview(review)];
}

function sessionOn(version: Version): ShotSession {
  const { shot, settings } = version;
  const waivers = waiversOf(version);
  const session = new ShotSession(shot, settings, true);
  if (waivers.length > 0) setWaiversBeside(session.study, waivers);
  return session;
}
