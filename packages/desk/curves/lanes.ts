import type { Channel, Curve } from "@keyside/core/curves";
import type { FramesView } from "./frames-view.ts";
import { axisText, scaleFor, stepOf, type ValueScale, valueAtY, yOf } from "./scale.ts";
import { Trace } from "./trace.ts";

/** A lane is not lower than so many pixels, so that a key can be taken hold of in it. */
const lowest = 92;
/** Pixels of a lane's head, in which its name stands. */
export const head = 20;
/** Pixels that two numbers on the axis of values lie apart at least. */
const apart = 34;
/** Values that fill a lane at most, by what they are: smaller differences are not blown up. */
const leastSpan = { turn: 1, scale: 0.02, place: 0.01 } as const;

/** A channel as it is drawn: curves lie under one another, each in a lane of its own with a scale of its own. */
export interface Lane {
  readonly name: string;
  readonly node: string;
  readonly channel: Channel;
  /** What stands in its head. */
  readonly title: string;
  readonly unit: string;
  curve: Curve;
  readonly trace: Trace;
  readonly scale: ValueScale;
  /** Whether the scale was set for what is seen. */
  isFitted: boolean;
  /** Edges in pixels, the head not counted. */
  top: number;
  height: number;
  /** Numbers on its axis. */
  readonly marks: { value: number; text: string }[];
}

/** The lanes under one another. */
export class Lanes {
  readonly all: Lane[] = [];
  /** Pixels of all lanes together. */
  height = 0;

  /** Shows these channels, in this order; those that were there keep their scale. */
  show(lanes: readonly Omit<Lane, "trace" | "scale" | "isFitted" | "top" | "height" | "marks">[]): void {
    const known = new Map(this.all.map((lane) => [lane.name, lane]));
    const next = lanes.map((lane): Lane => {
      const old = known.get(lane.name);
      if (old !== undefined) {
        old.curve = lane.curve;
        return old;
      }
      return {
        ...lane,
        trace: new Trace(),
        scale: { low: 0, high: 1 },
        isFitted: false,
        top: 0,
        height: 0,
        marks: [],
      };
    });
    this.all.splice(0, this.all.length, ...next);
  }

  find(name: string): Lane | undefined {
    return this.all.find((lane) => lane.name === name);
  }

  /** Gives each lane its part of a height, and more height than there is where they would become too low. */
  arrange(height: number): void {
    const count = Math.max(1, this.all.length);
    const each = Math.max(lowest, Math.floor(height / count));
    this.height = this.all.length === 0 ? height : Math.max(height, each * count);
    this.all.forEach((lane, index) => {
      lane.top = index * each + head;
      if (lane.height === each - head) return;
      lane.height = each - head;
      markValues(lane);
    });
  }

  /**
   * Works out what has changed in the lanes that are seen; sets the scale of those that were not seen before.
   * @param from the first pixel that is seen, and `to` the last one
   */
  update(view: FramesView, from = 0, to = this.height): void {
    for (let i = 0; i < this.all.length; i++) {
      const lane = this.all[i];
      if (!isSeen(lane, from, to)) continue;
      lane.trace.update(lane.curve, view);
      if (!lane.isFitted) fit(lane);
    }
  }

  /** Sets every lane's scale for what is seen of it, when it is next drawn. */
  fit(): void {
    for (const lane of this.all) lane.isFitted = false;
  }

  /** The lane at a height. */
  at(y: number): Lane | null {
    for (const lane of this.all) if (y >= lane.top - head && y < lane.top + lane.height) return lane;
    return null;
  }
}

/** Whether any of a lane lies between two pixels. */
export function isSeen({ top, height }: Lane, from: number, to: number): boolean {
  return top - head <= to && top + height >= from;
}

function fit(lane: Lane): void {
  const { low, high } = lane.trace;
  lane.isFitted = true;
  const kind = lane.channel.startsWith("rotation")
    ? "turn"
    : lane.channel.startsWith("scale")
      ? "scale"
      : "place";
  if (low <= high && lane.curve.width === 1) scaleFor(low, high, leastSpan[kind], lane.scale);
  markValues(lane);
}

function markValues({ scale, height, marks }: Lane): void {
  marks.length = 0;
  if (height <= 0) return;
  const step = stepOf((scale.high - scale.low) / height, apart);
  for (let n = Math.ceil(scale.low / step); n * step <= scale.high && marks.length < 40; n++) {
    marks.push({ value: n * step, text: axisText(n * step, step) });
  }
}

/** The pixel at which a value of a lane stands; quaternions have no height and stand in the middle. */
export function laneY(lane: Lane, value: number): number {
  return lane.curve.width === 1 ? lane.top + yOf(lane.scale, lane.height, value) : lane.top + lane.height / 2;
}

/** The value of a lane at a pixel. */
export function laneValue(lane: Lane, y: number): number {
  return valueAtY(lane.scale, lane.height, y - lane.top);
}
