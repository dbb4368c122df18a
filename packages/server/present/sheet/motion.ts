import { deflateRawSync } from "node:zlib";
import { figuresOf, gridOf, headerOf, rigOf, type Study, sampleAt, worldOf } from "@keyside/core";
import { checkIn, groundOf } from "@keyside/core/internal";
import type { Motion, MotionCamera, MotionFix, MotionNote } from "@keyside/player/motion";
import { toBytes } from "@keyside/player/packed";
import type { JudgedVersion } from "../../judge/shots/judged-version.ts";
import { type Body, bodyOf } from "./draw/body.ts";
import { armPath } from "./draw/swing.ts";
import type { SheetNote } from "./sheet.ts";
import { subjectOf } from "./subject.ts";

/** Places that lie closer than this part of the first figure's stature are one: a third of a millimetre for a person. */
const grainOfStature = 1 / 5000;
/** Without figures, metres. */
const usualGrain = 1 / 3000;
/** A plane that leans no more than this is drawn as level ground: a cosine, 1°. */
const level = 0.99985;

/**
 * A judged shot as the player takes it: what is drawn of it, and the notes that speak of frames.
 * @param fixedOf the shot after a note's fix; null where there is none
 */
export function motionOf(
  version: JudgedVersion,
  notes: readonly SheetNote[],
  fixedOf: (note: SheetNote) => Study | null,
): Motion {
  const { study, report } = version;
  const bodies = figuresOf(study).map((_, figure) => bodyOf(study, figure));
  const grid = gridOf(study);
  const grain = bodies[0] === undefined ? usualGrain : bodies[0].stature * grainOfStature;
  const points = new Points(study);
  const figures = bodies.map((body) => figureOf(body, points));
  const inFigures = new Set(bodies.flatMap(({ figure }) => figure.nodes));
  const { indexOf } = rigOf(study);
  const camera = cameraOf(study, points);
  const things = (headerOf(study).props ?? []).flatMap(({ node }) => {
    const index = indexOf.get(node);
    return index === undefined || inFigures.has(index) ? [] : [{ id: node, point: points.of(index) }];
  });
  const told = notes.flatMap((note) => noteOf(version, note, points) ?? []);
  const { series } = points;
  const ground = groundOf(study);
  return {
    format: "keyside.motion",
    version: 1,
    name: report.name,
    rate: grid.rate,
    firstFrame: grid.frames[0],
    frameStep: grid.count < 2 ? 1 : grid.frames[1] - grid.frames[0],
    count: grid.count,
    points: series.length,
    grain,
    poses: packed(
      series.map(({ path }) => path),
      grid.count,
      grain,
    ),
    figures,
    things,
    ground: ground.normal[1] > level ? ground.height : null,
    camera,
    notes: told.map(({ note, of }) => ({ ...note, fix: fixOf(of, fixedOf(of), series, grain) })),
  };
}

/** What moves: a node, or a point that is fixed to it. */
interface Series {
  readonly path: Float64Array;
  /** The same on another study of the shot. */
  on(study: Study): Float64Array;
}

/** The points of a motion, each once. */
class Points {
  readonly series: Series[] = [];
  private readonly study: Study;
  private readonly byNode = new Map<number, number>();

  constructor(study: Study) {
    this.study = study;
  }

  /** The point of a node, by its rig index. */
  of(node: number): number {
    let point = this.byNode.get(node);
    if (point === undefined) {
      point = this.add((study) => worldOf(study, node).position);
      this.byNode.set(node, point);
    }
    return point;
  }

  /** A point that has a path of its own. */
  add(on: (study: Study) => Float64Array): number {
    return this.series.push({ path: on(this.study), on }) - 1;
  }
}

function figureOf({ figure, stature, bones, root }: Body, points: Points): Motion["figures"][number] {
  const limbs = [...new Set(bones.map(({ limb }) => limb))];
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
  };
}

/** The first perspective camera whose node the document has; null where there is none. */
function cameraOf(study: Study, points: Points): MotionCamera | null {
  const { indexOf } = rigOf(study);
  for (const { id, node, verticalFieldOfView, aspect } of headerOf(study).cameras ?? []) {
    const index = indexOf.get(node);
    if (index === undefined || verticalFieldOfView === undefined) continue;
    return {
      id,
      at: points.of(index),
      ahead: points.add((of) => armPath(of, index, [0, 0, -1])),
      above: points.add((of) => armPath(of, index, [0, 1, 0])),
      fieldOfView: verticalFieldOfView,
      aspect: aspect ?? 16 / 9,
    };
  }
  return null;
}

interface Told {
  readonly note: Omit<MotionNote, "fix">;
  readonly of: SheetNote;
}

/** A note that speaks of frames and of something that moves; null for any other. */
function noteOf({ study, settings }: JudgedVersion, of: SheetNote, points: Points): Told | null {
  const { note, number, title, message, reported } = of;
  const check = note === null ? undefined : checkIn(settings, note.check);
  if (note === null || check === undefined) return null;
  const grid = gridOf(study);
  const [from, to] = note.frames.map((frame) => sampleAt(grid, frame));
  const subject = subjectOf(study, note, check, { from, to });
  if (subject === null) return null;
  const { node, arm, marked } = subject;
  return {
    note: {
      number,
      title,
      part: reported.part,
      tier: reported.tier,
      message,
      from,
      to,
      point: arm === null ? points.of(node) : points.add((study) => armPath(study, node, arm)),
      marked: [...marked].map((index) => points.of(index)),
    },
    of,
  };
}

/** What a fix moves: the points that move by more than a grain, over the frames on which any does. */
function fixOf(
  { fix }: SheetNote,
  fixed: Study | null,
  series: readonly Series[],
  grain: number,
): MotionFix | null {
  if (fix === null || fixed === null) return null;
  let [from, to] = [Number.POSITIVE_INFINITY, -1];
  const points: number[] = [];
  const moves: Float64Array[] = [];
  series.forEach(({ path, on }, point) => {
    const after = on(fixed);
    const move = Float64Array.from(path, (place, k) => after[k] - place);
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
  return { title: fix.title, points, from, to, moves: packed(within, to - from + 1, grain) };
}

/** Paths (x, y, z of each frame) as the player unpacks them. */
function packed(paths: readonly Float64Array[], count: number, grain: number): string {
  const series = new Float64Array(3 * count * paths.length);
  paths.forEach((path, n) => {
    for (let axis = 0; axis < 3; axis++) {
      for (let i = 0; i < count; i++) series[(3 * n + axis) * count + i] = path[3 * i + axis];
    }
  });
  return deflateRawSync(toBytes(series, count, grain), { level: 9 }).toString("base64");
}

/** Tenths of a millimetre are all that can be seen. */
function rounded(metres: number): number {
  return Math.round(metres * 1e4) / 1e4;
}
