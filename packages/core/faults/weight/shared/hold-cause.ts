import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { firstKeyFrom } from "../../../curve/keys.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { channelSeriesOf } from "../../../rig/channels.ts";
import { influenceOf } from "../../../rig/influence.ts";
import { chainOf, curveNamesOfNode, worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import type { Fault } from "../../check.ts";

/** Least share of the travel that has to go away for a channel to be named, and how many keys are, as in all notes. */
const leastShare = 0.1;
const mostKeys = 6;

/** What a node does that it should not do while it is meant to keep still. */
export interface Unrest {
  readonly node: number;
  /** Samples in which it should keep still. */
  readonly run: Span;
  /** Samples between which it moves. */
  readonly between: Span;
  /** The sample whose place it should keep. */
  readonly hold: number;
  /** How much it moves, from its path over the run. */
  strength(path: Float64Array): number;
  /** What else should keep still meanwhile. */
  readonly others?: readonly Still[];
}

/** Another node that should keep still during an unrest, as the other foot. */
export interface Still {
  readonly node: number;
  /** How much it moves, from its path over the run of the unrest. */
  strength(path: Float64Array): number;
}

/**
 * The keys that move a node which should keep still. Taking such a key out need not help (the curve then goes straight
 * on to the next key), holding its channel does: each channel of each ancestor is held at its value at `hold`, and the
 * motion that goes away with it is its share. What it would move of the others is taken off that: hips whose turn a
 * planted foot answers to would drag that foot if they were held, so that they are not what is wrong. Named are its keys in which the move ends, or the key that it leaves.
 * @returns null where no channel alone moves the node, as where hips and legs move against each other
 */
export function holdCause(study: Study, unrest: Unrest): Fault | null {
  const { node, run, between, hold, strength } = unrest;
  const { frames } = gridOf(study);
  const count = run.to - run.from + 1;
  const series = floats(3 * count);
  const before = strength(pathOver(study, node, run, series));
  if (!(before > 0)) return null;
  const rig = rigOf(study);
  const others = (unrest.others ?? []).map((other) => ({
    ...other,
    before: other.strength(pathOver(study, other.node, run, series)),
  }));
  const keys: { node: string; channel: Curve["channel"]; index: number; share: number }[] = [];
  for (const ancestor of chainOf(rig, node)) {
    for (const name of curveNamesOfNode(study, ancestor)) {
      const curve = curveOf(study, name);
      if (curve === null || curve.frames.length < 2) continue;
      const values = channelSeriesOf(study, name);
      if (values === null) continue;
      const { width } = curve;
      const held = floats(width * count);
      for (let i = 0; i < held.length; i++) held[i] = values[width * hold + (i % width)];
      influenceOf(study, ancestor, curve.channel, run.from, run.to, held, node, series, null);
      const after = strength(series);
      if (!(1 - after / before >= leastShare)) continue;
      let dragged = 0;
      for (const other of others) {
        if (!isAbove(rig, ancestor, other.node)) continue;
        influenceOf(study, ancestor, curve.channel, run.from, run.to, held, other.node, series, null);
        dragged = Math.max(dragged, other.strength(series) - other.before);
      }
      const share = 1 - (after + dragged) / before;
      if (!(share >= leastShare)) continue;
      for (const index of keysOf(curve, frames[between.from], frames[between.to])) {
        keys.push({ node: curve.node, channel: curve.channel, index, share: Math.min(1, share) });
      }
    }
  }
  if (keys.length === 0) return null;
  keys.sort((a, b) => b.share - a.share);
  // A channel's share is no share of a key's: what was tried is to hold the channel, not to take a key out.
  return { kind: "keys", keys: keys.slice(0, mostKeys).map(({ share: _, ...key }) => key) };
}

/** The last two keys within a move, the later one first; where there are none, the one that the move leaves. */
function keysOf({ frames }: Curve, from: number, to: number): number[] {
  const first = firstKeyFrom(frames, from + 0.5);
  const found: number[] = [];
  for (let key = firstKeyFrom(frames, to + 0.5) - 1; key >= first && found.length < 2; key--) found.push(key);
  return found.length > 0 ? found : [Math.max(0, first - 1)];
}

function pathOver(study: Study, node: number, run: Span, out: Float64Array): Float64Array {
  out.set(worldOf(study, node).position.subarray(3 * run.from, 3 * run.to + 3));
  return out;
}
