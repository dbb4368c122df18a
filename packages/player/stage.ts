import { type Palette, paletteOf } from "./draw/colours.ts";
import { drawRendered } from "./draw/rendered.ts";
import { type Place, Scene, type Shown } from "./draw/scene.ts";
import type { Motion } from "./motion.ts";
import type { Poses } from "./unpack.ts";
import { AroundView, bestTurn, CameraView, type View } from "./view.ts";

/**
 * From where a shot is seen, and in words. The best side is that from which the way of what is looked at spreads most,
 * from left to right.
 */
export const fromNames = {
  camera: "the camera",
  squint: "the camera, eyes half shut",
  side: "the best side",
  across: "square to that side",
  above: "above",
  turned: "where it is dragged",
  rendered: "the rendered frames alone",
} as const;
export type From = keyof typeof fromNames;

/** How a shot is looked at. */
export interface Look {
  readonly from: From;
  /** Times the size at which all that is played can be seen. */
  readonly size: number;
  /** Whether the first figure stays in the middle. */
  readonly isFollowing: boolean;
  /** Frames that the picture is to hold. */
  readonly frames: readonly [number, number];
}

/** A motion after a change, and how it is held against the one before. */
export interface Compared {
  readonly after: Poses;
  readonly showing: "after" | "over" | "beside";
}

/** A figure that goes farther than so many statures is stayed with, unless somebody chose otherwise. */
const farAway = 3;
/** Radians of turn for each pixel that is dragged, and how far one can look down or up. */
const turnPerPixel = 0.01;
const mostTilt = 1.55;
/** From slightly above, as a standing reviewer sees a figure. */
const usualTilt = 0.12;

/** Pixels within which a part is under the pointer. */
const nearEnough = 40;

/** The picture of a motion on a canvas. */
export class Stage {
  private readonly motion: Motion;
  private readonly poses: Poses;
  private readonly scene: Scene;
  private readonly camera: CameraView | null;
  private around = new AroundView();
  /** What the view around was last set for. */
  private setFor = "";
  private setAfter: Poses | null = null;
  /** What was drawn last, and from where; null before anything was. */
  private last: {
    readonly shown: Shown;
    readonly view: View;
    readonly width: number;
    readonly height: number;
  } | null = null;

  constructor(motion: Motion, poses: Poses) {
    this.motion = motion;
    this.poses = poses;
    this.scene = new Scene(motion);
    this.camera = motion.camera === null ? null : new CameraView(motion.camera);
  }

  /** The stage of the same shot after a change; it is seen from where this one is. */
  revised(motion: Motion, poses: Poses): Stage {
    const stage = new Stage(motion, poses);
    [stage.around, stage.setFor, stage.setAfter] = [this.around, this.setFor, this.setAfter];
    // What was drawn is aimed at again with the poses of then, until it is drawn anew.
    stage.last = this.last;
    return stage;
  }

  /** Whether the first figure goes so far that it is better stayed with. */
  get goesFar(): boolean {
    const [figure] = this.motion.figures;
    return figure !== undefined && wayOf(this.poses, figure.root) > farAway * figure.stature;
  }

  /** Turns the view around by so many dragged pixels. */
  turn(right: number, down: number): void {
    this.around.turn -= right * turnPerPixel;
    this.around.tilt = Math.min(mostTilt, Math.max(-mostTilt, this.around.tilt + down * turnPerPixel));
  }

  /** The view of what was drawn last, aimed as it was then; null where nothing was. */
  view(): View | null {
    if (this.last === null) return null;
    const { shown, view, width, height } = this.last;
    view.aim(shown.poses, shown.sample, width, height);
    return view;
  }

  /** The point of the part that is seen at a pixel, or nearest to it; null where none is near. */
  pointAt(x: number, y: number): number | null {
    const view = this.view();
    if (view === null || this.last === null) return null;
    const { shown } = this.last;
    return this.scene.pointAt(shown.poses, shown.sample, view, x, y, nearEnough);
  }

  /**
   * @param probe see `paletteOf`
   * @param over draws over the picture
   */
  draw(
    canvas: HTMLCanvasElement,
    probe: HTMLElement,
    what: Omit<Shown, "poses" | "over" | "isSquint">,
    look: Look,
    compared: Compared | null,
    over: (pen: CanvasRenderingContext2D, view: View, palette: Palette) => void = () => {},
  ): void {
    const pen = canvas.getContext("2d");
    const [width, height] = [canvas.clientWidth, canvas.clientHeight];
    if (pen === null || width === 0 || height === 0) return;
    const dots = devicePixelRatio || 1;
    const [across, down] = [Math.round(width * dots), Math.round(height * dots)];
    if (canvas.width !== across || canvas.height !== down) [canvas.width, canvas.height] = [across, down];
    pen.setTransform(dots, 0, 0, dots, 0, 0);
    pen.clearRect(0, 0, width, height);
    const palette = paletteOf(probe);
    if (look.from === "rendered") {
      this.last = null;
      drawRendered(pen, what.rendered ?? "none", { left: 0, top: 0, width, height }, palette);
      return;
    }
    const isBeside = compared?.showing === "beside";
    const place: Place = { left: 0, top: 0, width: isBeside ? width / 2 : width, height };
    const view = this.viewFor(look, what.note?.point, place, compared?.after ?? null);
    const shown: Shown = {
      ...what,
      poses: compared?.showing === "after" ? compared.after : this.poses,
      over: compared?.showing === "over" ? compared.after : null,
      isSquint: look.from === "squint",
    };
    this.scene.draw(pen, shown, view, place, palette);
    over(pen, view, palette);
    this.last = { shown, view, width: place.width, height: place.height };
    if (!isBeside) return;
    this.scene.draw(pen, { ...shown, poses: compared.after }, view, { ...place, left: width / 2 }, palette);
  }

  private viewFor(
    { from, size, isFollowing, frames }: Look,
    noted: number | undefined,
    place: Place,
    after: Poses | null,
  ): View {
    if ((from === "camera" || from === "squint") && this.camera !== null) return this.camera;
    const { around, poses } = this;
    const { figures } = this.motion;
    const point = noted ?? figures[0]?.root;
    const aspect = place.width / place.height;
    const wanted = [from, size, isFollowing, frames, point, aspect, around.turn, around.tilt].join();
    if (wanted === this.setFor && after === this.setAfter) return around;
    this.setAfter = after;
    around.follows = isFollowing ? (figures[0]?.root ?? -1) : -1;
    if (from !== "turned") {
      const side = point === undefined ? 0 : bestTurn(poses, point, frames);
      around.turn = from === "across" ? side + Math.PI / 2 : side;
      around.tilt = from === "above" ? mostTilt : usualTilt;
    }
    around.frame(after === null ? [poses] : [poses, after], figures, frames, aspect);
    around.height /= size;
    this.setFor = [from, size, isFollowing, frames, point, aspect, around.turn, around.tilt].join();
    return around;
  }
}

/** The longest way of a point over the ground from where it begins. */
function wayOf({ at, count }: Poses, point: number): number {
  let most = 0;
  const [x, z] = [3 * point * count, (3 * point + 2) * count];
  for (let i = 0; i < count; i++) most = Math.max(most, Math.hypot(at[x + i] - at[x], at[z + i] - at[z]));
  return most;
}
