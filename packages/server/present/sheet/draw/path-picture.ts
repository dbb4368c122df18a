import { gridOf, type Study } from "@keyside/core";
import { type Box, element, label, meet, niceStep, type Point, picture, through } from "../../text/svg.ts";
import { type Body, drawnPose, isBeside, poseOf } from "./body.ts";
import { locator } from "./locator.ts";
import { endArrow, framedBy, scaleBar } from "./path-marks.ts";
import type { Path } from "./path-of.ts";
import type { Placing } from "./placing.ts";
import { drawnEdges, drawnThing, thingsAt } from "./things.ts";
import type { Span, View } from "./view.ts";

/** What a path's picture shows. */
export interface PathInput {
  readonly study: Study;
  readonly name: string;
  readonly path: Path;
  /** The path on the fixed shot; null where there is none. */
  readonly fixed: Path | null;
  /** A second path that goes with it; null for none. */
  readonly second: Path | null;
  readonly view: View;
  /** Judged frames that are drawn, and among them those that are noted. */
  readonly span: Span;
  readonly noted: Span;
  /** Judged frames at which causing keys stand. */
  readonly keys: readonly number[];
  /** The body that stands behind the path, at the middle of the noted frames; null for none. */
  readonly body: Body | null;
  readonly marked: ReadonlySet<number>;
  readonly size: { readonly width: number; readonly height: number };
}

const margin = 30;
/** Smallest extent that is drawn, in body heights: a path that stands still is a dot, not a blown-up tremble. */
const leastExtent = 0.02;

/** A point of a path in the picture, with the judged frame at which it is. */
interface Spot {
  readonly sample: number;
  readonly at: Point;
}

/**
 * The part's path as a reviewer draws it: one tick per judged frame, so that spacing shows, frame numbers, the noted
 * frames thick, the causing keys as diamonds, and dashed where the path runs after the fix.
 */
export function pathPicture(input: PathInput): string {
  const { study, fixed, second, view, span, noted, size } = input;
  const { frames } = gridOf(study);
  const own = seenPath(input.path, view, span);
  const after = fixed === null ? [] : seenPath(fixed, view, span);
  const other = second === null ? [] : seenPath(second, view, span);
  const placing = placingFor([...own, ...after, ...other], input);
  const onPage = (list: readonly Spot[]) => list.map(({ sample, at }) => ({ sample, at: placing.place(at) }));
  const [drawn, drawnAfter, drawnOther] = [onPage(own), onPage(after), onPage(other)];
  const parts: string[] = [...framedBy(view, placing, size)];
  const isClose =
    input.body !== null && placing.scale * input.body.stature * scaleAt(input) > closeUp * size.height;
  if (!isClose) parts.push(...ghost(input, placing));
  if (drawnOther.length > 0) parts.push(...secondPath(drawnOther));
  const moved = movedStretches(drawn, drawnAfter);
  const isMoved = moved.length > 0;
  parts.push(element("path", { class: "trail", d: through(drawn.map(({ at }) => at)) }));
  const thick = drawn.filter(({ sample }) => sample >= noted.from && sample <= noted.to);
  // A single noted frame is a stretch on both sides of it.
  const stretch = thick.length > 1 ? thick : drawn.filter(({ sample }) => Math.abs(sample - noted.from) <= 1);
  parts.push(element("path", { class: "trail noted", d: through(stretch.map(({ at }) => at)) }));
  parts.push(...ticks(drawn, noted));
  for (const stretch of moved) parts.push(...fixedPath(stretch, noted));
  parts.push(...endArrow(drawn.map(({ at }) => at)));
  const taken: Box[] = [];
  if (isClose) parts.push(locatedBy(input, [...drawn, ...drawnAfter, ...drawnOther], taken));
  for (const sample of input.keys) parts.push(...diamond(drawn, sample));
  parts.push(...numbers(drawn, frames, noted, size, taken));
  parts.push(...scaleBar(view, placing, size));
  const name = `Path of ${input.name} ${view.name}, one tick per frame, frames ${number(frames[span.from])} to ${number(frames[span.to])}`;
  return picture(size.width, size.height, isMoved ? `${name}, and after the fix` : name, ...parts);
}

/** Where the figure would be so many times as tall as the picture, it is drawn small, with a ring, in a corner. */
const closeUp = 2.5;

/** Length in the view of a metre at the noted frames. */
function scaleAt({ view, path, noted }: PathInput): number {
  return view.see(path, 3 * noted.from, noted.from)?.scale ?? 1;
}

/** The whole figure in the corner where the fewest points are, the part ringed. */
function locatedBy(input: PathInput, spots: readonly Spot[], taken: Box[]): string {
  const { study, body, view, path, noted, size } = input;
  const pose = body === null ? null : poseOf(study, body, view, middle(noted));
  const seen = view.see(path, 3 * middle(noted), middle(noted));
  if (pose === null || seen === null) return "";
  const drawn = locator(
    pose,
    [seen.x, seen.y],
    input.marked,
    size,
    spots.map(({ at }) => at),
    thingsAt(study, view, middle(noted)).filter((thing) => isBeside(thing, pose)),
  );
  taken.push(drawn.box);
  return drawn.svg;
}

function middle({ from, to }: Span): number {
  return Math.round((from + to) / 2);
}

function seenPath(path: Path, view: View, { from, to }: Span): Spot[] {
  const spots: Spot[] = [];
  for (let sample = from; sample <= to; sample++) {
    const seen = view.see(path, 3 * sample, sample);
    if (seen !== null) spots.push({ sample, at: [seen.x, seen.y] });
  }
  return spots;
}

/** Fits the paths into the picture. */
function placingFor(spots: readonly Spot[], input: PathInput): Placing {
  const { body, size } = input;
  const xs = spots.map(({ at }) => at[0]);
  const ys = spots.map(({ at }) => at[1]);
  const [left, right] = spots.length === 0 ? [0, 0] : [Math.min(...xs), Math.max(...xs)];
  const [low, high] = spots.length === 0 ? [0, 0] : [Math.min(...ys), Math.max(...ys)];
  const least = leastExtent * (body?.stature ?? 1) * scaleAt(input);
  const scale = Math.min(
    (size.width - 2 * margin) / Math.max(right - left, least),
    (size.height - 2 * margin) / Math.max(high - low, least),
  );
  const [cx, cy] = [(left + right) / 2, (low + high) / 2];
  return {
    scale,
    place: ([x, y]) => [size.width / 2 + (x - cx) * scale, size.height / 2 - (y - cy) * scale],
  };
}

/** The body behind the path, pale, with the things and the edges around it. */
function ghost({ study, body, view, noted, marked }: PathInput, placing: Placing): string[] {
  const sample = middle(noted);
  const things = thingsAt(study, view, sample);
  const pose = body === null ? null : poseOf(study, body, view, sample);
  const drawn =
    pose === null
      ? things.map((thing) => drawnThing(thing, placing))
      : [drawnPose(pose, placing, marked, things)];
  const edges = drawnEdges(study, view, sample, placing);
  return drawn.length + edges.length === 0 ? [] : [element("g", { class: "ghost" }, ...edges, ...drawn)];
}

/** Direction square to a path at one of its spots. */
function squareTo(spots: readonly Spot[], i: number): Point {
  const [ax, ay] = spots[Math.max(0, i - 1)].at;
  const [bx, by] = spots[Math.min(spots.length - 1, i + 1)].at;
  const length = Math.hypot(bx - ax, by - ay);
  return length < 0.3 ? [0, 1] : [-(by - ay) / length, (bx - ax) / length];
}

function ticks(spots: readonly Spot[], noted: Span): string[] {
  return spots.map(({ sample, at: [x, y] }, i) => {
    const [nx, ny] = squareTo(spots, i);
    const isNoted = sample >= noted.from && sample <= noted.to;
    const half = isNoted ? 7 : 4.5;
    const ends = { x1: x - nx * half, y1: y - ny * half, x2: x + nx * half, y2: y + ny * half };
    return element("line", { class: isNoted ? "tick noted" : "tick", ...ends });
  });
}

function secondPath(spots: readonly Spot[]): string[] {
  return [
    element("path", { class: "trail second", d: through(spots.map(({ at }) => at)) }),
    ...spots.map(({ at: [x, y] }) => element("circle", { class: "second-dot", cx: x, cy: y, r: 1.8 })),
  ];
}

/** The stretches over which a path runs elsewhere than another, by as much as can be seen, with a frame beside them. */
function movedStretches(before: readonly Spot[], after: readonly Spot[]): Spot[][] {
  const least = 1.2;
  const was = new Map(before.map(({ sample, at }) => [sample, at]));
  const isMoved = after.map(({ sample, at }) => {
    const old = was.get(sample);
    return old === undefined || Math.hypot(at[0] - old[0], at[1] - old[1]) > least;
  });
  const stretches: Spot[][] = [];
  after.forEach((spot, i) => {
    if (!isMoved[i] && isMoved[i - 1] !== true && isMoved[i + 1] !== true) return;
    const last = stretches.at(-1);
    if (last !== undefined && last.at(-1)?.sample === spot.sample - 1) last.push(spot);
    else stretches.push([spot]);
  });
  return stretches.filter((stretch) => stretch.length > 1);
}

/** More dots than these hide the line that they stand on. */
const mostDots = 24;

function fixedPath(spots: readonly Spot[], noted: Span): string[] {
  const near = spots.filter(({ sample }) => sample >= noted.from - 1 && sample <= noted.to + 1);
  return [
    element("path", { class: "trail fixed", d: through(spots.map(({ at }) => at)) }),
    ...(near.length > mostDots ? [] : near).map(({ at: [x, y] }) =>
      element("circle", { class: "fixed-dot", cx: x, cy: y, r: 3 }),
    ),
  ];
}

function diamond(spots: readonly Spot[], sample: number): string[] {
  const spot = spots.find((one) => one.sample === sample);
  if (spot === undefined) return [];
  const [x, y] = spot.at;
  const r = 5.5;
  return [
    element("path", {
      class: "key",
      d: `${through([
        [x, y - r],
        [x + r, y],
        [x, y + r],
        [x - r, y],
      ])}Z`,
    }),
  ];
}

/** Frame numbers: of the noted frames first, then of the ends and of round numbers, as many as find room. */
function numbers(
  spots: readonly Spot[],
  frames: Float64Array,
  noted: Span,
  size: PathInput["size"],
  taken: Box[],
): string[] {
  const step = Math.max(2, niceStep(spots.length, 8));
  const isNoted = ({ sample }: Spot) => sample >= noted.from && sample <= noted.to;
  const rank = (spot: Spot, i: number) => {
    if (spot.sample === noted.from || spot.sample === noted.to) return 0;
    if (isNoted(spot) && noted.to - noted.from < 8) return 1;
    if (i === 0 || i === spots.length - 1) return 2;
    return Math.abs(frames[spot.sample] % step) < 1e-6 ? 3 : 4;
  };
  const order = spots.map((spot, i) => ({ spot, i, rank: rank(spot, i) })).filter((one) => one.rank < 4);
  order.sort((p, q) => p.rank - q.rank || p.i - q.i);
  return order.flatMap(({ spot, i, rank: r }) => {
    const words = number(frames[spot.sample]);
    const half = 3.4 * words.length + 2;
    const [nx, ny] = squareTo(spots, i);
    const upwards = ny <= 0 ? 1 : -1;
    for (const far of [19, 27, 36]) {
      for (const side of [upwards, -upwards]) {
        const x = spot.at[0] + nx * side * (far + Math.abs(nx) * half * 0.6);
        const y = spot.at[1] + ny * side * far;
        const box = { left: x - half, right: x + half, top: y - 7, bottom: y + 7 };
        if (box.left < 2 || box.right > size.width - 2 || box.top < 2 || box.bottom > size.height - 20)
          continue;
        if (taken.some((other) => meet(box, other)) || spots.some(({ at }) => isIn(at, box))) continue;
        taken.push(box);
        const attributes = { class: r < 2 ? "number noted" : "number", "text-anchor": "middle" };
        return [label(x, y + 4, words, attributes)];
      }
    }
    return [];
  });
}

function isIn([x, y]: Point, box: Box): boolean {
  return x > box.left - 2 && x < box.right + 2 && y > box.top - 2 && y < box.bottom + 2;
}

/** A frame's number as it is written. */
export function number(frame: number): string {
  return String(Math.round(frame * 100) / 100 + 0);
}
