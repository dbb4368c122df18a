import { gridOf, type Study, type Tier } from "@keyside/core";
import { element, label, niceStep, short } from "../../text/svg.ts";
import { type Body, drawnPose, isBeside, poseOf } from "./body.ts";
import { number } from "./path-picture.ts";
import { thingsAt } from "./things.ts";
import type { View } from "./view.ts";

/** A note on the strip. */
export interface StripNote {
  readonly number: number;
  readonly tier: Tier;
  /** First and last judged frame, as numbers of samples. */
  readonly from: number;
  readonly to: number;
  /** "pop, head". */
  readonly title: string;
}

/** What the strip of the whole shot shows. */
export interface StripInput {
  readonly study: Study;
  readonly body: Body | null;
  readonly view: View | null;
  readonly notes: readonly StripNote[];
  readonly width: number;
}

const side = 16;
const poseHeight = 92;
const lane = 25;

/**
 * The whole shot from left to right: the figure in its poses, the frames, and beneath them each note at its frames,
 * with the number under which it stands in the list.
 */
export function stripPicture(input: StripInput): string {
  const { study, notes, width } = input;
  const { frames, count } = gridOf(study);
  const across = (sample: number) => side + (sample / Math.max(1, count - 1)) * (width - 2 * side);
  const poses = drawnPoses(input, across);
  const axis = poses === "" ? 22 : poseHeight + 22;
  const lanes = lanesOf(
    notes.map(({ from, to }) => [across(from) - 14, Math.max(across(to), across(from) + 4) + 14]),
  );
  const used = lanes.reduce((most, n) => Math.max(most, n + 1), 0);
  const height = axis + 14 + used * lane;
  const parts = [poses, ...frameRule(frames, across, axis, height)];
  notes.forEach((note, n) => {
    parts.push(noteBar(note, across, axis + 12 + lanes[n] * lane + lane / 2));
  });
  const attributes = {
    viewBox: `0 0 ${short(width)} ${short(height)}`,
    role: "group",
    "aria-label": `The whole shot with its notes, frames ${number(frames[0])} to ${number(frames[count - 1])}`,
  };
  return element("svg", attributes, ...parts);
}

function drawnPoses({ study, body, view, width }: StripInput, across: (sample: number) => number): string {
  if (body === null || view === null) return "";
  const { count } = gridOf(study);
  const many = Math.min(count, Math.floor(width / 86));
  const cells = Array.from({ length: many }, (_, k) =>
    many === 1 ? 0 : Math.round(((k + 0.5) * (count - 1)) / many),
  ).flatMap((sample) => poseOf(study, body, view, sample) ?? []);
  const extents = cells.map(({ bones, root }) => {
    const [xs, ys] = [0, 1].map((k) => bones.flatMap(({ a, b }) => [a[k], b[k]]));
    const half = Math.max(root[0] - Math.min(...xs), Math.max(...xs) - root[0]);
    return { half, low: Math.min(...ys), high: Math.max(...ys) };
  });
  if (extents.length === 0) return "";
  const tallest = Math.max(...extents.map(({ low, high }) => high - low), 1e-6);
  const widest = Math.max(...extents.map(({ half }) => 2 * half), 1e-6);
  const scale = Math.min((poseHeight - 10) / tallest, ((width - 2 * side) / many) * (0.96 / widest));
  return cells
    .map((pose, n) => {
      const { low } = extents[n];
      const middle = across(pose.sample);
      const placing = {
        scale,
        place: ([x, y]: readonly [number, number]) =>
          [middle + (x - pose.root[0]) * scale, poseHeight - (y - low) * scale] as const,
      };
      // A picture of its own, so that what reaches out of it lies over no other pose.
      const wide = (width - 2 * side) / many;
      const cell = { x: middle - wide / 2, y: 0, width: wide, height: poseHeight + 2 };
      const viewBox = `${short(cell.x)} 0 ${short(wide)} ${poseHeight + 2}`;
      const beside = thingsAt(study, view, pose.sample).filter((thing) => isBeside(thing, pose));
      const drawn = drawnPose(pose, placing, new Set(), beside);
      return element("svg", { ...cell, viewBox }, drawn);
    })
    .join("");
}

function frameRule(
  frames: Float64Array,
  across: (sample: number) => number,
  axis: number,
  height: number,
): string[] {
  const last = frames.length - 1;
  const apart = last > 0 ? frames[1] - frames[0] : 1;
  const parts = [element("line", { class: "axis", x1: across(0), x2: across(last), y1: axis, y2: axis })];
  const step = Math.max(1, niceStep(last * apart, 14));
  for (let frame = Math.ceil(frames[0] / step) * step; frame <= frames[last]; frame += step) {
    const x = across((frame - frames[0]) / apart);
    parts.push(element("line", { class: "axis", x1: x, x2: x, y1: axis - 4, y2: axis }));
    parts.push(element("line", { class: "rule", x1: x, x2: x, y1: axis, y2: height }));
    parts.push(label(x, axis - 8, number(frame), { class: "number", "text-anchor": "middle" }));
  }
  return parts;
}

/** A note's frames as a bar, its number on it; the bar's filling tells its tier without colour. */
function noteBar(note: StripNote, across: (sample: number) => number, y: number): string {
  const from = across(note.from);
  const to = Math.max(across(note.to), from + 4);
  const middle = (from + to) / 2;
  return element(
    "a",
    {
      href: `#note-${note.number}`,
      class: `bar ${note.tier}`,
      "aria-label": `Note ${note.number}: ${note.title}`,
    },
    element("rect", { class: "span", x: from, y: y - 4, width: to - from, height: 8, rx: 2 }),
    element("circle", { cx: middle, cy: y, r: 9.5 }),
    label(middle, y + 4, String(note.number), { "text-anchor": "middle" }),
  );
}

/** A lane for each interval, so that none lies on another. */
export function lanesOf(intervals: readonly (readonly [number, number])[]): number[] {
  const used: (readonly [number, number])[][] = [];
  return intervals.map(([from, to]) => {
    let free = used.findIndex((list) => list.every(([a, b]) => to < a || from > b));
    if (free < 0) free = used.push([]) - 1;
    used[free].push([from, to]);
    return free;
  });
}
