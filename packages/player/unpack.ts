import type { Motion, MotionFix } from "./motion.ts";
import { fromBytes } from "./packed.ts";

/** Where points are: x, y and z of each, a number a frame: `at[(3 * point + axis) * count + sample]`, metres. */
export interface Poses {
  readonly at: Float32Array;
  readonly count: number;
}

/** The bytes of a base64 text that holds a raw deflate stream (RFC 1951). */
export async function inflated(text: string): Promise<Uint8Array> {
  const packed = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/**
 * The poses of a shot.
 * @throws Error where what is packed is not what the motion says that it is
 */
export async function posesOf({ poses, points, count, grain }: Motion): Promise<Poses> {
  return { at: fromBytes(await inflated(poses), 3 * points * count, count, grain), count };
}

/**
 * The poses after a fix.
 * @throws Error where what is packed is not what the fix says that it is
 */
export async function posesAfter(before: Poses, { points, from, to, moves }: MotionFix, grain: number) {
  const frames = to - from + 1;
  const moved = fromBytes(await inflated(moves), 3 * points.length * frames, frames, grain);
  const at = before.at.slice();
  points.forEach((point, n) => {
    for (let axis = 0; axis < 3; axis++) {
      const place = (3 * point + axis) * before.count + from;
      for (let i = 0; i < frames; i++) at[place + i] += moved[(3 * n + axis) * frames + i];
    }
  });
  return { at, count: before.count } satisfies Poses;
}
