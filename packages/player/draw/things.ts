import { boxFaces, type Motion, type MotionShape, type MotionThing } from "../motion.ts";
import type { Poses } from "../unpack.ts";
import { noPoint, type Seen, type View } from "../view.ts";

/** What of a canvas's pen things are drawn with. */
export interface Pen {
  strokeStyle: unknown;
  fillStyle: unknown;
  lineWidth: number;
  lineJoin: unknown;
  globalAlpha: number;
  beginPath(): void;
  closePath(): void;
  moveTo(x: number, y: number): void;
  lineTo(x: number, y: number): void;
  arc(x: number, y: number, radius: number, from: number, to: number): void;
  rect(x: number, y: number, width: number, height: number): void;
  fill(): void;
  stroke(): void;
}

/** Colours that things are drawn in. */
type Inks = Readonly<Record<"--ink" | "--soft" | "--faint" | "--paper", string>>;

/** Half of the side of the square that stands for what has no shape, pixels. */
const mark = 3;
/** Most corners of a shape: those of a box. */
const corners = 8;

/** What is drawn beside the figures, made ready: nothing is made anew while it plays. */
export class DrawnThings {
  private readonly things: readonly MotionThing[];
  private readonly edges: NonNullable<Motion["edges"]>;
  private readonly seen: Seen = noPoint();
  /** x, y and radius of each corner of a shape, pixels. */
  private readonly discs = new Float64Array(3 * corners);
  private readonly place = new Float64Array(3 * corners);

  constructor({ things, edges = [] }: Motion) {
    this.things = things;
    this.edges = edges;
  }

  /** Draws the edges of surfaces. */
  around(pen: Pen, poses: Poses, sample: number, view: View, palette: Inks): void {
    pen.strokeStyle = palette["--soft"];
    pen.lineWidth = 1;
    pen.lineJoin = "round";
    for (const { points } of this.edges) {
      pen.beginPath();
      if (points.every((point, n) => this.corner(pen, poses, sample, view, point, n === 0))) {
        pen.closePath();
        pen.stroke();
      }
    }
  }

  /**
   * Draws things: outlines with a pale filling. Flat where it is told: what is behind pale, the rest dark.
   * @param which those whose middle is farther away than a depth, or those that are not
   */
  solid(
    pen: Pen,
    poses: Poses,
    sample: number,
    view: View,
    palette: Inks,
    isFlat: boolean,
    which: { readonly areBehind: boolean; readonly depth: number },
  ): void {
    pen.lineJoin = "round";
    for (const thing of this.things) {
      if (
        !isSeen(thing, sample) ||
        this.isBehind(poses, sample, view, thing, which.depth) !== which.areBehind
      )
        continue;
      if (thing.shapes === undefined) {
        this.mark(pen, poses, sample, view, palette, thing.point);
        continue;
      }
      for (const shape of thing.shapes) {
        if (!this.look(poses, sample, view, shape)) continue;
        pen.beginPath();
        this.trace(pen, shape.points.length);
        const isDark = isFlat && !which.areBehind;
        pen.fillStyle = palette[isDark ? "--ink" : "--faint"];
        pen.strokeStyle = palette[isDark ? "--ink" : isFlat ? "--faint" : "--soft"];
        pen.globalAlpha = isFlat ? 1 : 0.6;
        pen.fill();
        pen.globalAlpha = 1;
        pen.lineWidth = 1;
        pen.stroke();
      }
    }
  }

  /** Draws outlines alone: where things stand after a fix. What has moved by less than can be seen is left out. */
  outline(pen: Pen, poses: Poses, before: Poses, sample: number, view: View, least: number): void {
    pen.lineWidth = 1.8;
    for (const thing of this.things) {
      if (!isSeen(thing, sample)) continue;
      for (const shape of thing.shapes ?? []) {
        if (!isMoved(shape, poses, before, sample, least) || !this.look(poses, sample, view, shape)) continue;
        pen.beginPath();
        this.trace(pen, shape.points.length);
        pen.stroke();
      }
    }
  }

  /**
   * How far a pixel is from the nearest of what is drawn, and the point of that thing.
   * @returns null where nothing is seen
   */
  nearest(
    poses: Poses,
    sample: number,
    view: View,
    x: number,
    y: number,
  ): { readonly point: number; readonly away: number } | null {
    let found: { point: number; away: number } | null = null;
    for (const thing of this.things) {
      if (!isSeen(thing, sample)) continue;
      const away = this.away(poses, sample, view, thing, x, y);
      if (found === null || away < found.away) found = { point: thing.point, away };
    }
    return found;
  }

  /** Pixels from a place to a thing: to its mark, or to the disc about the middle of a shape that holds all of it. */
  private away(poses: Poses, sample: number, view: View, thing: MotionThing, x: number, y: number): number {
    const { seen, discs } = this;
    if (thing.shapes === undefined)
      return this.see(poses, sample, view, thing.point)
        ? Math.hypot(seen.x - x, seen.y - y) - mark
        : Number.POSITIVE_INFINITY;
    let least = Number.POSITIVE_INFINITY;
    for (const shape of thing.shapes) {
      if (!this.look(poses, sample, view, shape)) continue;
      const count = shape.points.length === 4 ? corners : shape.points.length;
      let [mx, my, reach] = [0, 0, 0];
      for (let k = 0; k < count; k++) {
        mx += discs[3 * k] / count;
        my += discs[3 * k + 1] / count;
      }
      for (let k = 0; k < count; k++)
        reach = Math.max(reach, Math.hypot(discs[3 * k] - mx, discs[3 * k + 1] - my) + discs[3 * k + 2]);
      least = Math.min(least, Math.hypot(mx - x, my - y) - reach);
    }
    return least;
  }

  private see({ at, count }: Poses, sample: number, view: View, point: number): boolean {
    const place = 3 * point * count + sample;
    return view.see(at[place], at[place + count], at[place + 2 * count], this.seen);
  }

  /** Whether the middle of a thing, or its node where that is all that is known, is farther away than a depth. */
  private isBehind(poses: Poses, sample: number, view: View, thing: MotionThing, depth: number): boolean {
    let [sum, count] = [0, 0];
    for (const { points } of thing.shapes ?? []) {
      for (const point of points) {
        if (!this.see(poses, sample, view, point)) continue;
        sum += this.seen.depth;
        count++;
      }
    }
    if (count > 0) return sum / count > depth;
    return this.see(poses, sample, view, thing.point) && this.seen.depth > depth;
  }

  private corner(
    pen: Pen,
    poses: Poses,
    sample: number,
    view: View,
    point: number,
    isFirst: boolean,
  ): boolean {
    if (!this.see(poses, sample, view, point)) return false;
    if (isFirst) pen.moveTo(this.seen.x, this.seen.y);
    else pen.lineTo(this.seen.x, this.seen.y);
    return true;
  }

  private mark(pen: Pen, poses: Poses, sample: number, view: View, palette: Inks, point: number): void {
    if (!this.see(poses, sample, view, point)) return;
    pen.strokeStyle = palette["--ink"];
    pen.fillStyle = palette["--paper"];
    pen.lineWidth = 1.5;
    pen.beginPath();
    pen.rect(this.seen.x - mark, this.seen.y - mark, 2 * mark, 2 * mark);
    pen.fill();
    pen.stroke();
  }

  /** Finds the discs of a shape; false where it is not seen whole. */
  private look({ at, count }: Poses, sample: number, view: View, { points, radius }: MotionShape): boolean {
    const { place, discs, seen } = this;
    points.forEach((point, k) => {
      for (let axis = 0; axis < 3; axis++) place[3 * k + axis] = at[(3 * point + axis) * count + sample];
    });
    const all = points.length === 4 ? corners : points.length;
    if (all === corners) this.complete();
    for (let k = 0; k < all; k++) {
      if (!view.see(place[3 * k], place[3 * k + 1], place[3 * k + 2], seen)) return false;
      discs[3 * k] = seen.x;
      discs[3 * k + 1] = seen.y;
      discs[3 * k + 2] = radius * seen.scale;
    }
    return true;
  }

  /** Puts the eight corners of a box in the place of the four that are told. */
  private complete(): void {
    const { place } = this;
    for (let axis = 0; axis < 3; axis++) {
      const [o, x, y, z] = [place[axis], place[3 + axis], place[6 + axis], place[9 + axis]];
      for (let k = 0; k < corners; k++)
        place[3 * k + axis] = o + (k & 1 ? x - o : 0) + (k & 2 ? y - o : 0) + (k & 4 ? z - o : 0);
    }
  }

  /** Draws a path: the faces of a box that are seen, the way round a ball or a capsule. */
  private trace(pen: Pen, points: number): void {
    const { discs } = this;
    if (points === 4) {
      for (const face of boxFaces) if (this.isFacing(face)) this.traceFace(pen, face);
      return;
    }
    const [ax, ay, ar] = [discs[0], discs[1], discs[2]];
    const last = 3 * (points - 1);
    const [bx, by, br] = [discs[last], discs[last + 1], discs[last + 2]];
    const apart = Math.hypot(bx - ax, by - ay);
    if (apart <= Math.abs(ar - br)) {
      if (ar > br) pen.arc(ax, ay, ar, 0, 2 * Math.PI);
      else pen.arc(bx, by, br, 0, 2 * Math.PI);
      return;
    }
    const along = Math.atan2(by - ay, bx - ax);
    // Where a common tangent touches both.
    const aside = Math.acos((ar - br) / apart);
    pen.arc(ax, ay, ar, along + aside, along - aside);
    pen.arc(bx, by, br, along - aside, along + aside);
    pen.closePath();
  }

  private traceFace(pen: Pen, face: readonly number[]): void {
    face.forEach((k, n) => {
      if (n === 0) pen.moveTo(this.discs[3 * k], this.discs[3 * k + 1]);
      else pen.lineTo(this.discs[3 * k], this.discs[3 * k + 1]);
    });
    pen.closePath();
  }

  private isFacing(face: readonly number[]): boolean {
    const { discs } = this;
    let area = 0;
    for (let n = 0; n < face.length; n++) {
      const [a, b] = [3 * face[n], 3 * face[(n + 1) % face.length]];
      area += discs[a] * discs[b + 1] - discs[b] * discs[a + 1];
    }
    return area < 0;
  }
}

function isSeen({ seen }: MotionThing, sample: number): boolean {
  return seen === undefined || seen.some(([from, to]) => from <= sample && sample <= to);
}

function isMoved({ points }: MotionShape, a: Poses, b: Poses, sample: number, least: number): boolean {
  return points.some((point) => {
    let square = 0;
    for (let axis = 0; axis < 3; axis++) {
      const place = (3 * point + axis) * a.count + sample;
      square += (a.at[place] - b.at[place]) ** 2;
    }
    return square > least * least;
  });
}
