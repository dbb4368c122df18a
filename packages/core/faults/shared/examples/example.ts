import type { KeyEdit } from "../../../document/edit.ts";
import type { Channel, Shot } from "../../../document/model.ts";
import type { CurveDocument } from "../../../document/schema.ts";
import type { Config } from "../../../settings/config.ts";
import type { CheckName } from "../../names.ts";

/**
 * How a fault looks, told once: tests of the check and of its fix, the provocation in a demo shot and the picture on
 * the check's page are made from it.
 */
export interface Examples {
  /** Small motions with the fault. The first is drawn on the check's page, beside the motion as it would be right. */
  readonly faulty: readonly [FaultyExample, ...FaultyExample[]];
  /** Small motions of which the check says nothing: clean ones, and each of what is "not a fault". */
  readonly silent: readonly [SilentExample, ...SilentExample[]];
  readonly provocation: Provocation;
  readonly picture: Picture;
}

export interface FaultyExample {
  /** What is wrong, as one would say it: "a point that is 3 cm off its path for a frame". */
  readonly title: string;
  readonly motion: () => CurveDocument;
  /** The same motion without the fault: the check is silent. */
  readonly right?: () => CurveDocument;
  /** What else is configured; nothing if left out. */
  readonly config?: Config;
  /** The one note of this check on the motion. */
  readonly note: ExpectedNote;
  /** Why no change of keys is proven to fix it; it is fixed where this is left out. */
  readonly unfixed?: string;
}

export interface ExpectedNote {
  readonly node: string | null;
  readonly frames: readonly [number, number];
  /** The key that is named first; a list of them where several would be right. Left out where none is named. */
  readonly key?: ExpectedKey | readonly ExpectedKey[];
  /** The value that the note measures, in the unit in which it does, within 2 %. */
  readonly measured: number;
}

export interface ExpectedKey {
  readonly node: string;
  readonly channel: Channel;
  /** Any of the curve's keys if left out. */
  readonly frame?: number;
}

export interface SilentExample {
  /** What it is, completing "is silent on": "an eased stop", "a contact that begins there". */
  readonly title: string;
  readonly motion: () => CurveDocument;
  readonly config?: Config;
  /** The same without what excuses it: of this the check does say something. */
  readonly unexcused?: () => CurveDocument;
}

/** A slip in one of the demo's shots that makes the check speak. */
export interface Provocation {
  /** A version in `demo/shots`, without its extension. */
  readonly shot: string;
  /** On which the note stands: the part that was touched, or what carries it. */
  readonly node: string;
  /** Within which the note begins. */
  readonly frames: readonly [number, number];
  /** What was done, as one would say it in a review. */
  readonly slip: string;
  /**
   * Edits of keys, one list after the other; `before` is the shot without any. A version that has the fault by itself
   * needs none.
   */
  readonly edits?: readonly ((shot: Shot, before: Shot) => readonly KeyEdit[])[];
  /** A piece of the document besides its keys, and what stands for it. */
  readonly replace?: readonly [string, string];
}

/**
 * How the page's picture is drawn: of the first faulty example and, beside it, of the same motion as it would be right.
 * What the note covers is marked in both.
 */
export type Picture = (
  | {
      /** The way of a node, one dot a frame; at some frames their numbers, and the bones below `only`. */
      readonly draws: "path";
      readonly node: string;
      readonly seen: Side;
      readonly at?: readonly number[];
      readonly only?: readonly string[];
    }
  | {
      /** A channel over time, with its keys. */
      readonly draws: "curve";
      readonly node: string;
      readonly channel: Channel;
      /** What is drawn with it: further channels of the node, how far the node is turned in the world (degrees). */
      readonly also?: readonly (Channel | "turn")[];
    }
  | {
      /** Bones at some frames, the last one strong, and the ground; `marks` are nodes besides the note's own. */
      readonly draws: "figure";
      readonly seen: Side;
      readonly at: readonly number[];
      readonly marks?: readonly string[];
      /** Nodes above which nothing is drawn: a foot alone, an arm alone. The whole figure if left out. */
      readonly only?: readonly string[];
      /** Also where the mass of all is, and a plumb line from there to the ground. */
      readonly mass?: boolean;
    }
  | {
      /** When each of some nodes moves: one row a node, thick where it is quick. */
      readonly draws: "moves";
      readonly nodes: readonly string[];
      /** Only what each turns against its parent, not what carries it. */
      readonly own?: boolean;
    }
  | {
      /** Heights of some nodes over time, or how far they are turned. */
      readonly draws: "courses";
      readonly nodes: readonly string[];
      readonly of: "height" | "turn";
      /** Each in a row of its own and to its own scale, where only their times are to be compared. */
      readonly apart?: boolean;
    }
) & {
  /** Frames of the motion that are drawn; all if left out. */
  readonly frames?: readonly [number, number];
};

/** From where a motion is seen: +z comes to the viewer from the front, +x from the side, +y from the top. */
export type Side = "front" | "side" | "top";

/** Gives a fault's examples their type, and says of which check they are. */
export function defineExamples(check: { readonly name: CheckName }, examples: Examples): FaultExamples {
  return { check: check.name, ...examples };
}

/** Examples with the name of their check. */
export interface FaultExamples extends Examples {
  readonly check: CheckName;
}
