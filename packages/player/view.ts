import type { MotionCamera, MotionFigure } from "./motion.ts";
import type { Poses } from "./unpack.ts";

/** A point as it is seen: to the right, upwards, away from whoever looks, and pixels per metre there. */
export interface Seen {
  x: number;
  y: number;
  depth: number;
  scale: number;
}

/** A point to be written into. */
export function noPoint(): Seen {
  return { x: 0, y: 0, depth: 0, scale: 1 };
}

/** From where a shot is looked at. {@link aim} is called once a frame, {@link see} for each point of it. */
export interface View {
  aim(poses: Poses, sample: number, width: number, height: number): void;
  /** Writes where a point is seen, in pixels from the picture's upper left; false where it is behind whoever looks. */
  see(x: number, y: number, z: number, seen: Seen): boolean;
  /**
   * Writes which place is seen at a pixel, on the plane through a place that faces whoever looks; false where there is
   * none. {@link aim} comes before it, as before `see`.
   */
  placeAt(x: number, y: number, through: Place, place: Place): boolean;
  /** Writes the way in which it is looked, of length 1. */
  facing(way: Place): void;
}

/** A place or a way in the world: x, y and z, metres. */
export type Place = [number, number, number];

/** Nearer than this to the camera, in metres, nothing is drawn. */
const nearest = 0.01;

/** Through the shot's own camera, its picture as large as fits. */
export class CameraView implements View {
  private readonly camera: MotionCamera;
  private readonly axes = new Float64Array(12);
  /** Of the picture at the frame that is aimed at. */
  private lens: Pick<MotionCamera, "fieldOfView" | "extent" | "aspect">;
  private scale = 1;
  private isFlat = false;
  private centre = [0, 0];

  constructor(camera: MotionCamera) {
    this.camera = camera;
    this.lens = camera;
  }

  /** Width and height of the camera's picture within a space. */
  fit(width: number, height: number): readonly [number, number] {
    const { aspect } = this.lens;
    return width > height * aspect ? [height * aspect, height] : [width, width / aspect];
  }

  /** Whether a camera holds at the frame that is aimed at. */
  get holds(): boolean {
    return this.lens.fieldOfView > 0 || this.lens.extent !== undefined;
  }

  aim({ at, count }: Poses, sample: number, width: number, height: number): void {
    const { at: eye, ahead, above, lenses } = this.camera;
    const { axes } = this;
    const of = (point: number, axis: number) => at[(3 * point + axis) * count + sample];
    for (let k = 0; k < 3; k++) {
      axes[k] = of(eye, k);
      axes[3 + k] = of(ahead, k) - axes[k];
      axes[6 + k] = of(above, k) - axes[k];
    }
    const [fx, fy, fz, ux, uy, uz] = axes.subarray(3, 9);
    axes[9] = fy * uz - fz * uy;
    axes[10] = fz * ux - fx * uz;
    axes[11] = fx * uy - fy * ux;
    this.lens = lenses?.findLast(({ from }) => from <= sample) ?? this.camera;
    const { fieldOfView, extent } = this.lens;
    const [, high] = this.fit(width, height);
    this.isFlat = extent !== undefined;
    this.scale = high / (extent ?? 2 * Math.tan((Math.min(fieldOfView, 179) * Math.PI) / 360));
    this.centre = [width / 2, height / 2];
  }

  see(x: number, y: number, z: number, seen: Seen): boolean {
    const { axes, scale, centre } = this;
    const [dx, dy, dz] = [x - axes[0], y - axes[1], z - axes[2]];
    const depth = dx * axes[3] + dy * axes[4] + dz * axes[5];
    if (depth < (this.isFlat ? 0 : nearest) || !this.holds) return false;
    seen.scale = this.isFlat ? scale : scale / depth;
    seen.x = centre[0] + (dx * axes[9] + dy * axes[10] + dz * axes[11]) * seen.scale;
    seen.y = centre[1] - (dx * axes[6] + dy * axes[7] + dz * axes[8]) * seen.scale;
    seen.depth = depth;
    return true;
  }

  placeAt(x: number, y: number, through: Place, place: Place): boolean {
    const { axes, scale, centre } = this;
    const depth =
      (through[0] - axes[0]) * axes[3] + (through[1] - axes[1]) * axes[4] + (through[2] - axes[2]) * axes[5];
    if (depth < (this.isFlat ? 0 : nearest) || !this.holds) return false;
    const across = this.isFlat ? 1 : depth;
    const [right, up] = [((x - centre[0]) * across) / scale, ((centre[1] - y) * across) / scale];
    for (let k = 0; k < 3; k++) {
      place[k] = axes[k] + depth * axes[3 + k] + right * axes[9 + k] + up * axes[6 + k];
    }
    return true;
  }

  facing(way: Place): void {
    for (let k = 0; k < 3; k++) way[k] = this.axes[3 + k];
  }
}

/** Around what is looked at, without perspective, so that lengths can be compared. */
export class AroundView implements View {
  /** Radians to the right of the z axis, and above the ground. */
  turn = 0;
  tilt = 0.12;
  /** Metres of height that the picture shows. */
  height = 2.4;
  /** Point that is kept in the middle; −1 where the picture stays. */
  follows = -1;
  /** The middle of the picture where it stays. */
  readonly middle: [number, number, number] = [0, 0, 0];
  private readonly axes = new Float64Array(9);
  private readonly centre = [0, 0, 0, 0, 0];
  private scale = 1;

  aim({ at, count }: Poses, sample: number, width: number, height: number): void {
    const [c, s, ct, st] = [
      Math.cos(this.turn),
      Math.sin(this.turn),
      Math.cos(this.tilt),
      Math.sin(this.tilt),
    ];
    this.axes.set([c, 0, -s, -s * st, ct, -c * st, s * ct, st, c * ct]);
    // A figure that jumps is followed over the ground, and seen to rise.
    for (let k = 0; k < 3; k++) {
      const isCarried = this.follows >= 0 && k !== 1;
      this.centre[k] = this.middle[k] + (isCarried ? at[(3 * this.follows + k) * count + sample] : 0);
    }
    this.centre[3] = width / 2;
    this.centre[4] = height / 2;
    this.scale = height / this.height;
  }

  see(x: number, y: number, z: number, seen: Seen): boolean {
    const { axes, centre, scale } = this;
    const [dx, dy, dz] = [x - centre[0], y - centre[1], z - centre[2]];
    seen.x = centre[3] + scale * (dx * axes[0] + dy * axes[1] + dz * axes[2]);
    seen.y = centre[4] - scale * (dx * axes[3] + dy * axes[4] + dz * axes[5]);
    seen.depth = -(dx * axes[6] + dy * axes[7] + dz * axes[8]);
    seen.scale = scale;
    return true;
  }

  placeAt(x: number, y: number, through: Place, place: Place): boolean {
    const { axes, centre, scale } = this;
    const [right, up] = [(x - centre[3]) / scale, (centre[4] - y) / scale];
    let near = 0;
    for (let k = 0; k < 3; k++) near += (through[k] - centre[k]) * axes[6 + k];
    for (let k = 0; k < 3; k++) {
      place[k] = centre[k] + right * axes[k] + up * axes[3 + k] + near * axes[6 + k];
    }
    return true;
  }

  facing(way: Place): void {
    for (let k = 0; k < 3; k++) way[k] = -this.axes[6 + k];
  }

  /**
   * Sets the picture so that it holds the figures over some frames, in each of several motions.
   * @param width of the picture over its height
   */
  frame(
    motions: readonly Poses[],
    figures: readonly MotionFigure[],
    [from, to]: readonly [number, number],
    width: number,
  ) {
    const [c, s, ct, st] = [
      Math.cos(this.turn),
      Math.sin(this.turn),
      Math.cos(this.tilt),
      Math.sin(this.tilt),
    ];
    let [left, right, low, high, near, far] = [Infinity, -Infinity, Infinity, -Infinity, Infinity, -Infinity];
    const isFollowing = this.follows >= 0;
    const shown = motions.flatMap(({ at, count }) => figures.map(({ bones }) => ({ at, count, bones })));
    for (const { at, count, bones } of shown) {
      for (let i = from; i <= to; i++) {
        const ox = isFollowing ? at[3 * this.follows * count + i] : 0;
        const oz = isFollowing ? at[(3 * this.follows + 2) * count + i] : 0;
        for (const [a, b, radius] of bones) {
          for (const point of [a, b]) {
            const [x, y, z] = [
              at[3 * point * count + i] - ox,
              at[(3 * point + 1) * count + i],
              at[(3 * point + 2) * count + i] - oz,
            ];
            const across = x * c - z * s;
            const deep = x * s + z * c;
            left = Math.min(left, across - radius);
            right = Math.max(right, across + radius);
            low = Math.min(low, y - radius);
            high = Math.max(high, y + radius);
            near = Math.min(near, deep);
            far = Math.max(far, deep);
          }
        }
      }
    }
    if (right < left) return;
    const [across, deep] = [(left + right) / 2, (near + far) / 2];
    this.middle[0] = across * c + deep * s;
    this.middle[1] = (low + high) / 2;
    this.middle[2] = deep * c - across * s;
    const tall = (high - low) * ct + (far - near) * Math.abs(st);
    this.height = Math.max(0.05, 1.15 * Math.max(tall, (right - left) / width));
  }
}

/** The turn from which a way over the ground spreads most, and runs from left to right. */
export function bestTurn({ at, count }: Poses, point: number, [from, to]: readonly [number, number]): number {
  const [px, pz] = [3 * point * count, (3 * point + 2) * count];
  const frames = to - from + 1;
  let [mx, mz] = [0, 0];
  for (let i = from; i <= to; i++) {
    mx += at[px + i] / frames;
    mz += at[pz + i] / frames;
  }
  let [xx, xz, zz] = [0, 0, 0];
  for (let i = from; i <= to; i++) {
    const [x, z] = [at[px + i] - mx, at[pz + i] - mz];
    xx += x * x;
    xz += x * z;
    zz += z * z;
  }
  let angle = Math.atan2(2 * xz, xx - zz) / 2;
  const along =
    (at[px + to] - at[px + from]) * Math.cos(angle) + (at[pz + to] - at[pz + from]) * Math.sin(angle);
  if (along < 0) angle += Math.PI;
  return -angle;
}
