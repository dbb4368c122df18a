import { gridOf, type Study } from "@keyside/core";
import { element, label, picture, short } from "../../text/svg.ts";
import { type Body, drawnChange, drawnPose, isBeside, type Pose, poseOf } from "./body.ts";
import { number } from "./path-picture.ts";
import type { Placing } from "./placing.ts";
import { drawnChanges, drawnEdges, type SeenThing, thingsAt } from "./things.ts";
import type { Span, View } from "./view.ts";

/** What a row of poses shows. */
export interface PosesInput {
  readonly study: Study;
  readonly fixed: Study | null;
  readonly body: Body;
  readonly view: View;
  readonly noted: Span;
  readonly marked: ReadonlySet<number>;
  readonly name: string;
  readonly size: { readonly width: number; readonly height: number };
}

/** Most poses in a row. */
const mostPoses = 5;
const below = 26;
const above = 8;

/**
 * The figure at the noted frames and beside them, small; dashed lines where it stands after the fix. Empty where the
 * view does not see it.
 */
export function posesPicture(input: PosesInput): string {
  const { study, fixed, body, view, noted, size } = input;
  const { frames, count } = gridOf(study);
  const samples = shownSamples(noted, count);
  const cells = samples.flatMap((sample) => {
    const before = poseOf(study, body, view, sample);
    if (before === null) return [];
    const things = thingsAt(study, view, sample);
    const after = fixed === null ? null : poseOf(fixed, body, view, sample);
    const thingsAfter = fixed === null ? [] : thingsAt(fixed, view, sample);
    return [{ sample, before, after, things, thingsAfter }];
  });
  if (cells.length === 0) return "";
  const wide = size.width / cells.length;
  const { scale, bottom } = fit(
    cells.flatMap(({ before, after, things }) => {
      const near = things.filter((thing) => isBeside(thing, before));
      return after === null ? [{ pose: before, near }] : [before, after].map((pose) => ({ pose, near }));
    }),
    wide,
    size.height - below - above,
  );
  const parts = cells.map(({ sample, before, after, things, thingsAfter }, n) => {
    const middle = (n + 0.5) * wide;
    const isNoted = sample >= noted.from && sample <= noted.to;
    const floor = bottom ?? lowest(before);
    const placing: Placing = {
      scale,
      place: ([x, y]) => [middle + (x - centre(before)) * scale, size.height - below - (y - floor) * scale],
    };
    const change =
      after === null ? "" : drawnChange(before, after, placing) + drawnChanges(things, thingsAfter, placing);
    // A picture of its own, so that what reaches out of it lies over no other pose.
    const high = size.height - below + 3;
    const cell = { x: n * wide, y: 0, width: wide, height: high };
    const drawn = element(
      "svg",
      { ...cell, viewBox: `${short(n * wide)} 0 ${short(wide)} ${short(high)}` },
      ...drawnEdges(study, view, sample, placing),
      drawnPose(before, placing, input.marked, things),
      change,
    );
    const words = label(middle, size.height - 8, number(frames[sample]), {
      class: isNoted ? "number noted" : "number",
      "text-anchor": "middle",
    });
    const underline = isNoted
      ? element("path", {
          class: "noted-bar",
          d: `M${middle - wide * 0.4} ${size.height - 22}h${wide * 0.8}`,
        })
      : "";
    return drawn + underline + words;
  });
  const ground = bottom === null || view.kind !== "side" ? [] : groundLine(size);
  const shown = cells.map(({ sample }) => number(frames[sample])).join(", ");
  return picture(
    size.width,
    size.height,
    `${input.name} at frames ${shown}, ${view.name}`,
    ...ground,
    ...parts,
  );
}

function groundLine({ width, height }: PosesInput["size"]): string[] {
  return [element("line", { class: "ground", x1: 0, x2: width, y1: height - below, y2: height - below })];
}

/** A frame before, the noted ones (a few of them where there are many), a frame after. */
function shownSamples({ from, to }: Span, count: number): number[] {
  const long = to - from;
  const beside = Math.max(1, Math.round(long / 6));
  const inside: number[] = [];
  const between = Math.min(long + 1, mostPoses - 2);
  for (let k = 0; k < between; k++) {
    inside.push(between === 1 ? from : Math.round(from + (long * k) / (between - 1)));
  }
  const all = [from - beside, ...inside, to + beside].filter((sample) => sample >= 0 && sample < count);
  return [...new Set(all)];
}

function lowest(pose: Pose): number {
  return Math.min(...pose.bones.flatMap(({ a, b, radius }) => [a[1] - radius, b[1] - radius]));
}

/** Middle of a pose, from left to right. */
function centre(pose: Pose): number {
  const xs = pose.bones.flatMap(({ a, b }) => [a[0], b[0]]);
  return xs.length === 0 ? pose.root[0] : (Math.min(...xs) + Math.max(...xs)) / 2;
}

/**
 * One scale for all poses and what is beside them, and the height on which they stand: a common one, so that rising and
 * falling shows; null where that would leave them too small.
 */
function fit(
  cells: readonly { readonly pose: Pose; readonly near: readonly SeenThing[] }[],
  wide: number,
  high: number,
): { readonly scale: number; readonly bottom: number | null } {
  const half = Math.max(
    ...cells.flatMap(({ pose, near }) => [
      ...pose.bones.map(({ a, b }) => Math.max(Math.abs(a[0] - centre(pose)), Math.abs(b[0] - centre(pose)))),
      ...near.flatMap(({ points, radii }) => points.map(([x], n) => Math.abs(x - centre(pose)) + radii[n])),
    ]),
    1e-6,
  );
  const heights = cells.map(({ pose, near }) => {
    const tops = [
      ...pose.bones.flatMap(({ a, b, radius }) => [a[1] + radius, b[1] + radius]),
      ...near.flatMap(({ points, radii }) => points.map(([, y], n) => y + radii[n])),
    ];
    return { low: lowest(pose), top: Math.max(...tops) };
  });
  const tallest = Math.max(...heights.map(({ low, top }) => top - low), 1e-6);
  const low = Math.min(...heights.map((one) => one.low));
  const all = Math.max(...heights.map(({ top }) => top)) - low;
  const isTogether = all <= 2 * tallest;
  const scale = Math.min((wide * 0.46) / half, high / (isTogether ? all : tallest));
  return { scale, bottom: isTogether ? low : null };
}
