/**
 * A shot as it is played: where its points are on every judged frame, what is drawn between them, and the notes. Plain
 * JSON; lengths are metres, y is up. Points are named by their index.
 */
export interface Motion {
  readonly format: "keyside.motion";
  readonly version: 1;
  /** The shot's name. */
  readonly name: string;
  /** Judged frames per second. */
  readonly rate: number;
  /** The first judged frame, and how many frames lie between two judged ones. */
  readonly firstFrame: number;
  readonly frameStep: number;
  /** How many judged frames there are. */
  readonly count: number;
  /** How many points there are. */
  readonly points: number;
  /** Metres between two places that can be told apart. */
  readonly grain: number;
  /** All points on all frames, packed (see packed.ts), in base64. */
  readonly poses: string;
  readonly figures: readonly MotionFigure[];
  /** Nodes of no figure, as props; each is drawn as a small mark. */
  readonly things: readonly MotionThing[];
  /** Height of the ground that the figures stand on; null where none is known. */
  readonly ground: number | null;
  readonly camera: MotionCamera | null;
  readonly notes: readonly MotionNote[];
  /** What holds; absent where nothing is told. */
  readonly strengths?: readonly MotionStrength[];
  /** What people drew over the picture; absent where nothing is told. */
  readonly strokes?: readonly MotionStroke[];
  /** The shot's own rendered frames, where there are any. */
  readonly images?: MotionImages | undefined;
  /** The shot's own sound, where there is one. */
  readonly sound?: MotionSound | undefined;
}

/**
 * Rendered frames, a file each: the address of a frame's is `before`, then its number with at least so many digits, then
 * `after`. Addresses are as in a page: relative to it, or whole.
 */
export interface MotionImages {
  readonly before: string;
  readonly digits: number;
  readonly after: string;
  /** The first and the last that there is, as the shot counts. */
  readonly first: number;
  readonly last: number;
}

export interface MotionSound {
  readonly address: string;
  /** The frame with which it begins, as the shot counts. */
  readonly from: number;
}

export interface MotionFigure {
  readonly id: string;
  /** Point by which the figure is placed. */
  readonly root: number;
  readonly stature: number;
  /** Capsules: the points of both ends, the radius in metres, and the limb as which it is drawn in one piece. */
  readonly bones: readonly (readonly [from: number, to: number, radius: number, limb: number])[];
}

export interface MotionThing {
  readonly id: string;
  readonly point: number;
}

/** A perspective camera, by three points that move: where it stands, a metre ahead of it and a metre above it. */
export interface MotionCamera {
  readonly id: string;
  readonly at: number;
  readonly ahead: number;
  readonly above: number;
  /** Vertical field of view, degrees. */
  readonly fieldOfView: number;
  /** Width of the picture over its height. */
  readonly aspect: number;
}

export interface MotionNote {
  /** Its place in the ranking, from 1. */
  readonly number: number;
  readonly title: string;
  /** What it speaks of: a part or a figure; may be empty. */
  readonly part: string;
  readonly tier: string;
  readonly message: string;
  /** First and last judged frame, from 0. */
  readonly from: number;
  readonly to: number;
  /** Point whose path is drawn. */
  readonly point: number;
  /** Points whose bones are drawn dark: those that start there. */
  readonly marked: readonly number[];
  readonly fix: MotionFix | null;
}

/** What holds: as a note, but with nothing to change. */
export type MotionStrength = Omit<MotionNote, "tier" | "fix">;

/** A line that somebody drew over the picture, where it lies in the world. */
export interface MotionStroke {
  /** What stands at its beginning, such as the number of its remark. */
  readonly label: string;
  /** First and last judged frame on which it is shown, from 0. */
  readonly from: number;
  readonly to: number;
  /** x, y and z of each of its places, one after the other. */
  readonly line: readonly number[];
  /** Whether a part is to go along it, from its beginning to its end. */
  readonly isTarget: boolean;
}

/** What a change of keys does to the motion. */
export interface MotionFix {
  readonly title: string;
  /** Points that move otherwise, and on which judged frames, both included. */
  readonly points: readonly number[];
  readonly from: number;
  readonly to: number;
  /** How far they are moved, packed as the poses are, in base64. */
  readonly moves: string;
}
