import { type Curve, interpolations } from "@keyside/core";
import type { Problems } from "../problems.ts";
import type { Driven } from "./names.ts";
import type { Cell } from "./table.ts";

interface Key {
  readonly frame: number;
  readonly values: number[];
  cell: Cell;
  mode: number;
}

/** A table holds no handles: keys run to the next one by one of these. */
const modesWithoutHandles: readonly string[] = ["step", "linear", "smooth"];
const linear = interpolations.indexOf("linear");

/** Collects keys in any order, and makes curves of them. */
export class CurveTable {
  private readonly lanes = new Map<string, { node: string; driven: Driven; keys: Map<number, Key> }>();
  private readonly repeats: Cell[] = [];
  private readonly badModes: Cell[] = [];

  add(node: string, driven: Driven, frame: number, value: number, cell: Cell, mode: Cell | null): void {
    const name = `${node} ${driven.channel}`;
    let lane = this.lanes.get(name);
    if (lane === undefined) {
      lane = { node, driven, keys: new Map() };
      this.lanes.set(name, lane);
    }
    let key = lane.keys.get(frame);
    if (key === undefined) {
      key = { frame, values: [], cell, mode: linear };
      lane.keys.set(frame, key);
    }
    if (key.values[driven.component] !== undefined) {
      this.repeats.push(cell);
      return;
    }
    key.values[driven.component] = value;
    if (mode === null) return;
    if (modesWithoutHandles.includes(mode.text))
      key.mode = (interpolations as readonly string[]).indexOf(mode.text);
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
      const message = `"${text}" is no interpolation of a table (${modesWithoutHandles.join(", ")}); linear is taken.`;
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
        handles: null,
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
