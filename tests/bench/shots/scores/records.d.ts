/** What scoring hands on: plain records, one per shot, which workers send and reports add up. */
import type { Shot } from "@keyside/core";
import type { BuiltShot, ChannelName, KeyedShot, Poses, ShotPlan } from "../types.d.ts";

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
  undressed(plan: ShotPlan, built: BuiltShot, shot: Shot): KeyedShot;
}

export interface PlainNote {
  readonly index: number;
  readonly check: string;
  readonly tier: string;
  readonly joint: string | null;
  readonly seenAt: string | null;
  readonly from: number;
  readonly to: number;
  readonly message: string;
}

/** Number of notes by tier, and `all`. */
export type TierCounts = Record<string, number>;

export type FixRecord =
  | { readonly found: false }
  | {
      readonly found: true;
      readonly name: string;
      readonly cleared: boolean;
      /** The fault's measure after the fix. */
      readonly left: number;
      readonly changed: number;
      readonly added: number;
      /** Statures. */
      readonly outside: number;
      readonly plant: boolean;
      readonly prop: boolean;
      readonly otherFigure: boolean;
      readonly frozen: boolean;
    };

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
