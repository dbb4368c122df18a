/** What planting hands on. */
import type { BuiltShot, ChannelName, Key, PlannedFault, ShotPlan } from "../types.d.ts";

/** A key that is in one shot and not in the other, or not the same there. */
export interface ChangedKey {
  readonly joint: string;
  readonly channel: ChannelName;
  readonly frame: number;
  readonly here: Key | null;
  readonly there: Key | null;
}

export type Build = (plan: ShotPlan, faults: readonly PlannedFault[]) => BuiltShot;

/** A fault that stands in the shot. */
export interface Planted {
  readonly fault: PlannedFault;
  /** In the full shot, in the unit of its kind. */
  readonly measured: number;
  /** The shot with all the other faults. */
  readonly without: BuiltShot;
  /** Keys that it changes in the full shot, by "joint channel frame". */
  readonly keys: ReadonlyMap<string, ChangedKey>;
}

export interface Dropped {
  readonly kind: string;
  /** -1 where the kind has no place in the shot at all. */
  readonly strength: number;
  /**
   * "no place", "changes no key", "seen in the twin", "too weak alone", "same keys as another", "not to be told from
   * another", "hidden by others", "measured from another", or what the kind's own functions threw.
   */
  readonly reason: string;
}

export interface PlantedShot {
  readonly plan: ShotPlan;
  readonly twin: BuiltShot;
  readonly full: BuiltShot;
  readonly faults: readonly Planted[];
  readonly dropped: readonly Dropped[];
}
