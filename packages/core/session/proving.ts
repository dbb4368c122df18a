import type { Study } from "../base/study.ts";
import { type KeyEdit, tryEditShot } from "../document/edit.ts";
import { setShot } from "../document/inputs.ts";
import type { Shot } from "../document/model.ts";
import type { Finding } from "../faults/check.ts";
import type { Fix } from "../faults/fix.ts";
import type { Note } from "../faults/note.ts";
import { fixNamed } from "../faults/registry.ts";
import { Trial as Measuring, type SeriesFault } from "../faults/trial.ts";
import { notesOf } from "../notes/found.ts";
import { notesInSteps } from "../notes/in-steps.ts";
import { setWaiversBeside, type Waiver } from "../notes/waivers.ts";
import type { ResolvedSettings } from "../settings/settings.ts";
import { studyOf } from "../settings/study.ts";
import { gridOf } from "../time/grid.ts";
import { type KeyChange, keyChanges } from "./changes.ts";
import { isRebuilt, type KeyMove, movesIn } from "./moves.ts";
import { judged, nodesWithin } from "./outcome.ts";
import { type Left, noneClears, rebuiltInWords, refusal } from "./refusals.ts";
import { excessByNode, isLeft, isOfOthers, stillFound } from "./still-found.ts";
import { subjectOf } from "./subject.ts";
import { titleOf } from "./title.ts";
import { ofJolts } from "./verify/jolt.ts";
import type { Motion } from "./verify/law.ts";
import { isOfOldMotion, madeOf, motionOf } from "./verify/trial.ts";
import { objectionTo } from "./verify/verify.ts";

/** A fix of a note that was tried and works. */
export interface ProvenFix {
  readonly note: Note;
  /** The check whose fix it is. */
  readonly fix: string;
  /**
   * A fix is a few moves of keys, and keeps all motion outside the note's frames as it was. A sketch clears the note too,
   * and leaves what stands and what is held where it is, but it keys a span anew, or changes other motion: a starting
   * point for whoever animates.
   */
  readonly kind: "fix" | "sketch";
  /** What it does; it names only what moves. */
  readonly title: string;
  /** What is done to keys, as an animator would do it. */
  readonly moves: readonly KeyMove[];
  readonly edits: readonly KeyEdit[];
  /** The edits key by key, before and after. */
  readonly changes: readonly KeyChange[];
  /** Notes that go with it: the note itself and others that had the same cause. */
  readonly gone: readonly Note[];
  /** Lighter notes that it introduces; of any weight where they were there, hidden by what is gone. */
  readonly added: readonly Note[];
}

/** More alternatives than these are not judged in full for one note, and not looked at. */
const mostJudged = 40;
const mostTried = 240;
/** More than this share of a jolt is still seen of a strong one: four times the size that is noted (our choice). */
const leastSeen = 0.25;
/** How many more are looked at once one clears the note and leaves some of its fault. */
const mostFurther = 24;

/**
 * Looks for a fix of a note that works: it is made in memory, and taken only if the note is gone, no other note of its
 * tier or a heavier one has come or grown, and all motion outside its frames is as it was (see `verify`). Where there is
 * none a sketch may be: see {@link ProvenFix.kind}.
 * @param shot stays as it is
 * @param settings what the notes are judged by
 * @param note one of the shot's notes, judged by these settings
 * @param waivers from a file beside the document: what is waived is not held against a fix
 * @returns null where none of the proposals does
 */
export function provenFix(
  shot: Shot,
  settings: ResolvedSettings,
  note: Note,
  waivers: readonly Waiver[] = [],
): ProvenFix | null {
  return new FixSession(shot, settings, waivers).prove(note);
}

/** What fixing everything that can be fixed gives. */
export interface FixedShot {
  readonly shot: Shot;
  /** The fixes that were made, one after another; each one's edits belong to the shot that the one before left. */
  readonly fixes: readonly ProvenFix[];
  /** The notes that are left. */
  readonly notes: readonly Note[];
  /** Of chosen notes that are left: why nothing was made, and what would be a sketch of it. */
  readonly refused: readonly Refused[];
}

/** A note for which no fix was made. */
export interface Refused {
  readonly note: Note;
  /** What is said against the first change that clears it, or that none does: a sentence. */
  readonly why: string | null;
  /** What could be made of it all the same; null where there is nothing. */
  readonly sketch: ProvenFix | null;
}

/**
 * Makes verified fixes one after another, the heaviest note first, until nothing more can be proven.
 * @param shot stays as it is
 * @param settings what the notes are judged by
 * @param chosen which notes are to be fixed; all if left out
 * @param waivers from a file beside the document; waived notes are not fixed
 * @param sketches of which notes a sketch is made where there is no fix; of none if left out
 * @returns the fixed shot, the fixes in their order, and the notes that are left
 */
export function fixAll(
  shot: Shot,
  settings: ResolvedSettings,
  chosen: (note: Note) => boolean = () => true,
  waivers: readonly Waiver[] = [],
  sketches: (note: Note) => boolean = () => false,
): FixedShot {
  return outcomeOf(fixAllInSteps(new FixSession(shot, settings, waivers), chosen, sketches));
}

/** {@link fixAll}, a trial at a time, so that whoever asks can pause or give up in between. */
export function* fixAllInSteps(
  session: FixSession,
  chosen: (note: Note) => boolean = () => true,
  sketches: (note: Note) => boolean = () => false,
): Generator<unknown, FixedShot> {
  const fixes: ProvenFix[] = [];
  let refused: Refused[] = [];
  // What could not be fixed may be fixed once something else is; what cannot then is left.
  for (let isOn = true; isOn; ) {
    isOn = false;
    const failed = new Set<string>();
    refused = [];
    for (;;) {
      const note = session.notes.find((other) => chosen(other) && !failed.has(keyOf(other)));
      if (note === undefined) break;
      failed.add(keyOf(note));
      const proven = yield* session.proveInSteps(note);
      if (proven === null || (proven.kind === "sketch" && !sketches(note))) {
        refused.push({ note, why: session.whyNot(note), sketch: proven });
        continue;
      }
      session.make(proven);
      fixes.push(proven);
      isOn = true;
    }
  }
  return { shot: session.shot, fixes, notes: session.notes, refused };
}

/** Runs a computation in steps to its end. */
function outcomeOf<T>(steps: Generator<unknown, T>): T {
  for (;;) {
    const { done, value } = steps.next();
    if (done === true) return value;
  }
}

function keyOf({ check, node, frames, fingerprint }: Note): string {
  return `${check} ${node} ${frames[0]} ${frames[1]} ${fingerprint}`;
}

/** A shot in which fixes are tried; every trial is undone. */
export class FixSession {
  private readonly study: Study;
  private current: Shot;
  /** The motion of the shot as it is; null until something is tried on it. */
  private motion: Motion | null = null;
  /** Why proposals for notes of the shot as it is were refused, by note. */
  private readonly objections = new Map<string, string>();

  /**
   * A session on a shot as it stands.
   * @param shot stays as it is; the session has a version of its own
   * @param settings what the notes are judged by
   * @param waivers from a file beside the document
   */
  constructor(shot: Shot, settings: ResolvedSettings, waivers: readonly Waiver[] = []) {
    this.study = studyOf(shot, settings);
    setWaiversBeside(this.study, waivers);
    this.current = shot;
  }

  /** The shot with all fixes that were made. */
  get shot(): Shot {
    return this.current;
  }

  /** The notes that are open now, the heaviest first. */
  get notes(): readonly Note[] {
    return notesOf(this.study);
  }

  /**
   * The first proposal for a note that works; null where none does. The shot stays as it is.
   * @param note one of {@link notes}
   * @returns null where none of the proposals works
   */
  prove(note: Note): ProvenFix | null {
    return outcomeOf(this.proveInSteps(note));
  }

  /**
   * {@link prove}, a trial at a time; between two of them the shot is as it was.
   * @param asked one of {@link notes}
   * @returns a generator that gives, at its end, what {@link prove} gives
   */
  *proveInSteps(asked: Note): Generator<unknown, ProvenFix | null> {
    const before = yield* notesInSteps(this.study);
    // A note that came from elsewhere (a report, a client) stands for the one that is found here.
    const note = before.find((other) => other === asked || keyOf(other) === keyOf(asked)) ?? asked;
    let tried = 0;
    let last = mostTried;
    let partial: ProvenFix | null = null;
    let least = 1;
    const trial: Trial = {
      note,
      before,
      fault: null,
      strength: 0,
      excess: new Map(),
      left: 1,
      isWhole: false,
      judged: 0,
      nearest: null,
      sketch: null,
    };
    const fix = fixNamed(note.check);
    const subject = subjectOf(this.study, this.current, note);
    const fault = subject?.finding.fault ?? null;
    if (fault !== null && fault.kind !== "keys") trial.fault = fault;
    trial.strength = this.strengthOf(trial);
    trial.excess = excessByNode(this.study, note);
    if (fix === undefined || subject === null) {
      this.refuse(note, noneClears(0, null));
      return null;
    }
    const seen = new Set<string>();
    for (const edits of fix.propose(subject)) {
      if (tried++ >= last || trial.judged >= mostJudged) break;
      const name = JSON.stringify(edits);
      if (edits.length === 0 || seen.has(name) || !this.staysWithin(note, edits)) continue;
      seen.add(name);
      const proven = this.tried(fix, trial, edits);
      if (proven?.kind === "fix") {
        if (trial.isWhole) return proven;
        if (partial === null) last = Math.min(mostTried, tried + mostFurther);
        if (partial === null || trial.left < least) [partial, least] = [proven, trial.left];
      } else trial.sketch ??= proven;
      yield;
    }
    if (partial !== null) return partial;
    if (trial.sketch === null) this.refuse(note, noneClears(tried, trial.nearest?.left ?? null));
    return trial.sketch;
  }

  /**
   * Makes a verified fix.
   * @param fix what {@link prove} gave for the shot as it is now
   */
  make({ edits }: ProvenFix): void {
    this.replace(tryEditShot(this.current, edits).shot);
  }

  /**
   * What is said against the first change of keys that clears a note and is no fix; or that none clears it.
   * @param note a note that {@link prove} was asked for, of the shot as it is now
   * @returns a sentence; null where the first change that clears it is a fix
   */
  whyNot(note: Note): string | null {
    return this.objections.get(keyOf(note)) ?? null;
  }

  /**
   * Puts another version of the shot in place; parts that are the same objects count as unchanged.
   * @param shot the other version
   */
  replace(shot: Shot): void {
    this.motion = null;
    this.objections.clear();
    this.put(shot);
  }

  private put(shot: Shot): void {
    setShot(this.study, shot, this.current);
    this.current = shot;
  }

  private tried(fix: Fix, trial: Trial, edits: readonly KeyEdit[]): ProvenFix | null {
    const { note } = trial;
    const before = this.current;
    const { shot: after, problems } = tryEditShot(before, edits);
    if (problems.length > 0) return null;
    this.motion ??= motionOf(this.study);
    const { study, motion } = this;
    this.put(after);
    try {
      // The check itself is asked first: most proposals that fail leave their note as it is.
      const found = stillFound(study, note);
      if (found.length > 0 && !isOfOthers(study, note, found, trial.excess)) {
        this.remember(trial, found);
        return null;
      }
      const changes = keyChanges(before, after, edits);
      const left = trial.strength > 0 ? this.strengthOf(trial) / trial.strength : 1;
      const made = madeOf(study, motion, note, changes);
      const objection = objectionTo(made);
      if (objection !== null) {
        this.refuse(note, objection.reason);
        if (!objection.allowsSketch || trial.sketch !== null) return null;
      } else if (trial.sketch !== null && isRebuilt(study, movesIn(study, { before, after }, changes)))
        return null;
      trial.judged++;
      const outcome = judged(note, trial.before, this.notes, (other) => isOfOldMotion(made, other), changes);
      if (typeof outcome === "string") {
        this.refuse(note, outcome);
        return null;
      }
      const moves = movesIn(study, { before, after }, changes);
      const kind = objection === null && !isRebuilt(study, moves) ? "fix" : "sketch";
      if (kind === "sketch") this.refuse(note, rebuiltInWords(moves));
      const title = titleOf(fix.title(note), moves, before);
      trial.left = left;
      const isSeen = ofJolts.includes(note.check) && trial.strength > 0 && left > leastSeen;
      trial.isWhole =
        fix.margin === undefined || !(isSeen || isLeft(study, note, fix.margin, found.length > 0));
      return { note, fix: note.check, kind, title, moves, edits, changes, ...outcome };
    } finally {
      this.put(before);
    }
  }

  /** How strong the fault of a note is as the shot stands; 0 where that is not measured. */
  private strengthOf({ fault }: Trial): number {
    return fault === null ? 0 : new Measuring(this.study, fault).before;
  }

  /** Keeps the first objection: that to the smallest change. */
  private refuse(note: Note, objection: string): void {
    const name = keyOf(note);
    if (!this.objections.has(name)) this.objections.set(name, refusal(objection, note));
  }

  /** Keeps what is left of a note by the change that comes nearest to clearing it. */
  private remember(trial: Trial, found: readonly Finding[]): void {
    const worst = found.reduce((most, one) => (one.excess > most.excess ? one : most));
    if (trial.nearest !== null && trial.nearest.excess <= worst.excess) return;
    const { measured, expected, excess, from, to } = worst;
    const { frames } = gridOf(this.study);
    trial.nearest = { excess, left: { measured, expected, frames: [frames[from], frames[to]] } };
  }

  /** Whether edits keep to the note's figure; of a node of no figure, to its own hierarchy. */
  private staysWithin(note: Note, edits: readonly KeyEdit[]): boolean {
    const ids = nodesWithin(this.study, note);
    return edits.every(({ node }) => ids.has(node));
  }
}

interface Trial {
  readonly note: Note;
  /** The notes before anything is tried. */
  readonly before: readonly Note[];
  /** How the note's fault is measured again, and how strong it was before. */
  fault: SeriesFault | null;
  strength: number;
  /** How much each part exceeded of what the note says, by node. */
  excess: ReadonlyMap<number, number>;
  /** Share that is left of it after what was tried last. */
  left: number;
  /** Whether the fix that was tried last leaves so little of its fault that nobody would note it. */
  isWhole: boolean;
  /** How many proposals were judged in full. */
  judged: number;
  /** What the change that comes nearest to clearing the note leaves of it; null before one was tried. */
  nearest: { readonly excess: number; readonly left: Left } | null;
  /** The first proposal that is a sketch; it is taken where none is a fix. */
  sketch: ProvenFix | null;
}
