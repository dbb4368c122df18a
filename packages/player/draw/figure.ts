import type { MotionFigure } from "../motion.ts";
import type { Poses } from "../unpack.ts";
import { noPoint, type Seen, type View } from "../view.ts";
import type { Palette } from "./colours.ts";

/** Thinnest capsule in a picture, pixels: thinner ones cannot be seen. */
const thinnest = 1.6;

/** A figure made ready for drawing: nothing is made anew while it plays. */
export class DrawnFigure {
  readonly figure: MotionFigure;
  /** Indices of the bones of each limb. */
  private readonly limbs: readonly (readonly number[])[];
  private readonly order: number[];
  private readonly depth: Float64Array;
  /** Both ends of each bone and its width, in pixels. */
  private readonly lines: Float64Array;
  private readonly seen: readonly [Seen, Seen] = [noPoint(), noPoint()];
  /** 1 for each bone that is not seen at the frame that was placed last. */
  private readonly isHidden: Uint8Array;

  constructor(figure: MotionFigure) {
    this.figure = figure;
    const limbs: number[][] = [];
    figure.bones.forEach(([, , , limb], n) => {
      limbs[limb] ??= [];
      limbs[limb].push(n);
    });
    this.limbs = limbs.filter((limb) => limb !== undefined);
    this.order = this.limbs.map((_, n) => n);
    this.depth = new Float64Array(this.limbs.length);
    this.lines = new Float64Array(5 * figure.bones.length);
    this.isHidden = new Uint8Array(figure.bones.length);
  }

  /** Where the bones are seen; false where one is behind whoever looks. */
  private place({ at, count }: Poses, sample: number, view: View): boolean {
    const { bones } = this.figure;
    const { lines, limbs, depth, seen } = this;
    for (const { bones: some, seen: stretches } of this.figure.hidden ?? []) {
      const isSeen = stretches.some(([from, to]) => from <= sample && sample <= to);
      for (const bone of some) this.isHidden[bone] = isSeen ? 0 : 1;
    }
    for (let n = 0; n < limbs.length; n++) {
      let sum = 0;
      for (const bone of limbs[n]) {
        const [from, to, radius] = bones[bone];
        for (let end = 0; end < 2; end++) {
          const place = 3 * (end === 0 ? from : to) * count + sample;
          if (!view.see(at[place], at[place + count], at[place + 2 * count], seen[end])) return false;
          lines[5 * bone + 2 * end] = seen[end].x;
          lines[5 * bone + 2 * end + 1] = seen[end].y;
        }
        lines[5 * bone + 4] = Math.max(thinnest, radius * (seen[0].scale + seen[1].scale));
        sum += seen[0].depth + seen[1].depth;
      }
      depth[n] = sum / limbs[n].length;
    }
    return true;
  }

  /** Draws the figure as capsules, limb by limb, the farthest first; what starts at marked points is dark. */
  solid(
    pen: CanvasRenderingContext2D,
    poses: Poses,
    sample: number,
    view: View,
    palette: Palette,
    marked: ReadonlySet<number>,
  ): void {
    if (!this.place(poses, sample, view)) return;
    const { lines, limbs, depth } = this;
    this.order.sort((p, q) => depth[q] - depth[p]);
    pen.lineCap = "round";
    for (const n of this.order) {
      for (const isRim of [true, false]) {
        for (const bone of limbs[n]) {
          if (this.isHidden[bone] === 1) continue;
          const isMarked = marked.has(this.figure.bones[bone][0]);
          pen.strokeStyle = isRim ? palette["--soft"] : isMarked ? palette["--dark"] : palette["--flesh"];
          pen.lineWidth = lines[5 * bone + 4] + (isRim ? 2 : 0);
          line(pen, lines, 5 * bone);
        }
      }
    }
  }

  /** Draws the figure as one flat dark shape. */
  flat(pen: CanvasRenderingContext2D, poses: Poses, sample: number, view: View, palette: Palette): void {
    if (!this.place(poses, sample, view)) return;
    pen.lineCap = "round";
    pen.strokeStyle = palette["--ink"];
    for (let n = 0; n < this.figure.bones.length; n++) {
      if (this.isHidden[n] === 1) continue;
      pen.lineWidth = this.lines[5 * n + 4];
      line(pen, this.lines, 5 * n);
    }
  }

  /**
   * How far a pixel is from the bone that is seen nearest to it, and the point at which that bone starts.
   * @returns null where the figure is not seen
   */
  nearest(
    poses: Poses,
    sample: number,
    view: View,
    x: number,
    y: number,
  ): { readonly point: number; readonly away: number } | null {
    if (!this.place(poses, sample, view)) return null;
    let found: { point: number; away: number } | null = null;
    this.figure.bones.forEach(([from], n) => {
      if (this.isHidden[n] === 1) return;
      const [ax, ay, bx, by, width] = this.lines.subarray(5 * n, 5 * n + 5);
      const square = (bx - ax) ** 2 + (by - ay) ** 2;
      const along = square === 0 ? 0 : ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / square;
      const part = Math.min(1, Math.max(0, along));
      const away = Math.hypot(x - ax - part * (bx - ax), y - ay - part * (by - ay)) - width / 2;
      if (found === null || away < found.away) found = { point: from, away };
    });
    return found;
  }

  /** Draws the figure as thin lines: how it stands at another frame, or after a fix. */
  thin(pen: CanvasRenderingContext2D, poses: Poses, sample: number, view: View, width: number): void {
    if (!this.place(poses, sample, view)) return;
    pen.lineCap = "round";
    pen.lineWidth = width;
    pen.beginPath();
    for (let n = 0; n < this.figure.bones.length; n++) {
      if (this.isHidden[n] === 1) continue;
      pen.moveTo(this.lines[5 * n], this.lines[5 * n + 1]);
      pen.lineTo(this.lines[5 * n + 2], this.lines[5 * n + 3]);
    }
    pen.stroke();
  }
}

function line(pen: CanvasRenderingContext2D, lines: Float64Array, at: number): void {
  pen.beginPath();
  pen.moveTo(lines[at], lines[at + 1]);
  pen.lineTo(lines[at + 2], lines[at + 3]);
  pen.stroke();
}
