import { bonesOf } from "@keyside/core/internal";
import { inverse, sub, turned, type Vec } from "./geometry.ts";
import type { Sampled } from "./sampled.ts";

/** A point as the camera sees it: picture heights to the right and upwards of the middle, metres away. */
export interface Seen {
  readonly x: number;
  readonly y: number;
  readonly depth: number;
  /** Picture heights a metre across the line of sight. */
  readonly scale: number;
}

/** What the first camera of a shot sees of a point in the world; its field of view, or the height of its picture, stays. */
export function seen(shot: Sampled, point: Vec, i: number): Seen {
  const camera = cameraOf(shot);
  const node = shot.node(camera.node);
  const [x, y, z] = turned(inverse(shot.turn(node, i)), sub(point, shot.at(node, i)));
  const { verticalFieldOfView, verticalExtent = 0 } = camera;
  const height =
    verticalFieldOfView === undefined
      ? verticalExtent * shot.metresPerUnit
      : 2 * -z * Math.tan((verticalFieldOfView * Math.PI) / 360);
  const scale = 1 / height;
  return { x: x * scale, y: y * scale, depth: -z, scale };
}

export function aspectOf(shot: Sampled): number {
  return cameraOf(shot).aspect ?? 16 / 9;
}

/** Axes of the camera in the world: where it looks, to its right, upwards. */
export function sight(shot: Sampled, i: number): readonly [Vec, Vec, Vec] {
  const turn = shot.turn(shot.node(cameraOf(shot).node), i);
  return [turned(turn, [0, 0, -1]), turned(turn, [1, 0, 0]), turned(turn, [0, 1, 0])];
}

function cameraOf(shot: Sampled) {
  const [camera] = shot.shot.header.cameras ?? [];
  if (camera === undefined) throw new Error("no camera");
  return camera;
}

/** A capsule in the picture: two discs, x, y, radius. */
export type Capsule = readonly (readonly [number, number, number])[];

/** The capsules on the bones of a figure at a sample, each with the node at which it starts. */
export function capsules(
  shot: Sampled,
  figure: number,
  i: number,
): readonly { from: number; capsule: Capsule }[] {
  return bonesOf(shot.whole, figure).map(({ from, to, radius }) => ({
    from,
    capsule: [from, to].map((node) => {
      const { x, y, scale } = seen(shot, shot.at(node, i), i);
      return [x, y, radius * scale] as const;
    }),
  }));
}

/** Whether a point of the picture lies in the hull of two discs: the least over the discs between them. */
export function isWithin([px, py]: readonly [number, number], [a, b]: Capsule): boolean {
  const [dx, dy, dr] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  // The distance to the disc at t less its radius is least where its slope is 0: a quadratic, but try it plainly.
  let [lo, hi] = [0, 1];
  const off = (t: number) => Math.hypot(px - a[0] - t * dx, py - a[1] - t * dy) - a[2] - t * dr;
  for (let n = 0; n < 60; n++) {
    const [one, other] = [lo + (hi - lo) / 3, hi - (hi - lo) / 3];
    if (off(one) < off(other)) hi = other;
    else lo = one;
  }
  return Math.min(off(0), off(1), off((lo + hi) / 2)) <= 0;
}

/** Whether a node is another one or hangs below it. */
export function isBelow(shot: Sampled, top: number, node: number): boolean {
  for (let at = node; at >= 0; at = shot.rig.parent[at]) if (at === top) return true;
  return false;
}
