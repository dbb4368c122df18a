import type { FaultRecord } from "../scores/records.d.ts";
import type { ChannelName, Place } from "../types.d.ts";

/** A planted shot as it is kept in a file: what notes on it are held against. */
export interface KeptShot {
  readonly name: string;
  readonly body: string;
  readonly stage: string;
  readonly frames: number;
  /** Texts of the documents. */
  readonly twin: string;
  readonly full: string;
  /** From a document's nodes to the bench's joints. */
  readonly joints: readonly (readonly [string, string])[];
  /** From "node channel" of the document to the bench's. */
  readonly channels: readonly (readonly [string, { joint: string; channel: ChannelName }])[];
  readonly faults: readonly KeptFault[];
}

/** What is recorded of a fault that does not depend on what is said of it. */
type Recorded = "kind" | "checks" | "strength" | "size" | "unit" | "measured" | "weight";

export interface KeptFault extends Pick<FaultRecord, Recorded> {
  readonly place: Place;
  /** Joints at which a note on it may stand. */
  readonly near: readonly string[];
  /** Keys that it changes, as "joint channel frame". */
  readonly keys: readonly string[];
  /** Text of the document with all the other faults. */
  readonly without: string;
}

/** The first fix that is offered for a note that says a fault, or why there is none. */
export interface FixCase {
  readonly shot: number;
  readonly kind: string;
  readonly check: string;
  readonly offered: boolean;
  readonly moves: readonly string[];
  /** Of what is not offered: whether a sketch is, and what is said against it. */
  readonly sketch?: boolean;
  readonly why?: string | null;
  /** Of what is offered. */
  readonly cleared?: boolean;
  readonly broken?: readonly string[];
  readonly keys?: number;
  readonly added?: number;
}
