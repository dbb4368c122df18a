import type { Motion, MotionStrength } from "../motion.ts";
import type { Rendered } from "../rendered.ts";
import type { Poses } from "../unpack.ts";
import { type CameraView, noPoint, type View } from "../view.ts";
import type { Palette } from "./colours.ts";
import { DrawnFigure } from "./figure.ts";
import { drawPath } from "./path.ts";
import { drawRendered } from "./rendered.ts";
import { drawStrokes } from "./strokes.ts";
import { DrawnThings } from "./things.ts";

/** What is shown of a shot at a frame. */
export interface Shown {
  readonly poses: Poses;
  /** The poses to be compared with, drawn thin over the others; null for none. */
  readonly over: Poses | null;
  readonly sample: number;
  readonly note: MotionStrength | null;
  /** Frames before and after whose poses are drawn thin, and every which of them; 0 for none. */
  readonly ghosts: number;
  readonly hasPath: boolean;
  /** Whether what people drew is shown. */
  readonly hasStrokes: boolean;
  /** What lies beneath the figures where they are seen through the camera; null for nothing. */
  readonly rendered: Rendered | null;
  /** Whether all that has a shape is drawn flat and dark, as one sees it with eyes half shut. */
  readonly isSquint: boolean;
}

/** Where on a canvas: pixels from its upper left. */
export interface Place {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Seconds of a path that are drawn before and behind the noted frames. */
const pathMargin = 0.35;
/** Seconds of path where no note is chosen. */
const pathBeside = 0.5;
/** Seconds before and behind its frames in which a stroke is drawn pale. */
const strokesBeside = 0.25;
/** Ghosts on either side. */
const ghostCount = 3;
/** Metres by which a thing has to be moved by a fix for that to be drawn. */
const leastChange = 0.002;
/** Lines of the ground lie a metre apart, so many on either side. */
const groundLines = 12;

/** Draws a shot: ground, edges, path, ghosts, figures, things. */
export class Scene {
  private readonly motion: Motion;
  private readonly figures: readonly DrawnFigure[];
  private readonly things: DrawnThings;
  private readonly points = [noPoint(), noPoint()] as const;

  constructor(motion: Motion) {
    this.motion = motion;
    this.figures = motion.figures.map((figure) => new DrawnFigure(figure));
    this.things = new DrawnThings(motion);
  }

  draw(pen: CanvasRenderingContext2D, shown: Shown, view: View, place: Place, palette: Palette): void {
    const { poses, over, sample, note, isSquint } = shown;
    const ghosts = isSquint ? 0 : shown.ghosts;
    pen.save();
    pen.translate(place.left, place.top);
    pen.beginPath();
    pen.rect(0, 0, place.width, place.height);
    pen.clip();
    view.aim(poses, sample, place.width, place.height);
    if (shown.rendered !== null && isCamera(view)) this.beneath(pen, shown.rendered, view, place, palette);
    else if (!isSquint) this.ground(pen, view, poses, sample, palette);
    this.things.around(pen, poses, sample, view, palette);
    const span = this.pathSpan(note, sample);
    const point = note?.point ?? this.motion.figures[0]?.root ?? -1;
    const hasPath = shown.hasPath && point >= 0 && !isSquint;
    if (hasPath) {
      const style = { colour: palette["--path"], width: 1.3, dash: [], ticks: true };
      drawPath(pen, poses, point, span, view, style);
      if (note !== null) {
        drawPath(pen, poses, point, [note.from, note.to], view, { ...style, width: 3.2, ticks: false });
      }
    }
    for (let n = 1; ghosts > 0 && n <= ghostCount; n++) {
      for (const other of [sample - n * ghosts, sample + n * ghosts]) {
        if (other < 0 || other >= this.motion.count) continue;
        pen.globalAlpha = 0.75 - 0.18 * n;
        // What was is solid, what will be is dashed.
        pen.setLineDash(other < sample ? [] : [5, 4]);
        pen.strokeStyle = palette["--soft"];
        for (const figure of this.figures) figure.thin(pen, poses, other, view, 1.2);
      }
    }
    pen.setLineDash([]);
    pen.globalAlpha = 1;
    const marked = new Set(note?.marked ?? []);
    const depth = this.depthOf(poses, sample, view);
    this.things.solid(pen, poses, sample, view, palette, isSquint, { areBehind: true, depth });
    for (const figure of this.figures) {
      if (isSquint) figure.flat(pen, poses, sample, view, palette);
      else figure.solid(pen, poses, sample, view, palette, marked);
    }
    this.things.solid(pen, poses, sample, view, palette, isSquint, { areBehind: false, depth });
    if (over !== null) {
      pen.strokeStyle = palette["--after"];
      pen.setLineDash([6, 3]);
      for (const figure of this.figures) figure.thin(pen, over, sample, view, 2);
      this.things.outline(pen, over, poses, sample, view, leastChange);
      if (hasPath) {
        const style = { colour: palette["--after"], width: 1.8, dash: [6, 3], ticks: false };
        drawPath(pen, over, point, span, view, style);
      }
      pen.setLineDash([]);
    }
    if (shown.hasStrokes && this.motion.strokes !== undefined) {
      drawStrokes(pen, this.motion.strokes, sample, strokesBeside * this.motion.rate, view, palette);
    }
    if (isCamera(view)) this.edge(pen, view, place, palette);
    pen.restore();
  }

  /**
   * The point at which the bone that is seen nearest to a pixel starts.
   * @param within pixels beyond which nothing is near
   */
  pointAt(poses: Poses, sample: number, view: View, x: number, y: number, within: number): number | null {
    let [point, least]: [number | null, number] = [null, within];
    for (const figure of this.figures) {
      const near = figure.nearest(poses, sample, view, x, y);
      if (near !== null && near.away < least) [point, least] = [near.point, near.away];
    }
    const near = this.things.nearest(poses, sample, view, x, y);
    return near !== null && near.away < least ? near.point : point;
  }

  /** How far away the first figure is; what lies farther is drawn behind the figures. */
  private depthOf({ at, count }: Poses, sample: number, view: View): number {
    const root = this.motion.figures[0]?.root;
    const [seen] = this.points;
    if (root === undefined) return Number.POSITIVE_INFINITY;
    const place = 3 * root * count + sample;
    const isSeen = view.see(at[place], at[place + count], at[place + 2 * count], seen);
    return isSeen ? seen.depth : Number.POSITIVE_INFINITY;
  }

  private pathSpan(note: MotionStrength | null, sample: number): readonly [number, number] {
    const { count, rate } = this.motion;
    const margin = Math.max(3, Math.round((note === null ? pathBeside : pathMargin) * rate));
    const [from, to] = note === null ? [sample, sample] : [note.from, note.to];
    return [Math.max(0, from - margin), Math.min(count - 1, to + margin)];
  }

  /** Lines on the ground around the first figure, at whole metres, so that what goes on is seen to go. */
  private ground(pen: CanvasRenderingContext2D, view: View, poses: Poses, sample: number, palette: Palette) {
    const { ground, figures } = this.motion;
    const root = figures[0]?.root;
    if (ground === null || root === undefined) return;
    const step = 10 ** Math.floor(Math.log10(Math.max(0.1, figures[0].stature)));
    const { at, count } = poses;
    const [x, z] = [0, 2].map((axis) => step * Math.round(at[(3 * root + axis) * count + sample] / step));
    const [a, b] = this.points;
    const reach = groundLines * step;
    pen.strokeStyle = palette["--faint"];
    pen.lineWidth = 1;
    pen.beginPath();
    for (let n = -groundLines; n <= groundLines; n++) {
      const at = n * step;
      const ends = [
        [x + at, z - reach, x + at, z + reach],
        [x - reach, z + at, x + reach, z + at],
      ];
      for (const [ax, az, bx, bz] of ends) {
        if (!view.see(ax, ground, az, a) || !view.see(bx, ground, bz, b)) continue;
        pen.moveTo(a.x, a.y);
        pen.lineTo(b.x, b.y);
      }
    }
    pen.stroke();
  }

  private beneath(
    pen: CanvasRenderingContext2D,
    rendered: Rendered,
    view: CameraView,
    place: Place,
    palette: Palette,
  ) {
    const [width, height] = view.fit(place.width, place.height);
    const within = { left: (place.width - width) / 2, top: (place.height - height) / 2, width, height };
    drawRendered(pen, rendered, within, palette);
  }

  /** The edge of the camera's picture; words where there is none. */
  private edge(pen: CanvasRenderingContext2D, view: CameraView, { width, height }: Place, palette: Palette) {
    const [wide, high] = view.fit(width, height);
    if (!view.holds) {
      pen.fillStyle = palette["--soft"];
      pen.font = "14px system-ui, sans-serif";
      pen.textAlign = "center";
      pen.fillText("no camera sees this frame", width / 2, height / 2, width);
      return;
    }
    pen.strokeStyle = palette["--soft"];
    pen.lineWidth = 1;
    pen.strokeRect((width - wide) / 2 + 0.5, (height - high) / 2 + 0.5, wide - 1, high - 1);
  }
}

function isCamera(view: View): view is CameraView {
  return "fit" in view;
}
