import type { Curve } from "@keyside/core/curves";

/** Frames closer than this name the same key, as in the document. */
export const sameFrame = 1e-6;

/** A key that is chosen: its channel, and where it stands. */
export interface Pick {
  readonly name: string;
  readonly frame: number;
}

/** Index of the key of a curve at a frame; -1 where there is none. */
export function keyAt({ frames }: Curve, frame: number): number {
  const key = firstFrom(frames, frame - sameFrame);
  return key < frames.length && frames[key] <= frame + sameFrame ? key : -1;
}

/** Index of the first of ascending frames at or behind a frame. */
export function firstFrom(frames: Float64Array, frame: number): number {
  let [low, high] = [0, frames.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (frames[middle] < frame) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Index of the key that stands nearest to a frame; -1 for a curve without keys. */
export function nearestKey({ frames }: Curve, frame: number): number {
  const after = firstFrom(frames, frame);
  if (after === 0) return frames.length === 0 ? -1 : 0;
  if (after === frames.length) return after - 1;
  return frames[after] - frame < frame - frames[after - 1] ? after : after - 1;
}

/** The keys that are chosen; the one that was chosen last leads: its numbers are those that are shown. */
export class Picked {
  private list: Pick[] = [];

  get all(): readonly Pick[] {
    return this.list;
  }
  get lead(): Pick | null {
    return this.list.at(-1) ?? null;
  }
  has(name: string, frame: number): boolean {
    for (let i = 0; i < this.list.length; i++) {
      const pick = this.list[i];
      if (pick.name === name && Math.abs(pick.frame - frame) <= sameFrame) return true;
    }
    return false;
  }
  set(picks: readonly Pick[]): void {
    this.list = [...picks];
  }
  /** Adds a key, or takes it back where it was chosen. */
  toggle(pick: Pick): void {
    const isThere = this.has(pick.name, pick.frame);
    const others = this.list.filter((other) => !isSame(other, pick));
    this.list = isThere ? others : [...others, pick];
  }
  /** Drops keys that are no more. */
  keep(isThere: (pick: Pick) => boolean): void {
    this.list = this.list.filter(isThere);
  }
}

function isSame(a: Pick, b: Pick): boolean {
  return a.name === b.name && Math.abs(a.frame - b.frame) <= sameFrame;
}
