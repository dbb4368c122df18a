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
  /** What is drawn beside the figures: props, and whatever has a shape of its own. */
  readonly things: readonly MotionThing[];
  /** Edges of surfaces; absent where there are none. */
  readonly edges?: readonly MotionEdge[];
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
  /** Bones that are not seen all through, by their place in `bones`; absent where all are. */
  readonly hidden?: readonly MotionHidden[];
}

/** Bones that are seen in the same stretches: first and last judged frame of each, from 0. */
export interface MotionHidden {
  readonly bones: readonly number[];
  readonly seen: readonly (readonly [from: number, to: number])[];
}

/** Something that is no bone: a prop, a piece of a set. What has no shape is drawn as a small mark at its point. */
export interface MotionThing {
  readonly id: string;
  readonly point: number;
  /** Its shapes; absent where none is known. */
  readonly shapes?: readonly MotionShape[];
  /** First and last judged frame of each stretch in which it is seen, from 0; absent where it is all through. */
  readonly seen?: readonly (readonly [from: number, to: number])[];
}

/**
 * A shape by points that move: one is the middle of a ball, two are the ends of a capsule, of the given radius in metres.
 * Four are corners of a box, one and the three beside it along its own x, y and z; it has the radius 0.
 */
export interface MotionShape {
  readonly points: readonly number[];
  readonly radius: number;
}

/** The edge of a surface: the points of its corners in their order around. */
export interface MotionEdge {
  readonly id: string;
  readonly points: readonly number[];
}

/**
 * The corners of each face of a box in their order around, against the clock for whoever looks at it from outside. The bits of a
 * corner's number tell where it lies: 1 is the far end along x, 2 along y, 4 along z.
 */
export const boxFaces: readonly (readonly number[])[] = [
  [1, 3, 7, 5],
  [0, 4, 6, 2],
  [2, 6, 7, 3],
  [0, 1, 5, 4],
  [4, 5, 7, 6],
  [0, 2, 3, 1],
];

/**
 * What the shot is seen through, by three points that move: where the camera stands, a metre ahead of it and a metre
 * above it. Where the shot has several, they are those of the one that holds at each frame.
 */
export interface MotionCamera {
  readonly id: string;
  readonly at: number;
  readonly ahead: number;
  readonly above: number;
  /** Vertical field of view, degrees; 0 of an orthographic camera. */
  readonly fieldOfView: number;
  /** Height of an orthographic camera's picture, metres; absent of a perspective one. */
  readonly extent?: number;
  /** Width of the picture over its height. */
  readonly aspect: number;
  /** What changes: each holds from its frame to the next, the first from the start; absent where nothing changes. */
  readonly lenses?: readonly MotionLens[];
}

/** The camera's picture from a frame on. */
export interface MotionLens {
  /** Judged frame, from 0. */
  readonly from: number;
  /** As of the camera; 0, and no extent, where no camera holds. */
  readonly fieldOfView: number;
  readonly extent?: number;
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
