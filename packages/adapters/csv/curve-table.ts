import { type Curve, interpolations } from "@keyside/core";
import type { Problems } from "../problems.ts";
import type { Driven } from "./names.ts";
import type { Cell } from "./table.ts";

interface Key {
  readonly frame: number;
  readonly values: number[];
  /** Per number of the key: frames and value of its handle in, and of that out, or null where no cell says any. */
  readonly handles: (HandleCells | null)[];
  cell: Cell;
  mode: number;
}

/** What a row says of a key beside its value. */
export interface KeyExtras {
  readonly mode: Cell | null;
  readonly handles: HandleCells | null;
}

/** Frames and value of the handle in, frames and value of the handle out; NaN where a cell is empty. */
export type HandleCells = readonly [number, number, number, number];

const linear = interpolations.indexOf("linear");

/** Collects keys in any order, and makes curves of them. */
export class CurveTable {
  private readonly lanes = new Map<string, { node: string; driven: Driven; keys: Map<number, Key> }>();
  private readonly repeats: Cell[] = [];
  private readonly badModes: Cell[] = [];

  add(
    node: string,
    driven: Driven,
    frame: number,
    value: number,
    cell: Cell,
    extras: KeyExtras | null,
  ): void {
    const name = `${node} ${driven.channel}`;
    let lane = this.lanes.get(name);
    if (lane === undefined) {
      lane = { node, driven, keys: new Map() };
      this.lanes.set(name, lane);
    }
    let key = lane.keys.get(frame);
    if (key === undefined) {
      key = { frame, values: [], handles: [], cell, mode: linear };
      lane.keys.set(frame, key);
    }
    if (key.values[driven.component] !== undefined) {
      this.repeats.push(cell);
      return;
    }
    key.values[driven.component] = value;
    key.handles[driven.component] = extras?.handles ?? null;
    const mode = extras?.mode ?? null;
    if (mode === null) return;
    const known = (interpolations as readonly string[]).indexOf(mode.text.toLowerCase());
    if (known >= 0) key.mode = known;
    else this.badModes.push(mode);
  }

  curves(length: number, problems: Problems): Curve[] {
    for (const { text, start, end } of this.repeats) {
      problems.add(
        "duplicate-key",
        `A second key on the same frame ("${text}"); the first one counts.`,
        start,
        end,
      );
    }
    for (const { text, start, end } of this.badModes) {
      const message = `"${text}" is no interpolation (${interpolations.join(", ")}); linear is taken.`;
      problems.add("interpolation", message, start, end);
    }
    const curves: Curve[] = [];
    for (const { node, driven, keys } of this.lanes.values()) {
      const width = driven.channel === "rotation" ? 4 : 1;
      const whole = [...keys.values()].filter((key) => {
        if (key.values.filter((value) => value !== undefined).length === width) return true;
        const message = `The quaternion of "${node}" on frame ${key.frame} lacks some of x, y, z and w; it is no key.`;
        problems.add("quaternion", message, key.cell.start, key.cell.end);
        return false;
      });
      if (whole.length === 0) continue;
      whole.sort((a, b) => a.frame - b.frame);
      const modes = Uint8Array.from(whole, (key) => key.mode);
      curves.push({
        node,
        channel: driven.channel,
        interpolation: "linear",
        width,
        frames: Float64Array.from(whole, (key) => key.frame),
        values: Float64Array.from(whole.flatMap((key) => key.values)),
        modes,
        handles: handlesOf(whole, width),
        ownModes: modes.some((mode) => mode !== linear)
          ? modes.map((mode) => (mode === linear ? 0 : 1))
          : null,
        place: {
          start: 0,
          end: length,
          keyStart: Int32Array.from(whole, (key) => key.cell.start),
          keyEnd: Int32Array.from(whole, (key) => key.cell.end),
        },
      });
    }
    return curves;
  }
}

/** Handles as a curve has them; null where no key has any. */
function handlesOf(keys: readonly Key[], width: 1 | 4): Float64Array | null {
  if (!keys.some((key) => key.handles.some((own) => own !== null))) return null;
  const each = width === 1 ? 4 : 8;
  const handles = new Float64Array(each * keys.length).fill(Number.NaN);
  keys.forEach((key, i) => {
    key.handles.forEach((own, component) => {
      if (own === null) return;
      if (width === 1) handles.set(own, each * i);
      else {
        handles[each * i + component] = own[1];
        handles[each * i + 4 + component] = own[3];
      }
    });
  });
  return handles;
}
