import { add, cross, dot, inverse, sub, times, turned, unit, type Vec } from "./geometry.ts";
import type { Sampled } from "./sampled.ts";

/**
 * Place of a node in axes that go with its chest: across (from the right shoulder to the left one), up along the chest,
 * forward; from the middle between the shoulders. The axes are taken in the first frame and carried by the chest.
 */
export function inBody(shot: Sampled, node: number): (sample: number) => Vec {
  const [left, right] = [shot.part(node, "leftUpperArm"), shot.part(node, "rightUpperArm")];
  const chest = shot.chest(node);
  const middle = (i: number) => times(add(shot.at(left, i), shot.at(right, i)), 0.5);
  const across = unit(sub(shot.at(left, 0), shot.at(right, 0)));
  let up = sub(middle(0), shot.at(chest, 0));
  if (Math.hypot(...up) < 1e-6) up = [0, 1, 0];
  up = unit(sub(up, times(across, dot(up, across))));
  const back = inverse(shot.turn(chest, 0));
  const axes = [across, up, cross(across, up)].map((axis) => turned(back, axis));
  return (i) => {
    const local = turned(inverse(shot.turn(chest, i)), sub(shot.at(node, i), middle(i)));
    return [dot(axes[0], local), dot(axes[1], local), dot(axes[2], local)];
  };
}
