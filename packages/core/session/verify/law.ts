import type { Study } from "../../base/study.ts";
import type { Note } from "../../faults/note.ts";
import type { Grip } from "../../motion/parts/grips.ts";
import type { World } from "../../rig/world.ts";
import type { KeyChange } from "../changes.ts";

/** A stretch of samples, both included, in which a point stays where it is. */
export interface Stance {
  readonly node: number;
  readonly figure: number;
  readonly from: number;
  readonly to: number;
  /** Way of the point over the stretch, metres. */
  readonly way: number;
  /** Whether it touches something; else it only stays in the world while its body moves. */
  readonly touches: boolean;
}

/** A point of a sole: a node, or a place in its space (metres). */
export interface SolePoint {
  readonly node: number;
  readonly at: Float64Array | null;
  /** Whether it lies between the corners of the sole. */
  readonly isWithin?: boolean | undefined;
}

/** A stretch of samples, the first of which its sole comes to at rest, in which the sole of a foot is slow. */
export interface SoleRest {
  readonly figure: number;
  /** Rig index of the foot's first point. */
  readonly foot: number;
  readonly points: readonly SolePoint[];
  readonly from: number;
  readonly to: number;
  /** The last sample at which it touches what it stands on: it rolls on over its toes when all that is known of it is on its way. */
  readonly until: number;
  /** Of each of the points. */
  readonly steps: readonly PointSteps[];
}

/** How a point of a sole goes: its step to each sample of the shot, and its height along the ground's normal, metres. */
export interface PointSteps {
  readonly steps: Float64Array;
  readonly heights: Float64Array;
}

/** The motion of a shot before anything is tried: each of its parts is worked out once. */
export interface Motion {
  /** By rig index; a study makes new ones where something moves. */
  readonly worlds: readonly World[];
  /** What stands, or stays in the world while its body moves. */
  readonly stances: readonly Stance[];
  /** Where soles rest. */
  readonly soles: readonly SoleRest[];
  /** What hands hold. */
  readonly grips: readonly Grip[];
  /** How a node moves against its parent: shift in document units, and turn; 3 and 4 numbers per sample. */
  local(node: number): { readonly shift: Float64Array; readonly turn: Float64Array };
}

/** A change of keys that stands in a study, and what was there before. */
export interface Made {
  readonly study: Study;
  readonly note: Note;
  /** Index into `figuresOf` of the note's figure; -1 for none. */
  readonly figure: number;
  readonly changes: readonly KeyChange[];
  readonly before: Motion;
  readonly after: readonly World[];
  /** Rig indices of the nodes that move otherwise than before. */
  readonly moved: readonly number[];
  /** Samples, both included, within which motion is to change; may lie outside the grid. */
  readonly from: number;
  readonly to: number;
}

/**
 * What a change may not do.
 * @returns what it would do, as a clause ("the left foot would slide by 2.3 cm"); null where the change keeps to the law
 */
export type Law = (made: Made) => string | null;

/** Whether keys only move in time: each keeps its value. */
export function isSlide(changes: readonly KeyChange[]): boolean {
  return (
    changes.length > 0 &&
    changes.every(
      ({ before, after }) =>
        before !== null &&
        after !== null &&
        before.frame !== after.frame &&
        String(before.value) === String(after.value),
    )
  );
}
