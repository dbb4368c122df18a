import type { KeyEdit } from "../document/edit.ts";
import {
  type Channel,
  type Curve,
  type Interpolation,
  interpolations,
  type Shot,
} from "../document/model.ts";

/** A key as it stands in a document. */
export interface KeyState {
  readonly frame: number;
  /** A number, or four of a quaternion. */
  readonly value: number | number[];
  /** `[frames, value]`, or a slope, as the key holds them; absent where it has none. */
  readonly in?: number | number[];
  readonly out?: number | number[];
  readonly interpolation: Interpolation;
}

/** What becomes of one key; `before` is null for a new key, `after` for one that goes. */
export interface KeyChange {
  readonly node: string;
  readonly channel: Channel;
  readonly before: KeyState | null;
  readonly after: KeyState | null;
}

/** What edits change, key by key, in the order of the document's curves and of time. */
export function keyChanges(before: Shot, after: Shot, edits: readonly KeyEdit[]): KeyChange[] {
  const byCurve = new Map<string, Map<number, KeyEdit[]>>();
  for (const edit of edits) {
    const name = `${edit.node} ${edit.channel}`;
    let byFrame = byCurve.get(name);
    if (byFrame === undefined) {
      byFrame = new Map();
      byCurve.set(name, byFrame);
    }
    const list = byFrame.get(edit.frame);
    if (list === undefined) byFrame.set(edit.frame, [edit]);
    else list.push(edit);
  }
  const changes: KeyChange[] = [];
  for (const [, byFrame] of byCurve) {
    const { node, channel } = [...byFrame.values()][0][0];
    const old = curveIn(before, node, channel);
    const made = curveIn(after, node, channel);
    for (const [frame, list] of [...byFrame].sort((a, b) => a[0] - b[0])) {
      const move = list.find((edit) => edit.kind === "move");
      const change = {
        node,
        channel,
        before: keyState(old, frame),
        after: list.some((edit) => edit.kind === "remove") ? null : keyState(made, move?.toFrame ?? frame),
      };
      if (JSON.stringify(change.before) !== JSON.stringify(change.after)) changes.push(change);
    }
  }
  const order = new Map(after.curves.map((curve, index) => [`${curve.node} ${curve.channel}`, index]));
  const place = ({ node, channel }: KeyChange) => order.get(`${node} ${channel}`) ?? order.size;
  return changes.sort((a, b) => place(a) - place(b));
}

function curveIn(shot: Shot, node: string, channel: Channel): Curve | undefined {
  return shot.curves.find((curve) => curve.node === node && curve.channel === channel);
}

/** The key of a curve at a frame; null where there is none. */
export function keyState(curve: Curve | undefined, frame: number): KeyState | null {
  if (curve === undefined) return null;
  const key = curve.frames.findIndex((other) => Math.abs(other - frame) <= 1e-6);
  if (key < 0) return null;
  const { width, values, handles, modes } = curve;
  const value = width === 1 ? values[key] : [...values.subarray(4 * key, 4 * key + 4)];
  const half = width === 1 ? 2 : 4;
  const side = (at: number) => {
    if (handles === null) return undefined;
    const numbers = [...handles.subarray(2 * half * key + at, 2 * half * key + at + half)];
    if (Number.isNaN(numbers[half - 1])) return undefined;
    return Number.isNaN(numbers[0]) ? numbers[half - 1] : numbers;
  };
  const [before, after] = [side(0), side(half)];
  return {
    frame: curve.frames[key],
    value,
    ...(before === undefined ? {} : { in: before }),
    ...(after === undefined ? {} : { out: after }),
    interpolation: interpolations[modes[key]],
  };
}
