import type { NoteKey } from "./note.ts";

/**
 * What a check's wording may use besides its finding: names and numbers as a reader expects them.
 * Every number goes through one of these, so that units and digits are the same in all notes.
 */
export interface Words {
  /** The part on which the fault shows, for example "left hand"; the node's id where it has no part. */
  readonly part: string;
  /** The keys that cause the fault, the one that causes most first; empty where none could be named. */
  readonly keys: readonly NoteKey[];
  /** A node's part or id. */
  name(node: number): string;
  /** A frame in the document's numbering, from a grid index. */
  frame(index: number): string;
  /** "frame 42" or "frames 42 to 45". */
  span(from: number, to: number): string;
  /**
   * A stretch with its length: "frames 42 to 45 (4 frames)", or "frame 42". Whatever a note counts that lasts from its
   * first frame to its last one is said by this, so that the count is that of the frames beside it.
   */
  counted(from: number, to: number): string;
  /**
   * "1 frame", "3 frames" (judged frames; fractions are rounded to one decimal): a time between two moments, as in
   * "5 frames before it lands". What lasts from one frame to another is `counted`.
   */
  frames(count: number): string;
  /** Metres as "4 mm", "3.1 cm" or "1.9 m". */
  length(metres: number): string;
  /** Metres per second. */
  speed(metresPerSecond: number): string;
  /** Radians as degrees. */
  angle(radians: number): string;
  /** Radians per second as degrees per second. */
  angularSpeed(radiansPerSecond: number): string;
  seconds(seconds: number): string;
  /** A factor such as "2.4 times". */
  times(factor: number): string;
  /** A share as a percentage. */
  share(share: number): string;
}
