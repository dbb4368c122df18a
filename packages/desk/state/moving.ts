import type { Motion, MotionNote, MotionStroke } from "@keyside/player/motion";
import { fromBytes } from "@keyside/player/packed";
import { inflated, type Poses, posesOf } from "@keyside/player/unpack";
import type { MotionChange } from "../link.ts";
import type { Notes } from "./notes.ts";

/** The motion of the shot as it is now: what the desk tells of it is unpacked and put in, in the order in which it came. */
export class Moving {
  private motion: Motion | null = null;
  private poses: Poses | null = null;
  private points = 0;
  private notes: readonly MotionNote[] = [];
  private strokes: readonly MotionStroke[] = [];
  private line: Promise<void> = Promise.resolve();
  private readonly show: (motion: Motion, poses: Poses) => void;

  /** @param show is given what is to be played whenever it has changed */
  constructor(show: (motion: Motion, poses: Poses) => void) {
    this.show = show;
  }

  /** Takes the motion of another shot. */
  begin(motion: Motion): Promise<void> {
    return this.inTurn(async () => {
      this.poses = await posesOf(motion);
      [this.motion, this.points, this.notes] = [motion, motion.points, []];
      this.tell();
    });
  }

  /** Takes the motion anew, as it has other frames; the notes stay. */
  renew(motion: Motion): Promise<void> {
    return this.inTurn(async () => {
      this.poses = await posesOf(motion);
      [this.motion, this.points] = [motion, motion.points];
      this.tell();
    });
  }

  /** Puts changes in, and the notes that may need them. */
  take(changes: readonly MotionChange[], notes: Notes | null): Promise<void> {
    // The notes of now: by the time that the changes are unpacked there may be others, whose own message follows.
    const next = notes === null ? null : playedNotes(notes);
    return this.inTurn(async () => {
      for (const change of changes) await this.put(change);
      if (next !== null) this.notes = next;
      this.tell();
    });
  }

  /** Takes what people drew. @param make gives it, by the judged frame of a frame of the document */
  takeStrokes(make: (sampleOf: (frame: number) => number) => readonly MotionStroke[]): Promise<void> {
    return this.inTurn(async () => {
      if (this.motion === null) return;
      const { firstFrame, frameStep } = this.motion;
      this.strokes = make((frame) => Math.round((frame - firstFrame) / frameStep));
      this.tell();
    });
  }

  private async put({ points, from, to, places }: MotionChange): Promise<void> {
    if (this.motion === null || this.poses === null) return;
    const { count } = this.poses;
    const { grain } = this.motion;
    const frames = to - from + 1;
    const there = fromBytes(await inflated(places), 3 * points.length * frames, frames, grain);
    const total = points.reduce((most, point) => Math.max(most, point + 1), this.points);
    let { at } = this.poses;
    if (total > this.points) {
      at = new Float32Array(3 * total * count);
      at.set(this.poses.at);
      this.points = total;
    }
    points.forEach((point, n) => {
      for (let axis = 0; axis < 3; axis++) {
        const series = (3 * n + axis) * frames;
        at.set(there.subarray(series, series + frames), (3 * point + axis) * count + from);
      }
    });
    // Another object each time: whoever made something of the places before can tell.
    this.poses = { at, count };
  }

  private tell(): void {
    const { motion, poses, notes, points, strokes } = this;
    if (motion === null || poses === null) return;
    if (motion.notes !== notes || motion.points !== points || motion.strokes !== strokes)
      this.motion = { ...motion, notes, points, strokes };
    this.show(this.motion as Motion, poses);
  }

  private inTurn(act: () => Promise<void>): Promise<void> {
    this.line = this.line.then(act, act);
    return this.line;
  }
}

/** The notes as the player takes them: those of which something moves. */
export function playedNotes({ all, fix }: Notes): readonly MotionNote[] {
  return all.flatMap(({ shown, number, title, part, tier, message, fingerprint }) => {
    if (shown === null) return [];
    const found = fix?.found.fingerprint === fingerprint ? fix.found.motion : null;
    return [{ number, title, part, tier, message, ...shown, fix: found }];
  });
}
