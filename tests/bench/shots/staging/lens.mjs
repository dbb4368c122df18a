// @ts-check
/**
 * Where points are in the picture of a shot that is seen through a camera.
 * @import { Poses, Vector, View } from "../types.d.ts"
 */
import { inverse, rotate, subtract } from "../../../../demo/motion/vector.mjs";

/**
 * A point in the picture: to the right and upwards of its middle, in picture heights; depth along the line of sight, metres;
 * picture heights that a metre across the line of sight has there.
 * @typedef {{ x: number, y: number, depth: number, scale: number }} Seen
 */

/** Half of the picture's height at a depth, metres. @param {View} view @param {number} depth */
const halfHeight = ({ degrees, extent }, depth) =>
  degrees === null ? extent / 2 : depth * Math.tan((degrees * Math.PI) / 360);

/**
 * The picture of a frame.
 * @param {Poses} poses @param {View} view @param {number} frame
 * @returns {(point: readonly number[]) => Seen} points behind the camera have a depth of 0 or less, and are nowhere
 */
export function pictureOf(poses, view, frame) {
  const eye = poses.position(view.camera, frame);
  const back = inverse([...poses.orientation(view.camera, frame)]);
  return (point) => {
    const [x, y, z] = rotate(back, subtract([...point], eye));
    const depth = -z;
    const scale = depth > 0 || view.degrees === null ? 0.5 / halfHeight(view, depth) : Number.NaN;
    return { x: x * scale, y: y * scale, depth, scale };
  };
}

/** From a point to the camera, as far as its picture tells: for an orthographic camera the way back along its sight.
 * @param {Poses} poses @param {View} view @param {number} frame @param {readonly number[]} point @returns {Vector} of length one */
export function towardsCamera(poses, view, frame, point) {
  const way =
    view.degrees === null
      ? rotate([...poses.orientation(view.camera, frame)], [0, 0, 1])
      : subtract(poses.position(view.camera, frame), [...point]);
  const length = Math.hypot(...way) || 1;
  return [way[0] / length, way[1] / length, way[2] / length];
}
