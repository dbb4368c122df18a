import { deflateRawSync } from "node:zlib";
import { figuresOf, gridOf, type Note, type Study, sampleAt } from "@keyside/core";
import { checkIn, groundOf, settingsOf } from "@keyside/core/internal";
import type { Motion, MotionFix, MotionHidden, MotionNote } from "@keyside/player/motion";
import { farthest, toBytes } from "@keyside/player/packed";
import { type Body, bodyOf } from "./draw/body.ts";
import type { Points } from "./points.ts";
import { cameraOf, edgesOf, stretchesSeen, thingsOf } from "./scenery.ts";
import { subjectOf } from "./subject.ts";

/** Places that lie closer than this part of the first figure's stature are one: a third of a millimetre for a person. */
const grainOfStature = 1 / 5000;
/** Without figures, metres. */
const usualGrain = 1 / 3000;
/** A plane that leans no more than this is drawn as level ground: a cosine, 1°. */
const level = 0.99985;

/** What is drawn of a shot, whatever its notes are; its points are among `points` afterwards. */
export type Drawn = Omit<Motion, "points" | "poses" | "notes">;

export function drawnOf(study: Study, name: string, points: Points): Drawn {
  const bodies = figuresOf(study).map((_, figure) => bodyOf(study, figure));
  const grid = gridOf(study);
  const figures = bodies.map((body) => figureOf(study, body, points));
  const camera = cameraOf(study, points);
  const things = thingsOf(study, points);
  const edges = edgesOf(study, points);
  const ground = groundOf(study);
  return {
    format: "keyside.motion",
    version: 1,
    name,
    rate: grid.rate,
    firstFrame: grid.frames[0],
    frameStep: grid.count < 2 ? 1 : grid.frames[1] - grid.frames[0],
    count: grid.count,
    grain: bodies[0] === undefined ? usualGrain : bodies[0].stature * grainOfStature,
    figures,
    things,
    ...(edges.length === 0 ? {} : { edges }),
    ground: ground.normal[1] > level ? ground.height : null,
    camera,
  };
}

function figureOf(
  study: Study,
  { figure, stature, bones, root }: Body,
  points: Points,
): Motion["figures"][number] {
  const limbs = [...new Set(bones.map(({ limb }) => limb))];
  const hidden = hiddenOf(study, bones);
  return {
    id: figure.id,
    root: points.of(root),
    stature: rounded(stature),
    bones: bones.map(({ from, to, radius, limb }) => [
      points.of(from),
      points.of(to),
      rounded(radius),
      limbs.indexOf(limb),
    ]),
    ...(hidden.length === 0 ? {} : { hidden }),
  };
}

/** Bones that are not seen all through: those of one visibility together. */
function hiddenOf(study: Study, bones: Body["bones"]): MotionHidden[] {
  const byStretches = new Map<string, { bones: number[]; seen: readonly (readonly [number, number])[] }>();
  bones.forEach(({ from }, n) => {
    const seen = stretchesSeen(study, from);
    if (seen === null) return;
    const key = seen.join();
    const group = byStretches.get(key);
    if (group === undefined) byStretches.set(key, { bones: [n], seen });
    else group.bones.push(n);
  });
  return [...byStretches.values()];
}

/** What is shown of a note that speaks of frames and of something that moves; null for any other. */
export function shownOf(
  study: Study,
  note: Note,
  points: Points,
): Pick<MotionNote, "from" | "to" | "point" | "marked"> | null {
  const check = checkIn(settingsOf(study), note.check);
  if (check === undefined) return null;
  const grid = gridOf(study);
  const [from, to] = note.frames.map((frame) => sampleAt(grid, frame));
  const subject = subjectOf(study, note, check, { from, to });
  if (subject === null) return null;
  const { node, arm, marked } = subject;
  return {
    from,
    to,
    point: arm === null ? points.of(node) : points.at(node, arm),
    marked: [...marked].map((index) => points.of(index)),
  };
}

/** What a change does to the motion: the points that move by more than a grain, over the frames on which any does. */
export function moveOf(
  title: string,
  study: Study,
  changed: Study,
  { series }: Points,
  grain: number,
): MotionFix | null {
  let [from, to] = [Number.POSITIVE_INFINITY, -1];
  const points: number[] = [];
  const moves: Float64Array[] = [];
  series.forEach(({ on }, point) => {
    const after = on(changed);
    const move = Float64Array.from(on(study), (place, k) => after[k] - place);
    const isMoved = (way: number) => Math.abs(way) > grain / 2;
    const first = move.findIndex(isMoved);
    if (first < 0) return;
    from = Math.min(from, Math.floor(first / 3));
    to = Math.max(to, Math.floor(move.findLastIndex(isMoved) / 3));
    points.push(point);
    moves.push(move);
  });
  if (points.length === 0) return null;
  const within = moves.map((move) => move.subarray(3 * from, 3 * to + 3));
  return { title, points, from, to, moves: packed(within, to - from + 1, grain) };
}

/** Paths (x, y, z of each frame) as the player unpacks them. */
export function packed(paths: readonly Float64Array[], count: number, grain: number): string {
  const series = new Float64Array(3 * count * paths.length);
  const edge = farthest * grain;
  paths.forEach((path, n) => {
    for (let axis = 0; axis < 3; axis++) {
      for (let i = 0; i < count; i++) {
        const place = path[3 * i + axis];
        // What lies beyond all measure is drawn at the edge of what can be drawn.
        series[(3 * n + axis) * count + i] = place >= -edge ? Math.min(place, edge) : place < 0 ? -edge : 0;
      }
    }
  });
  return deflateRawSync(toBytes(series, count, grain), { level: 9 }).toString("base64");
}

/** Tenths of a millimetre are all that can be seen. */
function rounded(metres: number): number {
  return Math.round(metres * 1e4) / 1e4;
}
