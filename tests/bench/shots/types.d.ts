/**
 * What the parts of the whole-shot bench hand to each other.
 *
 * A shot is made in three layers. **Motion**: bodies act, and every channel of every joint has a value on every frame
 * (a dense table). **Keys**: the table is keyed as an animator keys it, sparsely, with interpolations and handles.
 * **Dressing**: names, units and the up axis of a document. A fault changes the first layer or the second. The clean
 * twin is the same shot with no fault. Nothing here knows how a check or a fix computes.
 *
 * Everything is in metres, y up, x to the figure's left, z forward, degrees, frames; a document's own units come with the dressing.
 */

export type Vector = [number, number, number];
/** A channel of a joint, as documents write it; here always one axis at a time. */
export type ChannelName =
  | "translation.x"
  | "translation.y"
  | "translation.z"
  | "rotation.x"
  | "rotation.y"
  | "rotation.z"
  | "scale.x"
  | "scale.y"
  | "scale.z";

export interface Random {
  /** Uniform in [0, 1). */
  next(): number;
  between(low: number, high: number): number;
  /** A whole number, both ends included. */
  integer(low: number, high: number): number;
  chance(probability: number): boolean;
  pick<T>(list: readonly T[]): T;
  shuffled<T>(list: readonly T[]): T[];
  /** An independent stream: drawing from it never shifts what others draw. */
  fork(name: string): Random;
}

// ---------------------------------------------------------------- bodies

export interface Joint {
  /** Unique within a shot: "figure:joint" is not used, ids are plain words such as "thigh_l" with a figure's prefix. */
  readonly id: string;
  readonly parent: string | null;
  /** Rest translation in the parent's space, metres. */
  readonly at: Vector;
  /** Rotation order as in documents: "zxy" is Rz · Rx · Ry. */
  readonly order: "xyz" | "xzy" | "yxz" | "yzx" | "zxy" | "zyx";
}

export type LimbKind = "leg" | "arm" | "wing" | "fin" | "tail" | "loose" | "neck";

export interface Limb {
  readonly kind: LimbKind;
  readonly side: "left" | "right" | "middle";
  /** From the first joint to the end (hand, foot, tip). A leg is [thigh, shin, foot, toes?]; an arm [upper arm, forearm, hand]. */
  readonly joints: readonly string[];
  /** Trunk joint that carries it. */
  readonly girdle: string;
  /** Points of the sole in the space of the foot (heel) and of the last joint (toe), for limbs that stand. */
  readonly sole?: {
    readonly foot: string;
    readonly heel: Vector;
    readonly tip: string;
    readonly toe: Vector;
  };
  /** Fingers, each a chain of joints, for a hand. */
  readonly fingers?: readonly (readonly string[])[];
}

export interface Body {
  readonly plan:
    | "two legs"
    | "four legs"
    | "six legs"
    | "eight legs"
    | "no legs"
    | "bird"
    | "fish"
    | "puppet";
  /** Grown person, child, giant, dog, horse…: for the report's rows and the masses. */
  readonly build: string;
  readonly joints: readonly Joint[];
  readonly root: string;
  /** Pelvis to chest, from the lowest on; the pelvis may be the root. */
  readonly trunk: readonly string[];
  readonly head: string | null;
  readonly limbs: readonly Limb[];
  /** Metres: height of a standing two-legged body, else the length that a reader would take for its size. */
  readonly stature: number;
  /** Kilograms. */
  readonly mass: number;
  /** Mass of each joint's own segment, as shares that add up to 1, with their source in the body's file. */
  readonly masses: Readonly<Record<string, number>>;
  /**
   * Where each segment's mass lies, in its joint's own space, metres. A joint that is not named here: half way to the
   * mean of its children's rest places, or at the joint if it has none.
   */
  readonly massAt?: Readonly<Record<string, Vector>>;
}

// ---------------------------------------------------------------- motion

export interface Figure {
  readonly id: string;
  readonly body: Body;
}

export interface Prop {
  /** A joint of the table as well, with "translation" tracks and "rotation" tracks in the order "xyz"; it has no parent. */
  readonly id: string;
  readonly mass: number;
  /** Half extents, metres. */
  readonly half: Vector;
  /** Rotation order; "xyz" if left out. */
  readonly order?: Joint["order"];
  /** Whether it is there for the picture alone: a camera, a mark that is looked at, a lit wall. Its own axes stay y up. */
  readonly staged?: boolean;
}

/** How a shot is seen: through a camera, which is a prop with tracks and looks along its own −z. */
export interface View {
  readonly camera: string;
  /** From the bottom of the picture to its top; null for an orthographic camera, which has an extent. */
  readonly degrees: number | null;
  /** Height of an orthographic picture, metres. */
  readonly extent: number;
  /** Width over height. */
  readonly aspect: number;
  /** What is behind everything, "#rrggbb". */
  readonly background: string;
  /** Colours of joints and props, "#rrggbb", and of all that hangs on them. */
  readonly colours: Readonly<Record<string, string>>;
  /** What figures are meant to look at. */
  readonly gazes: readonly {
    readonly figure: string;
    readonly target: string;
    readonly frames: readonly [number, number];
  }[];
  /** Lit walls: props that are boxes; frames in which they are lit, null for always. */
  readonly panels: readonly {
    readonly id: string;
    readonly half: Vector;
    readonly lit: readonly (readonly [number, number])[] | null;
  }[];
}

/** Something that happens in a shot, told by whoever made it; faults find their places by these. */
export type Event =
  /** A gesture of some joints from rest to rest: "raise", "wave out", "turn of the head"… Peak is its quickest frame. */
  | {
      kind: "move";
      name: string;
      figure: string;
      joints: readonly string[];
      limb?: number;
      from: number;
      peak: number;
      to: number;
    }
  /** Frames of a moving hold or of rest of the named joints. */
  | { kind: "hold"; figure: string; joints: readonly string[]; from: number; to: number; moving: boolean }
  /** A limb's end stands on something. `limb` is an index into the body's limbs. `rolls`: heel first, toe last. */
  | { kind: "plant"; figure: string; limb: number; from: number; to: number; rolls: boolean }
  /** A stride of the limb between two plants. */
  | { kind: "swing"; figure: string; limb: number; from: number; to: number }
  /** Airborne, from the first frame without support to the last. */
  | { kind: "flight"; figure: string; from: number; to: number }
  /** The body comes down and something takes it up: `at` is the first frame of contact, `low` the lowest frame after. */
  | { kind: "landing"; figure: string; at: number; low: number }
  /** The legs (or wings) push: from the lowest frame to leaving, or to standing. */
  | { kind: "push"; figure: string; from: number; to: number }
  /** A beat of wings or fins, down stroke first. */
  | { kind: "beat"; figure: string; limbs: readonly number[]; from: number; top: number; to: number }
  /** A prop is held by limbs' ends. */
  | { kind: "hold-prop"; prop: string; figure: string; limbs: readonly number[]; from: number; to: number }
  /** A cycle of walking: for faults that need several steps. */
  | { kind: "gait"; figure: string; name: string; from: number; to: number };

/** The dense table: every driven channel of every joint on every frame. */
export interface Performance {
  readonly rate: number;
  /** Frame numbers, both included. */
  readonly first: number;
  readonly last: number;
  readonly figures: readonly Figure[];
  readonly props: readonly Prop[];
  /** Ground height under a point, metres. */
  readonly ground: { readonly height: number };
  /** "joint channel" → one value per frame; metres, degrees. A channel that is not here rests. */
  readonly tracks: Map<string, Float64Array>;
  readonly events: Event[];
  /** Tracks that were solved to meet a point (planted legs, hands on a prop): keyed more densely. */
  readonly solved: Set<string>;
  readonly medium: "air" | "water";
  /** What the shot is seen through; without one nobody looks. A fault of looks puts another one here. */
  view?: View;
}

/**
 * A copy that a fault may change. `resolve` solves planted or holding limbs anew after the trunk was changed, so that
 * their ends stay where they are in `before`.
 */
export interface MotionTools {
  copy(performance: Performance): Performance;
  /** World matrices of all joints on a frame of the table. */
  poseAt(
    performance: Performance,
    frame: number,
  ): Map<string, { position: Vector; quaternion: [number, number, number, number] }>;
  /** Solves a limb so that its end (position and world turn) is where it is in `before`, for frames from..to. */
  resolve(
    performance: Performance,
    before: Performance,
    figure: string,
    limb: number,
    from: number,
    to: number,
  ): void;
}

// ---------------------------------------------------------------- keys

export interface Key {
  frame: number;
  value: number;
  /** Offsets to the handles, [frames, value]; bezier only. */
  in?: [number, number];
  out?: [number, number];
  interpolation?: Interpolation;
}
export type Interpolation = "step" | "linear" | "smooth" | "bezier";

export interface KeyedCurve {
  readonly joint: string;
  readonly channel: ChannelName;
  interpolation: Interpolation;
  keys: Key[];
}

/** How a shot is keyed. */
export interface KeyingStyle {
  /** "splined", "blocked" (poses in step keys), "dense" (a key on every frame, as recorded or baked). */
  readonly stage: "splined" | "blocked" | "dense";
  /** Frames between the keys of an ordinary curve, on average: 3 to 14. */
  readonly spacing: number;
  readonly interpolation: Interpolation;
  /** Overlapping action: parts are keyed this many frames after what carries them. */
  readonly offset: number;
}

export interface KeyedShot {
  readonly performance: Performance;
  readonly style: KeyingStyle;
  /** "joint channel" → curve. */
  readonly curves: Map<string, KeyedCurve>;
}

// ---------------------------------------------------------------- faults

/** 0 barely seen, 1 ordinary, 2 strong. */
export type Strength = 0 | 1 | 2;

export interface Place {
  readonly figure: string;
  /** Joint at which a reader would put the note. */
  readonly joint: string;
  /** Other joints on which it shows as well; a note there counts too. */
  readonly also?: readonly string[];
  /** Frames in which the fault is seen. */
  readonly from: number;
  readonly to: number;
  /** Last frame on which it is seen once it is planted, where poses are held longer; `to` if left out. */
  readonly seenTo?: number;
  /** Whatever else the fault's own functions need. */
  readonly [detail: string]: unknown;
}

export interface FaultKind {
  /** Ours; a check's name where there is one that means the same. */
  readonly name: string;
  /** Names of checks whose notes say this fault. */
  readonly checks: readonly string[];
  /** Sizes in the unit of `measure`, barely, ordinary and strong, each with the reason why people see it so. */
  readonly unit: string;
  readonly sizes: readonly [Size, Size, Size];
  /** "motion" faults change the dense table, or what is seen of it, before it is keyed; "keys" faults change keys. */
  readonly layer: "motion" | "keys";
  /** Places in a clean shot where this fault can be put, in random order. */
  places(clean: KeyedShot, random: Random): Place[];
  /** Puts it into a motion layer (changes `performance` in place). */
  perform?(performance: Performance, place: Place, size: number, random: Random): void;
  /** Puts it into the keys (changes `shot.curves` in place). */
  edit?(shot: KeyedShot, place: Place, size: number, random: Random): void;
  /**
   * A plain measure of the fault at a place, from poses alone, in `unit`: about `size` where it was put, and under half
   * of the barely seen size in the twin. It must not be what a check computes under another name: it looks at what was done.
   */
  measure(poses: Poses, place: Place, twin: Poses): number;
}

export interface Size {
  readonly value: number;
  readonly reason: string;
}

export interface PlannedFault {
  readonly kind: FaultKind;
  readonly strength: Strength;
  readonly place: Place;
  /** Streams are forked by this, so that leaving one fault out changes no other. */
  readonly seed: string;
}

/** World positions (metres) and orientations (x, y, z, w) of all joints on all frames, and of props. */
export interface Poses {
  readonly first: number;
  readonly count: number;
  /** The joint's world position on a frame. */
  position(joint: string, frame: number): Vector;
  orientation(joint: string, frame: number): [number, number, number, number];
  /** A point given in a joint's space. */
  point(joint: string, at: Vector, frame: number): Vector;
  /** A figure's centre of mass. */
  massCentre(figure: string, frame: number): Vector;
  /** Local value of a channel on a frame, in degrees or metres. */
  channel(joint: string, channel: ChannelName, frame: number): number;
  readonly performance: Performance;
  /** The keyed shot that was sampled: for faults that lie in keys and not in what is seen (keys between frames, idle curves). */
  readonly keyed: KeyedShot;
}

// ---------------------------------------------------------------- a whole shot

export interface ShotPlan {
  readonly name: string;
  readonly seed: string;
  /** Makes the clean performance anew; the same for the same seed. */
  perform(): Performance;
  readonly style: KeyingStyle;
  readonly dressing: Dressing;
  /** For the report's rows: "two legs", "four legs", "bird", "crowd"… */
  readonly body: string;
}

export interface Dressing {
  readonly metresPerUnit: number;
  /** Whether the document says so. */
  readonly declaresUnit: boolean;
  readonly up: "y" | "z";
  /** With z up: only the roots are turned, by a fixed rotation (else every joint's axes are the document's). */
  readonly turnsRoots?: boolean;
  /** Renames joints: our id → the document's. */
  rename(joint: string): string;
  /** Whether figures and their parts are declared, or left to be inferred. */
  readonly declaresFigures: boolean;
  readonly declaresGround: boolean;
  readonly declaresContacts: boolean;
  /** Whether props are declared with what they weigh; each has its shape. */
  readonly declaresProps?: boolean;
}

/** What build gives: the document and the way back from its names to ours. */
export interface BuiltShot {
  readonly document: object;
  /** The document's text, as the reader gets it. */
  readonly text: string;
  readonly keyed: KeyedShot;
  readonly poses: Poses;
  /** Document id → our joint id. */
  readonly jointOf: ReadonlyMap<string, string>;
  readonly nodeOf: ReadonlyMap<string, string>;
}

/** A kind of shot: who is in it and what they do. `make` gives a clean performance of about `frames` frames. */
export interface Family {
  /** The report's row: "two legs", "child", "giant", "four legs", "bird", "two figures", "crowd"… */
  readonly name: string;
  /** What they do, in a word or two: "walk", "take off"… */
  readonly action?: string;
  /** How often it is drawn, relative to the others. */
  readonly weight: number;
  make(random: Random, frames: number): Performance;
}
