import type { DocumentHeader } from "./schema.ts";
import type { Channel, Interpolation } from "./terms.ts";

export { type Channel, channels, type Interpolation, interpolations } from "./terms.ts";

/**
 * One curve: the keys of one channel of one node, in typed arrays.
 *
 * A curve is never changed in place: an edit makes a new curve, so that whatever was computed from the old one
 * can be told from what has to be computed again.
 */
export interface Curve extends CurveKeys {
  readonly node: string;
  readonly channel: Channel;
}

/** Keys of whatever runs over time, in typed arrays. */
export interface CurveKeys {
  /** What a key without an interpolation of its own uses. */
  readonly interpolation: Interpolation;
  /** Numbers per key: 1, or 4 for quaternion keys (x, y, z, w). */
  readonly width: 1 | 4;
  /** Key times in frames, ascending, one per key; fractions are allowed. */
  readonly frames: Float64Array;
  /** `width` numbers per key: document units (length), document angle unit, factor, or quaternion. */
  readonly values: Float64Array;
  /** Per key: index into {@link interpolations} for the segment that starts at the key. */
  readonly modes: Uint8Array;
  /**
   * Handles, or null where no key has any. NaN stands for a handle that is left out.
   * Width 1: four numbers per key. On a bezier segment `[inFrames, inValue, outFrames, outValue]`, offsets from
   * the key; on a cubic segment inValue and outValue are slopes in value per frame and the frames are NaN.
   * Width 4: eight numbers per key, the in and the out slope per frame of a cubic segment.
   */
  readonly handles: Float64Array | null;
  /** Per key: 1 where the key names its interpolation itself, so that writing keeps it; null where none does. */
  readonly ownModes: Uint8Array | null;
  /** Where the curve stands in the text it was read from; null where it was built in code. */
  readonly place: CurvePlace | null;
  /** Properties that this version does not know, kept so that writing loses nothing; absent where there are none. */
  readonly extra?: CurveExtra;
}

/** Properties of a curve, and of its keys by index, that this version does not know. */
export interface CurveExtra {
  readonly curve: Readonly<Record<string, unknown>>;
  readonly keys: ReadonlyMap<number, Readonly<Record<string, unknown>>>;
}

/** Where a curve stands in its text; key offsets count from `start`, so that shifting a curve is one number. */
export interface CurvePlace {
  /** Offset of the curve's opening brace in the text. */
  readonly start: number;
  /** Offset just behind the curve's closing brace. */
  readonly end: number;
  /** Per key: offset of its opening bracket, from `start`. */
  readonly keyStart: Int32Array;
  /** Per key: offset just behind its closing bracket, from `start`. */
  readonly keyEnd: Int32Array;
}

/** A frame rate as the fraction in which it is written, for example 24000/1001. */
export interface FrameRate {
  readonly numerator: number;
  readonly denominator: number;
}

/** A shot as it is read or built: everything a document holds, curves as typed arrays. */
export interface Shot {
  /** All of the document but its curves, as validated; optional parts stay absent. */
  readonly header: DocumentHeader;
  readonly frameRate: FrameRate;
  /** First and last frame that is judged, in the document's numbering; inferred from the keys if not given. */
  readonly range: readonly [number, number];
  readonly curves: readonly Curve[];
  /**
   * Where the text that the shot was read from breaks off: ids of the nodes whose curves, or keys, may be gone, none if it
   * breaks off behind the curves. Absent where it is whole.
   */
  readonly cutOff?: readonly string[];
}

/** Something wrong in a document, at its place in the text. */
export interface Problem {
  /** A short code in kebab-case, for example `key-order`. */
  readonly code: string;
  /** What is wrong, and how to fix it; one plain sentence or two. */
  readonly message: string;
  /** Start and end offset in the text; both 0 where the document was built in code. */
  readonly start: number;
  readonly end: number;
  /** Path into the document, for example `curves/3/keys/12`. */
  readonly path: string;
}

/** Codes of problems by which nothing is lost for judging: what they speak of is kept and not used. */
export const mildProblems: ReadonlySet<string> = new Set(["unknown-property"]);

/** What reading gives: as much of a shot as can be used, and everything that is wrong. */
export interface ReadResult {
  /** Null only where nothing at all can be judged (not a curve document, no nodes). */
  readonly shot: Shot | null;
  readonly problems: readonly Problem[];
  /** Where other parts stand in the text. */
  readonly places: HeaderPlaces;
  /** What is as it should be and is not judged, a sentence each; absent where there is nothing of the kind. */
  readonly remarks?: readonly string[];
}

/** Text ranges `[start, end]` of header parts by path, for example `nodes/3`, `nodes/3/id`, `waivers/0`. */
export type HeaderPlaces = ReadonlyMap<string, readonly [number, number]>;
