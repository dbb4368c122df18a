/** What scoring hands on: plain records, one per shot, which workers send and reports add up. */
import type { Note, Shot } from "@keyside/core";
import type { BuiltShot, ChannelName, Interpolation, Key, KeyedShot, Poses, ShotPlan } from "../types.d.ts";

/** What scoring asks of the stage: the way back from documents, and poses of keys that were edited. */
export interface Stage {
  posesOf(keyed: KeyedShot): Poses;
  /** From a channel of a document to ours; null for nodes that are none of the shot's. */
  ours(
    plan: ShotPlan,
    built: BuiltShot,
    node: string,
    channel: string,
  ): { joint: string; channel: ChannelName } | null;
  /** A document that was edited, as keys in our names and units. */
  undressed(plan: ShotPlan, built: BuiltShot, curves: readonly DocumentCurve[]): KeyedShot;
}

/** A curve in a document's names and units. */
export interface DocumentCurve {
  readonly node: string;
  readonly channel: string;
  readonly interpolation: Interpolation;
  readonly keys: readonly Key[];
}

/** What the scores ask the program. */
export interface Program {
  /** A document without problems. */
  read(text: string): Shot;
  /** Its notes, the one that matters most first. */
  notes(shot: Shot): readonly Note[];
  /** The first verified fix of a note of the shot. */
  fixer(shot: Shot): (note: Note) => Fix | null;
  /** Why a check says nothing at a place, in sentences. */
  whySilent(shot: Shot, place: { check: string; node: string; frame: number }): readonly string[];
}

export interface Fix {
  readonly name: string;
  /** Whether it is only a starting point, by the program's own word. */
  readonly sketch: boolean;
  /** All curves after it. */
  readonly curves: readonly DocumentCurve[];
  /** Keys that it changes or takes out. */
  readonly changed: number;
  /** Keys that are new. */
  readonly added: number;
  /** Moves of an animator, as the program tells them: keys that are slid together are one. */
  readonly moves: number;
}

/** A note as the scores see it, in the bench's own names. */
export interface NoteView extends PlainNote {
  /** The key that it names first. */
  readonly key: KeyView | null;
}

export interface KeyView {
  readonly joint: string;
  readonly channel: ChannelName;
  readonly frame: number;
}

export interface PlainNote extends Said {
  /** Place in the list, the one that matters most first. */
  readonly index: number;
  readonly tier: string;
  readonly message: string;
  /** What it lists as told with it. */
  readonly also?: readonly Said[];
}

/** What is said of what, and when. */
export interface Said {
  readonly check: string;
  /** The joint whose keys are to be looked at. */
  readonly joint: string | null;
  /** The joint on which it shows most. */
  readonly seenAt: string | null;
  readonly from: number;
  readonly to: number;
}

/** Number of notes by tier, and `all`. */
export type TierCounts = Record<string, number>;

/** What a fix moves that it should not; see docs/shots-bench.md for the limits. */
export interface Damage {
  /** Largest move of any joint outside the note's frames, or of another figure on any, in statures. */
  readonly outside: number;
  /** A joint outside the note's frames gets farther from where the clean twin has it. */
  readonly astray: boolean;
  readonly plant: boolean;
  readonly prop: boolean;
  readonly otherFigure: boolean;
  readonly frozen: boolean;
}

export interface FixFound extends Damage {
  readonly found: true;
  readonly name: string;
  /** Whether the program calls it a sketch. */
  readonly sketch: boolean;
  readonly cleared: boolean;
  /** The fault's measure after the fix. */
  readonly left: number;
  readonly changed: number;
  readonly added: number;
  readonly moves: number;
}

export type FixRecord = { readonly found: false } | FixFound;

export interface FaultRecord {
  readonly kind: string;
  readonly checks: readonly string[];
  readonly strength: 0 | 1 | 2;
  readonly size: number;
  readonly unit: string;
  readonly measured: number;
  readonly figure: string;
  readonly joint: string;
  readonly from: number;
  readonly to: number;
  readonly plannedKeys: number;
  readonly overlaps: boolean;
  readonly sharesLimb: boolean;
  readonly weight: number;
  readonly said: boolean;
  readonly note: PlainNote | null;
  /** Not said, but the note of another fault lies where it could. */
  readonly sharesNote: boolean;
  readonly rightKey: "planned" | "restored" | null;
  /** Notes that go when the fault is taken out, beside the one that says it. */
  readonly gone: number;
  readonly nearby: readonly PlainNote[];
  readonly fix: FixRecord | null;
}

export interface ShotRecord {
  /** Place in its set, by which it can be made again. */
  readonly index: number;
  readonly name: string;
  readonly body: string;
  readonly stage: "splined" | "blocked" | "dense";
  readonly spacing: number;
  readonly frames: number;
  /** Notes on the clean twin: all of them are false. */
  readonly twin: readonly PlainNote[];
  readonly full: TierCounts;
  readonly faults: readonly FaultRecord[];
  readonly biggest: { readonly fault: number; readonly saidBy: number | null } | null;
  readonly dropped: readonly { readonly kind: string; readonly strength: number; readonly reason: string }[];
}

export interface CaptureRecord {
  readonly name: string;
  readonly frames: number;
  readonly notes: TierCounts;
}

export interface Results {
  /** What the shots were drawn from, and the commit where that is what it was. */
  readonly seed: string;
  readonly commit: string | null;
  readonly shots: ShotRecord[];
  readonly captures: CaptureRecord[];
  /** What could not be made or judged, and why. Such a run is no report. */
  readonly failed: string[];
}
