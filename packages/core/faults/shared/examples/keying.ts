import { valueAt } from "../../../curve/evaluate.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Channel, Curve, Shot } from "../../../document/model.ts";
import type { CurveDocument } from "../../../document/schema.ts";
import type { Curves } from "./documents.ts";

/**
 * What an animator's hand does to keys, as lists of edits: set, move, take out. Frames and values are the document's own.
 */

/** A key of a curve of one number; slopes are values per frame. */
export interface SetKey {
  readonly frame: number;
  readonly value: number;
  /** Level if left out. */
  readonly slope?: number;
  /** Slope behind the key alone, where it leaves otherwise than it comes. */
  readonly leaves?: number;
  readonly interpolation?: "linear";
}

/** The curve of a channel, if it has one. */
export function curveIn(shot: Shot, node: string, channel: Channel): Curve | undefined {
  return shot.curves.find((curve) => curve.node === node && curve.channel === channel);
}

/** A channel's value; at rest where it has no curve. */
export function valueIn(shot: Shot, node: string, channel: Channel, frame: number): number {
  const curve = curveIn(shot, node, channel);
  if (curve !== undefined) return valueAt(curve, frame) as number;
  const spec = shot.header.nodes.find(({ id }) => id === node);
  const [kind, axis = ""] = channel.split(".");
  return (kind === "rotation" ? spec?.rotation : spec?.translation)?.["xyz".indexOf(axis)] ?? 0;
}

/**
 * New keys for a stretch of a curve: those that stood between the first and the last of them go, the curve beside them
 * stays as it was.
 */
export function rekeyed(shot: Shot, node: string, channel: Channel, keys: readonly SetKey[]): KeyEdit[] {
  const curve = curveIn(shot, node, channel);
  const [first, last] = [keys[0].frame, keys[keys.length - 1].frame];
  const frames = [...(curve?.frames ?? [])];
  const wanted = new Set(keys.map(({ frame }) => frame));
  const gone = frames.filter((frame) => frame >= first && frame <= last && !wanted.has(frame));
  const eased = curve?.interpolation === "bezier";
  const beside = [frames.filter((frame) => frame < first).at(-1), frames.find((frame) => frame > last)];
  const [before, after] = beside.map((frame) =>
    frame === undefined ? undefined : keyAt(shot, node, channel, frame),
  );
  const edits: KeyEdit[] = gone.map((frame) => ({ kind: "remove", node, channel, frame }));
  const row = [before, ...keys, after];
  row.forEach((key, i) => {
    if (key === undefined || (!eased && (i === 0 || i === row.length - 1))) return;
    const [left, right] = [row[i - 1], row[i + 1]];
    const handles = {
      ...(left === undefined ? {} : { in: handle(key.frame, left.frame, key.slope) }),
      ...(right === undefined ? {} : { out: handle(key.frame, right.frame, key.leaves ?? key.slope) }),
    };
    const { frame, value, interpolation = null } = key;
    edits.push({ kind: "set", node, channel, frame, value, ...(eased ? { handles } : {}), interpolation });
  });
  return edits;
}

/** A handle a third of the way to the neighbour. */
function handle(frame: number, to: number, slope = 0): [number, number] {
  const third = (to - frame) / 3;
  return [third, slope * third];
}

/** A key on the curve as it runs there. */
export function keyAt(shot: Shot, node: string, channel: Channel, frame: number): SetKey {
  const at = (f: number) => valueIn(shot, node, channel, f);
  const step = 1 / 64;
  const slope = (at(frame) - at(frame - step)) / step;
  return { frame, value: at(frame), slope, leaves: (at(frame + step) - at(frame)) / step };
}

/** A stretch keyed on every frame; `change` gives each value, from what the curve has there. */
export function onEveryFrame(
  shot: Shot,
  node: string,
  channel: Channel,
  from: number,
  to: number,
  change: (value: number, frame: number) => number,
): KeyEdit[] {
  const value = (frame: number) => change(valueIn(shot, node, channel, frame), frame);
  const keys: SetKey[] = [];
  for (let frame = from; frame <= to; frame++) {
    keys.push({ frame, value: value(frame), slope: (value(frame + 1) - value(frame - 1)) / 2 });
  }
  return rekeyed(shot, node, channel, keys);
}

/** Changes the values of the keys that stand in a stretch; their handles stay. */
export function revalued(
  shot: Shot,
  node: string,
  channel: Channel,
  from: number,
  to: number,
  change: (value: number, frame: number) => number,
): KeyEdit[] {
  return framesIn(shot, node, channel, from, to).map((frame) => {
    const value = change(valueIn(shot, node, channel, frame), frame);
    return { kind: "set", node, channel, frame, value };
  });
}

/** Frames on which a curve has keys, within a stretch. */
export function framesIn(shot: Shot, node: string, channel: Channel, from: number, to: number): number[] {
  return [...(curveIn(shot, node, channel)?.frames ?? [])].filter((frame) => frame >= from && frame <= to);
}

/** The curves of a document but for those of some nodes, as further documents are made from. */
export function curvesWithout(document: CurveDocument, gone: RegExp): Curves {
  const kept = document.curves.filter(({ node }) => !gone.test(node));
  return Object.fromEntries(kept.map(({ node, channel, keys }) => [`${node} ${channel}`, keys]));
}
