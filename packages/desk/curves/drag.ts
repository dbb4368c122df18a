import type { Channel, Curve, KeyEdit, KeyHandle } from "@keyside/core/curves";
import { modeOf, placeOfHandle, pulledHandle, type Side, segmentOf, tidy } from "./handles.ts";
import { keyAt } from "./picked.ts";

/** A key that is dragged: where it stood, where the desk has it, and where it is to stand. */
interface Held {
  readonly curve: Curve;
  readonly key: number;
  readonly node: string;
  readonly channel: Channel;
  readonly startFrame: number;
  readonly startValue: number;
  /** Where the key stands in what was sent last. */
  sentFrame: number;
  sentValue: number;
  frame: number;
  value: number;
}

/** A drag that is under way: the hand says where to, and it gives the edits that lead there from what was sent last. */
export interface Drag {
  /** What the step of the history is called. */
  readonly label: string;
  /** Brings what is dragged so far from where it was taken hold of; what is in line stays so, where the drag has such. */
  to(frames: number, values: number, isInLine: boolean): void;
  /** Edits from what was sent last to where it stands now; none where nothing has changed. They count as sent. */
  take(): KeyEdit[];
  /** Edits from where the drag began to where it stands now. */
  whole(): KeyEdit[];
}

/**
 * Keys that are dragged together, by whole frames. No key passes a key that stays, nor comes closer to it than a frame,
 * or than it was.
 */
export class KeyDrag implements Drag {
  readonly label: string;
  private readonly held: readonly Held[];
  /** How far all of them may move in time. */
  private readonly least: number;
  private readonly most: number;

  /** @param keys what is dragged, at least one; the last one is that under the hand, and stands on whole frames */
  constructor(keys: readonly { readonly curve: Curve; readonly key: number }[]) {
    this.held = keys.map(({ curve, key }) => {
      const [frame, value] = [curve.frames[key], curve.values[key * curve.width]];
      const { node, channel } = curve;
      return {
        ...{ curve, key, node, channel, startFrame: frame, startValue: value },
        ...{ sentFrame: frame, sentValue: value, frame, value },
      };
    });
    this.label = keys.length === 1 ? "move a key" : `move ${keys.length} keys`;
    let [least, most] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (const { curve, key } of this.held) {
      const { frames } = curve;
      const isHeld = (other: number) => this.held.some((held) => held.curve === curve && held.key === other);
      if (key > 0 && !isHeld(key - 1)) least = Math.max(least, room(frames[key] - frames[key - 1]));
      if (key + 1 < frames.length && !isHeld(key + 1))
        most = Math.min(most, -room(frames[key + 1] - frames[key]));
    }
    [this.least, this.most] = [least, most];
  }

  to(frames: number, values: number): void {
    const lead = this.held[this.held.length - 1];
    const shift = this.shiftFor(lead.startFrame, frames);
    for (const held of this.held) {
      held.frame = held.startFrame + shift;
      // Only channels of the hand's own kind follow in value: centimetres and degrees are not added up.
      const follows = held.curve.width === 1 && kindOf(held.channel) === kindOf(lead.channel);
      held.value = follows && values !== 0 ? tidy(held.startValue + values) : held.startValue;
    }
  }

  /** By how many frames all of them move: to a whole frame, and no farther than there is room. */
  private shiftFor(start: number, frames: number): number {
    if (frames === 0) return 0;
    const due = Math.round(start + frames) - start;
    if (due >= this.least && due <= this.most) return due;
    const whole = due > 0 ? Math.floor(start + this.most) : Math.ceil(start + this.least);
    const shift = whole - start;
    return shift >= this.least && shift <= this.most && shift * due > 0 ? shift : 0;
  }

  take(): KeyEdit[] {
    const edits = this.held.flatMap((held) => editOf(held, held.sentFrame, held.sentValue));
    for (const held of this.held) [held.sentFrame, held.sentValue] = [held.frame, held.value];
    return edits;
  }

  whole(): KeyEdit[] {
    return this.held.flatMap((held) => editOf(held, held.startFrame, held.startValue));
  }

  /** Where the keys stand now. */
  get picks(): readonly { readonly name: string; readonly frame: number }[] {
    return this.held.map(({ node, channel, frame }) => ({ name: `${node} ${channel}`, frame }));
  }
}

function editOf(held: Held, frame: number, value: number): KeyEdit[] {
  const { node, channel, frame: toFrame } = held;
  if (frame !== toFrame) {
    const moved = { kind: "move", node, channel, frame, toFrame } as const;
    return [value === held.value ? moved : { ...moved, value: held.value }];
  }
  return value === held.value ? [] : [{ kind: "set", node, channel, frame, value: held.value }];
}

/** How far a key may move towards another, as a number that is not above 0. */
function room(distance: number): number {
  return Math.min(1, distance) - distance;
}

const kindOf = (channel: Channel) => channel.split(".", 1)[0];

/** A handle that is pulled. In line, the key's other handle stays in line with it, as long as it was. */
export class HandleDrag implements Drag {
  readonly label = "pull a handle";
  private readonly curve: Curve;
  private readonly key: number;
  private readonly side: Side;
  private readonly start = { frame: 0, value: 0, isOwn: false };
  private readonly other = { frame: 0, value: 0, isOwn: false };
  private readonly hasOther: boolean;
  private now: KeyEdit | null = null;
  private sent: KeyEdit | null = null;

  /** @param key index of a key that has a handle on that side */
  constructor(curve: Curve, key: number, side: Side) {
    [this.curve, this.key, this.side] = [curve, key, side];
    placeOfHandle(curve, key, side, this.start);
    this.hasOther = placeOfHandle(curve, key, side === "in" ? "out" : "in", this.other);
  }

  to(frames: number, values: number, isInLine: boolean): void {
    const { curve, key, side, start, other } = this;
    if (frames === 0 && values === 0) {
      this.now = this.sent === null ? null : this.asItWas();
      return;
    }
    const [frame, value] = [curve.frames[key], curve.values[key]];
    const [toFrame, toValue] = [start.frame + frames, start.value + values];
    const pulled = pulledHandle(curve, key, side, toFrame, toValue);
    if (pulled === null) return;
    const handles: { in?: typeof pulled; out?: typeof pulled } = { [side]: pulled };
    const run = toFrame - frame;
    if (isInLine && this.hasOther && Math.abs(run) > 1e-3) {
      const slope = (toValue - value) / run;
      const across = side === "in" ? "out" : "in";
      const kept = pulledHandle(curve, key, across, other.frame, value + slope * (other.frame - frame));
      if (kept !== null) handles[across] = kept;
    }
    const { node, channel } = curve;
    this.now = { kind: "set", node, channel, frame, value, handles };
  }

  /** The edit that takes back all that was sent. */
  private asItWas(): KeyEdit {
    const { curve, key } = this;
    const { node, channel, frames, values } = curve;
    const handles = { in: writtenHandle(curve, key, "in"), out: writtenHandle(curve, key, "out") };
    return { kind: "set", node, channel, frame: frames[key], value: values[key], handles };
  }

  take(): KeyEdit[] {
    if (this.now === null || this.now === this.sent) return [];
    this.sent = this.now;
    return [this.now];
  }

  whole(): KeyEdit[] {
    return this.now === null ? [] : [this.now];
  }
}

/** A handle as the document names it; null where it names none. */
function writtenHandle({ handles }: Curve, key: number, side: Side): KeyHandle {
  if (handles === null) return null;
  const [run, rise] = handles.subarray(4 * key + (side === "in" ? 0 : 2));
  if (Number.isNaN(rise)) return null;
  return Number.isNaN(run) ? rise : [run, rise];
}

/** Whether a key of a curve has a handle that can be pulled on a side. */
export function hasHandle(curve: Curve, frame: number, side: Side): boolean {
  const key = keyAt(curve, frame);
  const segment = key < 0 ? null : segmentOf(curve, key, side);
  if (segment === null || curve.width !== 1) return false;
  const mode = modeOf(curve, segment[0]);
  return mode === "bezier" || mode === "cubic";
}
