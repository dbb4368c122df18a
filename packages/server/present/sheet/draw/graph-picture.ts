import { gridOf, type Study, type Unit } from "@keyside/core";
import { kindOf, units } from "@keyside/core/internal";
import { element, label, niceStep, type Point, picture, short, through } from "../../text/svg.ts";
import { number } from "./path-picture.ts";
import type { Span } from "./view.ts";

/** What a graph over time shows. */
export interface GraphInput {
  readonly study: Study;
  readonly label: string;
  readonly unit: Unit;
  readonly values: Float64Array;
  /** The same on the fixed shot; null where there is none. */
  readonly fixed: Float64Array | null;
  readonly span: Span;
  readonly noted: Span;
  /** Judged frames at which causing keys stand. */
  readonly keys: readonly number[];
  readonly size: { readonly width: number; readonly height: number };
}

const left = 46;
const right = 10;
const top = 26;
const bottom = 24;

/** A number over time, the noted frames hatched, causing keys as diamonds on the axis, the fixed course dashed. */
export function graphPicture(input: GraphInput): string {
  const { study, values, fixed, span, noted, keys, size } = input;
  const { frames } = gridOf(study);
  const across = (sample: number) =>
    left + ((sample - span.from) / Math.max(1, span.to - span.from)) * (size.width - left - right);
  const floor = size.height - bottom;
  const [low, high] = bandOf([values, ...(fixed === null ? [] : [fixed])], span, input.unit);
  const up = (value: number) => floor - ((value - low) / (high - low)) * (floor - top);
  const [a, b] = [across(noted.from - 0.5), across(noted.to + 0.5)].map((x) =>
    Math.min(size.width - right, Math.max(left, x)),
  );
  const parts = [
    element("rect", { class: "noted-band", x: a, y: top - 6, width: b - a, height: floor - top + 6 }),
    element("path", {
      class: "noted-edge",
      d: `M${short(a)} ${top - 6}V${short(floor)}M${short(b)} ${top - 6}V${short(floor)}`,
    }),
    ...rules(low, high, up, size.width),
    ...frameNumbers(frames, span, across, floor),
    element("path", { class: "graph", d: lines(values, span, across, up) }),
  ];
  const course = fixed === null ? "" : lines(changed(values, fixed, span, high - low), span, across, up);
  if (course !== "") parts.push(element("path", { class: "graph fixed", d: course }));
  for (const key of keys) {
    if (key < span.from || key > span.to) continue;
    const x = across(key);
    parts.push(
      element("path", {
        class: "key",
        d: `${through([
          [x, floor - 5],
          [x + 5, floor],
          [x, floor + 5],
          [x - 5, floor],
        ])}Z`,
      }),
    );
  }
  parts.push(label(2, 12, `${input.label}, ${unitName(input.unit)}`, { class: "name" }));
  const marked = `noted frames ${number(frames[noted.from])} to ${number(frames[noted.to])}`;
  const name = `${input.label} in ${unitName(input.unit)}, frames ${number(frames[span.from])} to ${number(frames[span.to])}, ${marked}`;
  return picture(size.width, size.height, name, ...parts);
}

function unitName(unit: Unit): string {
  return units[unit].sign.trim() || unit;
}

/** Lowest and highest value, with room; speeds start at 0. */
function bandOf(list: readonly Float64Array[], { from, to }: Span, unit: Unit): readonly [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (const values of list) {
    for (let i = from; i <= to; i++) {
      if (!Number.isFinite(values[i])) continue;
      low = Math.min(low, values[i]);
      high = Math.max(high, values[i]);
    }
  }
  if (low > high) return [0, 1];
  const isSpeed = kindOf(unit) === "speed" || kindOf(unit) === "turningSpeed";
  const room = Math.max((high - low) * 0.08, Math.abs(high) * 1e-3, 1e-3);
  return isSpeed && low >= 0 ? [0, high + room] : [low - room, high + room];
}

/** Level lines with their values. */
function rules(low: number, high: number, up: (value: number) => number, width: number): string[] {
  const parts: string[] = [];
  const step = niceStep(high - low, 3);
  const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  for (let value = Math.ceil(low / step) * step; value <= high; value += step) {
    const y = up(value);
    parts.push(element("line", { class: "rule", x1: left, x2: width - right, y1: y, y2: y }));
    parts.push(
      label(left - 6, y + 4, (value + 0).toFixed(digits), { class: "number", "text-anchor": "end" }),
    );
  }
  return parts;
}

function frameNumbers(
  frames: Float64Array,
  { from, to }: Span,
  across: (sample: number) => number,
  floor: number,
): string[] {
  const parts = [element("line", { class: "axis", x1: across(from), x2: across(to), y1: floor, y2: floor })];
  const apart = frames.length > 1 ? frames[1] - frames[0] : 1;
  const step = Math.max(1, niceStep((to - from) * apart, 7));
  for (let frame = Math.ceil(frames[from] / step) * step; frame <= frames[to]; frame += step) {
    const x = across(from + (frame - frames[from]) / apart);
    parts.push(element("line", { class: "axis", x1: x, x2: x, y1: floor, y2: floor + 4 }));
    parts.push(label(x, floor + 17, number(frame), { class: "number", "text-anchor": "middle" }));
  }
  return parts;
}

/** The course of a series, interrupted where it has no value. */
function lines(
  values: Float64Array,
  { from, to }: Span,
  across: (sample: number) => number,
  up: (value: number) => number,
): string {
  let d = "";
  let run: Point[] = [];
  for (let i = from; i <= to + 1; i++) {
    if (i <= to && Number.isFinite(values[i])) run.push([across(i), up(values[i])]);
    else {
      d += through(run);
      run = [];
    }
  }
  return d;
}

/** A series where it differs from another by as much as can be seen, and beside that; NaN elsewhere. */
function changed(
  before: Float64Array,
  after: Float64Array,
  { from, to }: Span,
  extent: number,
): Float64Array {
  const isOther = (i: number) => i >= from && i <= to && Math.abs(after[i] - before[i]) > 0.01 * extent;
  return after.map((value, i) => (isOther(i - 1) || isOther(i) || isOther(i + 1) ? value : Number.NaN));
}
