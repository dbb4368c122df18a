import type { Channel, KeyEdit, SetKey } from "@keyside/core";
import type { KeyHandle, KeyValue } from "./edits.ts";

/** Frames closer than this name the same key, as in the feed. */
const sameFrame = 1e-6;

/** What is to become of one key; `frame` is where it stands before the request. */
interface Entry {
  readonly node: string;
  readonly channel: Channel;
  readonly frame: number;
  /** Whether there must be such a key: `set` may make one, the others may not. */
  isThere: boolean;
  isRemoved: boolean;
  toFrame: number | null;
  value: KeyValue | null;
  interpolation: SetKey["interpolation"];
  handles: { in?: KeyHandle; out?: KeyHandle } | null;
}

/** Entries found by a frame. */
class ByFrame {
  private readonly entries = new Map<number, Entry>();

  at(frame: number): Entry | null {
    const nearest = Math.floor(frame / sameFrame + 0.5);
    for (const place of [nearest, nearest - 1, nearest + 1]) {
      const entry = this.entries.get(place);
      if (entry !== undefined && Math.abs(frame - this.frameOf(entry)) <= sameFrame) return entry;
    }
    return null;
  }

  put(entry: Entry): void {
    this.entries.set(Math.floor(this.frameOf(entry) / sameFrame + 0.5), entry);
  }

  take(entry: Entry): void {
    const place = Math.floor(this.frameOf(entry) / sameFrame + 0.5);
    if (this.entries.get(place) === entry) this.entries.delete(place);
  }

  private readonly frameOf: (entry: Entry) => number;

  constructor(frameOf: (entry: Entry) => number) {
    this.frameOf = frameOf;
  }
}

const frameAfter = ({ frame, toFrame }: Entry) => toFrame ?? frame;

/** The entries of one channel: by where keys stand before the request, and after it. */
class ChannelEntries {
  readonly before = new ByFrame(({ frame }) => frame);
  readonly after = new ByFrame(frameAfter);
  hasRemoved = false;
}

/** Edits of one request, a key at a time. */
class Batch {
  private readonly entries: Entry[] = [];
  private readonly channels = new Map<string, ChannelEntries>();

  get size(): number {
    return this.entries.length;
  }

  /**
   * Takes edits that follow those of the batch, if the whole is still one request that leads to the same document.
   * @returns whether it is; if not, nothing was taken
   */
  take(group: readonly Entry[]): boolean {
    if (!this.mayFoldAll(group)) return false;
    const found = this.known(group);
    for (const known of found) if (known !== null) this.channelOf(known).after.take(known);
    const changed = group.map((entry, index) => {
      const known = found[index];
      if (known === null) return { ...entry };
      return { ...joinedWith(known, entry), isThere: known.isThere };
    });
    const standing = changed.filter(({ isRemoved }) => !isRemoved);
    const clash = standing.some((entry) => this.channelOf(entry).after.at(frameAfter(entry)) !== null);
    if (clash) {
      for (const known of found) if (known !== null) this.channelOf(known).after.put(known);
      return false;
    }
    changed.forEach((entry, index) => {
      const known = found[index];
      const kept = known === null ? entry : Object.assign(known, entry);
      const channel = this.channelOf(kept);
      if (known === null) {
        this.entries.push(kept);
        channel.before.put(kept);
      }
      if (kept.isRemoved) channel.hasRemoved = true;
      else channel.after.put(kept);
    });
    return true;
  }

  /** How many keys more the batch, or another behind it, has to hold for edits. */
  room(group: readonly Entry[]): number {
    return this.mayFoldAll(group) ? this.known(group).filter((entry) => entry === null).length : group.length;
  }

  edits(): KeyEdit[] {
    return this.entries.flatMap(editsOf);
  }

  private known(group: readonly Entry[]): (Entry | null)[] {
    return group.map((entry) => this.channelOf(entry).after.at(entry.frame));
  }

  private mayFoldAll(group: readonly Entry[]): boolean {
    const found = this.known(group);
    return group.every((entry, index) => this.mayFold(entry, found[index]));
  }

  private mayFold(entry: Entry, known: Entry | null): boolean {
    const channel = this.channelOf(entry);
    if (known === null) {
      // The key that stood at this frame has gone from there, so that its name means another key.
      if (channel.before.at(entry.frame) !== null) return false;
      // The key before may have been the curve's last: a curve that is made anew is another one.
      return entry.isThere || !channel.hasRemoved;
    }
    // A key that the batch may make itself cannot be moved or taken out in the same request.
    return known.isThere || (!entry.isRemoved && entry.toFrame === null);
  }

  private channelOf({ node, channel }: Entry): ChannelEntries {
    const name = `${node} ${channel}`;
    let entries = this.channels.get(name);
    if (entries === undefined) {
      entries = new ChannelEntries();
      this.channels.set(name, entries);
    }
    return entries;
  }
}

/** A step that goes to the feed: edits of keys, or a call that waits for its turn. */
export type Step<C> = { readonly edits: readonly KeyEdit[] } | { readonly call: C };

/**
 * What waits for the feed, in order. Edits are folded per key as far as that leads to the same document; so the queue
 * grows with the keys that change, not with the edits.
 */
export class KeyQueue<C = never> {
  private steps: (Batch | { readonly edits: readonly KeyEdit[] } | { readonly call: C })[] = [];
  private readonly limit: number;

  /** @param limit most keys that wait at once */
  constructor(limit: number) {
    this.limit = limit;
  }

  /** How many keys wait. */
  get size(): number {
    return this.steps.reduce((sum, step) => sum + sizeOf(step), 0);
  }

  get isEmpty(): boolean {
    return this.steps.length === 0;
  }

  /**
   * Adds edits that are made at once, behind all others.
   * @param edits as `checkedEdits` gives them
   * @returns whether there was room; if not, nothing was added
   */
  add(edits: readonly KeyEdit[]): boolean {
    if (edits.length === 0) return true;
    const group = groupOf(edits);
    const last = this.steps[this.steps.length - 1];
    const more = group === null ? edits.length : last instanceof Batch ? last.room(group) : group.length;
    if (this.size + more > this.limit) return false;
    if (group === null) {
      // Edits that cannot all be made: the feed says why.
      this.steps.push({ edits });
    } else if (!(last instanceof Batch && last.take(group))) {
      const batch = new Batch();
      if (batch.take(group)) this.steps.push(batch);
      else this.steps.push({ edits });
    }
    return true;
  }

  /** Adds a call behind all edits so far. */
  call(call: C): void {
    this.steps.push({ call });
  }

  /** Takes the first step out; null where nothing waits. */
  next(): Step<C> | null {
    const step = this.steps.shift();
    if (step === undefined) return null;
    return step instanceof Batch ? { edits: step.edits() } : step;
  }

  /** Puts edits before all others; nothing is folded into them. */
  putBack(edits: readonly KeyEdit[]): void {
    if (edits.length > 0) this.steps.unshift({ edits });
  }

  /** Drops all edits; calls stay. */
  dropEdits(): void {
    this.steps = this.steps.filter((step) => "call" in step);
  }

  /** Drops everything. @returns the calls */
  clear(): C[] {
    const calls = this.steps.flatMap((step) => ("call" in step ? [step.call] : []));
    this.steps = [];
    return calls;
  }
}

function sizeOf(step: Batch | { readonly edits: readonly KeyEdit[] } | { readonly call: unknown }): number {
  if (step instanceof Batch) return step.size;
  return "edits" in step ? step.edits.length : 0;
}

/**
 * Edits that are made at once, a key at a time: two of one key as the feed makes them (docs/host-protocol.md).
 * @returns null where a key is moved that an edit before takes out
 */
function groupOf(edits: readonly KeyEdit[]): Entry[] | null {
  const entries: Entry[] = [];
  const channels = new Map<string, ByFrame>();
  for (const edit of edits) {
    const name = `${edit.node} ${edit.channel}`;
    const known = channels.get(name) ?? new ByFrame(({ frame }) => frame);
    channels.set(name, known);
    const before = known.at(edit.frame);
    const entry = entryOf(edit);
    if (before === null) {
      entries.push(entry);
      known.put(entry);
    } else if (before.isRemoved && edit.kind === "move") return null;
    else Object.assign(before, joinedWith(before, entry));
  }
  return entries;
}

function entryOf(edit: KeyEdit): Entry {
  const { node, channel, frame } = edit;
  return {
    node,
    channel,
    frame,
    isThere: edit.kind !== "set",
    isRemoved: edit.kind === "remove",
    toFrame: edit.kind === "move" ? edit.toFrame : null,
    value: edit.kind === "remove" ? null : (edit.value ?? null),
    interpolation: edit.kind === "set" ? edit.interpolation : undefined,
    handles:
      edit.kind === "set" && edit.handles !== undefined ? ({ ...edit.handles } as Entry["handles"]) : null,
  };
}

/** A key with what comes after it. */
function joinedWith(first: Entry, then: Entry): Entry {
  if (then.isRemoved) {
    return {
      ...first,
      isThere: true,
      isRemoved: true,
      toFrame: null,
      value: null,
      interpolation: undefined,
      handles: null,
    };
  }
  return {
    ...first,
    isThere: first.isThere || then.isThere,
    isRemoved: false,
    toFrame: then.toFrame ?? first.toFrame,
    value: then.value ?? first.value,
    interpolation: then.interpolation === undefined ? first.interpolation : then.interpolation,
    handles: then.handles === null ? first.handles : { ...first.handles, ...then.handles },
  };
}

function editsOf(entry: Entry): KeyEdit[] {
  const { node, channel, frame, toFrame, value, interpolation, handles } = entry;
  const place = { node, channel, frame };
  if (entry.isRemoved) return [{ kind: "remove", ...place }];
  const set = (): KeyEdit => ({
    kind: "set",
    ...place,
    value: value as KeyValue,
    ...(handles === null ? {} : { handles }),
    ...(interpolation === undefined ? {} : { interpolation }),
  });
  if (toFrame === null) return [set()];
  if (handles === null && interpolation === undefined) {
    return [{ kind: "move", ...place, toFrame, ...(value === null ? {} : { value }) }];
  }
  return [set(), { kind: "move", ...place, toFrame }];
}
