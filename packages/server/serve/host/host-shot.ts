import {
  FixSession,
  type KeyEdit,
  type Note,
  type Problem,
  type ProvenFix,
  type ResolvedSettings,
  type Shot,
  ShotSession,
  setWaiversBeside,
  type Waiver,
} from "@keyside/core";
import { noteChanges } from "@keyside/core/internal";
import type { Job } from "../feed/scheduler.ts";
import { stableShot } from "../feed/stable-shot.ts";
import { type NotesChanged, noteToSend } from "./sent.ts";

/** A shot as it is opened. */
export interface OpenedShot {
  readonly name: string;
  readonly folder: string | null;
  readonly revision: number;
  readonly shot: Shot;
  readonly settings: ResolvedSettings;
  /** Waivers that the tool keeps; none if left out. */
  readonly waivers?: readonly Waiver[] | undefined;
}

/** Whom a shot tells what became of its notes. */
export interface HostShotListener {
  /** Whether an edit has arrived whose turn has not come. */
  isWaiting(): boolean;
  changed(message: NotesChanged): void;
  failed(revision: number, error: unknown): void;
}

/**
 * A shot that a host tool edits: it counts revisions, and tells what became of the notes since it last told. What it
 * tells is always of the newest revision.
 */
export class HostShot implements Job {
  readonly name: string;
  /** The folder whose configuration file holds for it; null for none. */
  readonly folder: string | null;
  revision: number;
  private settings: ResolvedSettings;
  private waivers: readonly Waiver[];
  private readonly listener: HostShotListener;
  private session: ShotSession;
  private told: readonly Note[] = [];
  private toldRevision: number | null = null;
  private hasFailed = false;

  constructor(opened: OpenedShot, listener: HostShotListener) {
    this.name = opened.name;
    this.folder = opened.folder;
    this.revision = opened.revision;
    this.settings = opened.settings;
    this.listener = listener;
    this.waivers = opened.waivers ?? [];
    this.session = this.sessionOn(opened.shot);
  }

  /** The notes that the client knows; null while they are not those of the newest revision. */
  get notes(): readonly Note[] | null {
    return this.toldRevision === this.revision && !this.listener.isWaiting() ? this.told : null;
  }

  /** Makes edits, all or none; they count as one revision. */
  edit(edits: readonly KeyEdit[]): readonly Problem[] {
    const problems = this.changing(() => this.session.take(edits));
    if (problems.length === 0) this.revision++;
    return problems;
  }

  replace(shot: Shot): void {
    this.changing(() => this.session.takeShot(stableShot(this.session.shot, shot)));
    this.revision++;
  }

  configure(settings: ResolvedSettings): void {
    this.settings = settings;
    this.changing(() => this.session.takeSettings(settings));
    this.revision++;
  }

  /** Takes the waivers that the tool keeps, in place of those before. */
  waive(waivers: readonly Waiver[]): void {
    this.waivers = waivers;
    this.changing(() => setWaiversBeside(this.session.study, waivers));
    this.revision++;
  }

  /** Looks for a fix of a note, a trial at a time; in a shot of its own, so that edits may come in between. */
  *fixInSteps(note: Note): Generator<void, { proven: ProvenFix | null; why: string | null }> {
    const session = new FixSession(this.session.shot, this.settings, this.waivers);
    const proven = yield* session.proveInSteps(note);
    return { proven, why: proven?.kind === "fix" ? null : session.whyNot(note) };
  }

  isSettled(): boolean {
    return !this.listener.isWaiting();
  }

  *steps(): Generator<unknown, void> {
    yield* this.session.judgeInSteps();
  }

  done(): void {
    const { name, revision, session } = this;
    const { added, changed, gone } = noteChanges(this.told, session.notes);
    this.told = session.notes;
    this.toldRevision = revision;
    this.listener.changed({
      shot: name,
      revision,
      added: added.map(noteToSend),
      changed: changed.map(noteToSend),
      gone: gone.map(({ fingerprint }) => fingerprint),
      ...(session.failures.length === 0 ? {} : { failures: session.failures.map((one) => ({ ...one })) }),
    });
  }

  failed(error: unknown): void {
    this.hasFailed = true;
    this.listener.failed(this.revision, error);
  }

  /** After a failure nothing that was computed is trusted: the next edit starts from the keys alone. */
  private changing<T>(change: () => T): T {
    if (this.hasFailed) {
      this.session = this.sessionOn(this.session.shot);
      this.hasFailed = false;
    }
    return change();
  }

  private sessionOn(shot: Shot): ShotSession {
    const session = new ShotSession(shot, this.settings, true);
    if (this.waivers.length > 0) setWaiversBeside(session.study, this.waivers);
    return session;
  }
}
