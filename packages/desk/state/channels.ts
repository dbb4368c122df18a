import { type Channel, type Curve, type Interpolation, interpolations } from "@keyside/core/curves";
import type { ChannelChange, ChannelKeys, DeskChannel, DeskKey } from "../link.ts";

/** The name by which the page knows a channel of a node. */
export function nameOf({ node, channel }: { readonly node: string; readonly channel: Channel }): string {
  return `${node} ${channel}`;
}

/** Keys as the desk tells them, as a curve that can be evaluated. */
export function curveFrom({ node, channel, interpolation, keys }: ChannelKeys): Curve {
  const width: 1 | 4 = channel === "rotation" ? 4 : 1;
  const half = width === 1 ? 2 : 4;
  const handles = new Float64Array(keys.length * 2 * half).fill(Number.NaN);
  const curve: Omit<Curve, "handles"> = {
    ...{ node, channel, interpolation, width, place: null },
    frames: Float64Array.from(keys, ({ frame }) => frame),
    values: new Float64Array(keys.length * width),
    modes: Uint8Array.from(keys, (key) => interpolations.indexOf(key.interpolation)),
    ownModes: Uint8Array.from(keys, ({ isOwn }) => (isOwn === true ? 1 : 0)),
  };
  let isHandled = false;
  keys.forEach((key, index) => {
    curve.values.set(typeof key.value === "number" ? [key.value] : key.value, index * width);
    for (const side of ["in", "out"] as const) {
      const handle = key[side];
      if (handle === undefined) continue;
      isHandled = true;
      const at = 2 * half * index + (side === "in" ? 0 : half);
      // A slope alone stands where the value of a handle stands; its frames stay open.
      if (typeof handle === "number") handles[at + 1] = handle;
      else handles.set(handle, at);
    }
  });
  return { ...curve, handles: isHandled ? handles : null };
}

/** A channel of the shot: how many keys it has, and the keys where the page has asked for them. */
export interface KnownChannel {
  readonly name: string;
  readonly node: string;
  readonly channel: Channel;
  interpolation: Interpolation;
  count: number;
  keys: readonly DeskKey[] | null;
  curve: Curve | null;
}

/** The channels of the shot, as the desk has them. */
export class Channels {
  private readonly known = new Map<string, KnownChannel>();
  /** Counts changes of which channels there are. */
  changes = 0;

  get all(): Iterable<KnownChannel> {
    return this.known.values();
  }
  get size(): number {
    return this.known.size;
  }
  get(name: string): KnownChannel | undefined {
    return this.known.get(name);
  }
  curve(name: string): Curve | null {
    return this.known.get(name)?.curve ?? null;
  }

  /** Takes the channels of a shot, whose keys are not known yet. */
  begin(channels: readonly DeskChannel[]): void {
    this.known.clear();
    this.changes++;
    for (const channel of channels) {
      const name = nameOf(channel);
      this.known.set(name, { ...channel, name, keys: null, curve: null });
    }
  }

  /** Takes keys that were asked for. */
  fill(of: readonly ChannelKeys[]): void {
    for (const given of of) {
      const { keys, interpolation } = given;
      Object.assign(this.entry(given), { keys, interpolation, count: keys.length, curve: curveFrom(given) });
    }
  }

  /** Takes a change. Keys that were not asked for stay unknown. */
  change(change: ChannelChange): void {
    const { at, removed, count, interpolation } = change;
    const known = this.entry(change);
    const keys =
      count === change.keys.length
        ? change.keys
        : (known.keys?.toSpliced(at, removed, ...change.keys) ?? null);
    if (count === 0) {
      this.known.delete(known.name);
      this.changes++;
      return;
    }
    const { node, channel } = known;
    const curve = keys === null ? null : curveFrom({ node, channel, interpolation, keys });
    Object.assign(known, { keys, interpolation, count, curve });
  }

  private entry({ node, channel, interpolation }: ChannelChange | ChannelKeys): KnownChannel {
    const name = nameOf({ node, channel });
    let known = this.known.get(name);
    if (known === undefined) {
      known = { name, node, channel, interpolation, count: 0, keys: null, curve: null };
      this.known.set(name, known);
      this.changes++;
    }
    return known;
  }
}
