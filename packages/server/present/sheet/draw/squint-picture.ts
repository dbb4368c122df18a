import { gridOf, type Study } from "@keyside/core";
import {
  type Drawable,
  drawablesOf,
  isVisible,
  type Lens,
  lensOf,
  outlinesOf,
  projectPoint,
  seenWidth,
  solidsOf,
} from "@keyside/core/internal";
import { element, label, type Point, picture, short, through } from "../../text/svg.ts";
import { number } from "./path-picture.ts";
import type { Span } from "./view.ts";

/** What a squint view shows. */
export interface SquintInput {
  readonly study: Study;
  readonly fixed: Study | null;
  readonly noted: Span;
  readonly size: { readonly width: number; readonly height: number };
}

const below = 26;
const gap = 12;

/**
 * The camera's picture as one sees it with eyes half shut: all that has a shape flat and dark, surfaces with edges by
 * their edge. The first and the middle one of the noted frames, or the middle one before the fix and after it. Empty
 * where no camera sees them.
 */
export function squintPicture({ study, fixed, noted, size }: SquintInput): string {
  const { frames } = gridOf(study);
  const middle = Math.round((noted.from + noted.to) / 2);
  const wanted =
    fixed === null
      ? [...new Set([noted.from, middle])].map((sample) => ({ of: study, sample, words: "" }))
      : [
          { of: study, sample: middle, words: "" },
          { of: fixed, sample: middle, words: ", after the fix" },
        ];
  const cells = wanted.flatMap(({ of, sample, words }) => {
    const lens = lensOf(of);
    return lens === null || lens.seen[sample] === 0 ? [] : [{ of, lens, sample, words }];
  });
  if (cells.length === 0) return "";
  const wide = (size.width - gap * (cells.length - 1)) / cells.length;
  const high = size.height - below;
  const views = cells.map(({ of, lens, sample }) => solidsIn(of, lens, sample));
  const around = crop(views.flat(), wide / high);
  const parts = cells.map(({ of, lens, sample, words }, n) => {
    const left = n * (wide + gap);
    const half = (placesHigh * lens.aspect[sample]) / 2;
    const edge = `M${short(-half)} -500H${short(half)}V500H${short(-half)}Z`;
    const beyond = `M${farOut} ${farOut}H${-farOut}V${-farOut}H${farOut}Z${edge}`;
    // A picture of its own, so that nothing reaches over its edge.
    const frame = { x: left, y: 0, width: wide, height: high, viewBox: around };
    return (
      element(
        "svg",
        frame,
        element("path", { class: "squint-ground", d: edge }),
        ...edges(of, lens, sample),
        ...views[n].map(drawnSolid),
        element("path", { class: "squint-beyond", d: beyond, "fill-rule": "evenodd" }),
        element("path", { class: "squint-frame", d: edge }),
      ) +
      label(left + wide / 2, size.height - 8, `${number(frames[sample])}${words}`, {
        class: "number noted",
        "text-anchor": "middle",
      })
    );
  });
  const shown = cells.map(({ sample, words }) => `${number(frames[sample])}${words}`).join(" and ");
  return picture(
    size.width,
    size.height,
    `The camera's picture as flat dark shapes at frame ${shown}`,
    ...parts,
  );
}

/** Places a picture is high within. */
const placesHigh = 1000;
/** Farther out than anything that is shown. */
const farOut = -5000;
const seen = new Float64Array(seenWidth);

/** A solid in the picture: its points, how wide a line through them is, and whether they are the corners of a box. */
interface SeenSolid {
  readonly points: readonly Point[];
  readonly width: number;
  readonly isBox: boolean;
}

function solidsIn(study: Study, lens: Lens, sample: number): SeenSolid[] {
  return drawablesOf(study, solidsOf(study))
    .filter(({ solid }) => isVisible(study, solid.node, sample))
    .flatMap((drawable) => solidIn(lens, drawable, sample));
}

function solidIn(lens: Lens, { solid, paths }: Drawable, sample: number): SeenSolid[] {
  const points: Point[] = [];
  let width = 0;
  for (const path of paths) {
    projectPoint(lens, sample, path, 3 * sample, seen, 0);
    if (Number.isNaN(seen[0])) return [];
    points.push([seen[0] * placesHigh, -seen[1] * placesHigh]);
    width += (2 * solid.radius * seen[3] * placesHigh) / paths.length;
  }
  return [{ points, width, isBox: solid.radius === 0 }];
}

function drawnSolid({ points, width, isBox }: SeenSolid): string {
  if (isBox) return element("path", { class: "squint-box", d: `${through(hull(points))}Z` });
  const ends = points.length === 1 ? [points[0], points[0]] : points;
  return element("path", { class: "squint", "stroke-width": width, d: through(ends) });
}

/** Room left around what is shown, as a share of its larger side. */
const room = 0.1;

/** The view box around all solids that reach into the picture, as wide as the cell is for its height. */
function crop(solids: readonly SeenSolid[], aspect: number): string {
  let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const { points, width } of solids) {
    for (const [x, y] of points) {
      if (Math.abs(x) > placesHigh || Math.abs(y) > placesHigh / 2 + width) continue;
      left = Math.min(left, x - width / 2);
      right = Math.max(right, x + width / 2);
      top = Math.min(top, y - width / 2);
      bottom = Math.max(bottom, y + width / 2);
    }
  }
  if (right < left) [left, right, top, bottom] = [-half, half, -half, half];
  const [x, y] = [(left + right) / 2, (top + bottom) / 2];
  const margin = room * Math.max(right - left, bottom - top);
  const high = Math.max(bottom - top + 2 * margin, (right - left + 2 * margin) / aspect);
  const wide = high * aspect;
  return [x - wide / 2, y - high / 2, wide, high].map(short).join(" ");
}

const half = 500;

function edges(study: Study, lens: Lens, sample: number): string[] {
  return outlinesOf(study).flatMap(({ corners }) => {
    const points: Point[] = [];
    for (const path of corners) {
      projectPoint(lens, sample, path, 3 * sample, seen, 0);
      if (Number.isNaN(seen[0])) return [];
      points.push([seen[0] * placesHigh, -seen[1] * placesHigh]);
    }
    return [element("path", { class: "squint-edge", d: `${through(points)}Z` })];
  });
}

/** The corners around a set of points, in order (Andrew's monotone chain, 1979). */
function hull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly Point[]) => {
    const chain: Point[] = [];
    for (const point of list) {
      while (chain.length > 1 && turn(chain[chain.length - 2], chain[chain.length - 1], point) <= 0)
        chain.pop();
      chain.push(point);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.toReversed())];
}

function turn(a: Point, b: Point, c: Point): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}
