import { figuresOf, gridOf, type Study, worldOf } from "@keyside/core";
import {
  backgroundOf,
  type Colour,
  carrierOf,
  colourOf,
  type Drawable,
  drawablesOf,
  isVisible,
  type Lens,
  lensOf,
  noColour,
  outlinesOf,
  projectPoint,
  seenWidth,
  solidsOf,
  writtenColour,
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
  /** Whether all is drawn in its declared colour, where the note speaks of colours; what has none stays dark. */
  readonly inColours?: boolean;
}

const below = 26;
const gap = 12;

/**
 * The camera's picture as one sees it with eyes half shut: figures and what is before them flat and dark, what is behind
 * them pale, surfaces with edges by their edge. The first and the middle one of the noted frames, or the middle one before the fix and after it. Empty
 * where no camera sees them.
 */
export function squintPicture({ study, fixed, noted, size, inColours = false }: SquintInput): string {
  const { frames } = gridOf(study);
  const middle = inColours ? changeIn(study, noted) : Math.round((noted.from + noted.to) / 2);
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
  const views = cells.map(({ of, lens, sample }) => solidsIn(of, lens, sample, inColours));
  const all = views.flat();
  const figures = all.filter(({ isFigure }) => isFigure);
  const around = crop(inColours || figures.length === 0 ? all : figures, wide / high);
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
        element("path", {
          class: "squint-ground",
          d: edge,
          style: styleOf("fill", inColours ? backgroundOf(of)[sample] : noColour),
        }),
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
    `The camera's picture as flat ${inColours ? "shapes in their colours" : "dark shapes"} at frame ${shown}`,
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
  readonly depth: number;
  readonly isFigure: boolean;
  /** Whether it is no figure and farther away than one. */
  readonly isBehind: boolean;
  readonly colour: Colour;
}

/** What is seen, the farthest first. */
function solidsIn(study: Study, lens: Lens, sample: number, inColours: boolean): SeenSolid[] {
  const figuresAt = figuresOf(study).flatMap((figure) => {
    projectPoint(lens, sample, worldOf(study, carrierOf(figure)).position, 3 * sample, seen, 0);
    return Number.isNaN(seen[0]) ? [] : [seen[2]];
  });
  const nearest = Math.min(...figuresAt);
  return drawablesOf(study, solidsOf(study))
    .filter(({ solid }) => isVisible(study, solid.node, sample))
    .flatMap((drawable) => solidIn(lens, drawable, sample, nearest, inColours ? study : null))
    .sort((a, b) => b.depth - a.depth);
}

function solidIn(
  lens: Lens,
  { solid, paths }: Drawable,
  sample: number,
  figure: number,
  coloured: Study | null,
): SeenSolid[] {
  const points: Point[] = [];
  let [width, depth] = [0, 0];
  for (const path of paths) {
    projectPoint(lens, sample, path, 3 * sample, seen, 0);
    if (Number.isNaN(seen[0])) return [];
    points.push([seen[0] * placesHigh, -seen[1] * placesHigh]);
    width += (2 * solid.radius * seen[3] * placesHigh) / paths.length;
    depth += seen[2] / paths.length;
  }
  const colour = coloured === null ? noColour : colourOf(coloured, solid.node)[sample];
  const isFigure = solid.figure >= 0;
  const isBehind = !isFigure && depth > figure;
  return [{ points, width, depth, isFigure, isBehind, colour, isBox: solid.radius === 0 }];
}

function drawnSolid({ points, width, isBox, isBehind, colour }: SeenSolid): string {
  const behind = isBehind ? " behind" : "";
  if (isBox) {
    const attributes = { class: `squint-box${behind}`, style: styleOf("fill", colour) };
    return element("path", { ...attributes, d: `${through(hull(points))}Z` });
  }
  const ends = points.length === 1 ? [points[0], points[0]] : points;
  const attributes = { class: `squint${behind}`, style: styleOf("stroke", colour) };
  return element("path", { ...attributes, "stroke-width": width, d: through(ends) });
}

function styleOf(what: "fill" | "stroke", colour: Colour): string | undefined {
  return colour === noColour ? undefined : `${what}:${writtenColour(colour)}`;
}

/** The first of the noted frames at which a colour or what is seen is another; the middle one where none is. */
function changeIn(study: Study, { from, to }: Span): number {
  const nodes = [...new Set(solidsOf(study).map(({ node }) => node))];
  const background = backgroundOf(study);
  for (let i = from + 1; i <= to; i++) {
    const isOther = nodes.some(
      (node) =>
        colourOf(study, node)[i] !== colourOf(study, node)[from] ||
        isVisible(study, node, i) !== isVisible(study, node, from),
    );
    if (isOther || background[i] !== background[from]) return i;
  }
  return Math.round((from + to) / 2);
}

/** Room left around what is shown, as a share of its larger side. */
const room = 0.1;

/** The view box around solids that reach into the picture, as wide as the cell is for its height. */
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
