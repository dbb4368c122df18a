/**
 * Where a fault is seen, worked out from the motion with the fault in it and from the figure's build as the bases have
 * it: nothing of a check is used here. Lengths are the bases' centimetres.
 */
import { foot, massCentre, stateAt } from "../../../../demo/motion/biped.mjs";
import { nodeIn, poseOf } from "../../../../demo/motion/skeleton.mjs";
import { add, length, rotate, subtract } from "../../../../demo/motion/vector.mjs";
import { nameOf } from "../keyed.mjs";

/** World poses of a base with some curves changed, by frame; each is worked out once. */
export function posesWith(base, changed) {
  const { nodes } = base.shot.header;
  const curves = new Map(base.curves);
  for (const curve of changed) curves.set(nameOf(curve), curve);
  const all = [...curves.values()];
  const known = new Map();
  return (frame) => {
    let world = known.get(frame);
    if (world === undefined) {
      const { angles, places } = stateAt(nodes, all, frame);
      world = poseOf(nodes, angles, places);
      known.set(frame, world);
    }
    return world;
  };
}

/** Where a node is in a pose. */
export const placeIn = (world, id) => nodeIn(world, id).position;

/** First and last frame, around one at which something holds, up to which it holds without a break. */
export function stretchAround(frame, [first, last], holds) {
  let [from, to] = [frame, frame];
  while (from > first && holds(from - 1)) from--;
  while (to < last && holds(to + 1)) to++;
  return { from, to };
}

/**
 * First and last frame of a move around one of its frames: those between which steps hold, each named by the frame to
 * which it leads, with pauses of up to some steps.
 */
export function stepsAround(frame, [first, last], holds, pause) {
  const near = (f, way) => {
    for (let k = 0; k <= pause; k++)
      if (f + way * k > first && f + way * k <= last && holds(f + way * k)) return true;
    return false;
  };
  let [from, to] = [frame, frame];
  while (near(from, -1)) from--;
  while (near(to + 1, 1)) to++;
  return { from, to };
}

/** How far a hand goes against the chest in the frame that leads to one. */
export function handStep(poses, frame, side) {
  const [before, now] = [frame - 1, frame].map((f) => {
    const chest = nodeIn(poses(f), "chest");
    const [x, y, z, w] = chest.orientation;
    return rotate([-x, -y, -z, w], subtract(placeIn(poses(f), `hand_${side}`), chest.position));
  });
  return length(subtract(now, before));
}

/**
 * How high a foot's sole is over where it stands in a pose in which it lies flat: its lowest point, under the ankle, the
 * ball or the end of the toes.
 */
export function soleOver(flat, side) {
  const points = ["foot", "toe", "toe_end"].map((part) => `${part}_${side}`);
  return (world) => Math.min(...points.map((id) => placeIn(world, id)[1] - placeIn(flat, id)[1]));
}

/** How far a leg leans forward over its foot, in degrees: from the ankle to the joint of the hip, along the foot. */
export function leanOver(world, side) {
  const [ankle, ball, hip] = ["foot", "toe", "thigh"].map((part) => placeIn(world, `${part}_${side}`));
  const [x, z] = [ball[0] - ankle[0], ball[2] - ankle[2]];
  const ahead = ((hip[0] - ankle[0]) * x + (hip[2] - ankle[2]) * z) / Math.hypot(x, z);
  return (Math.atan2(ahead, hip[1] - ankle[1]) * 180) / Math.PI;
}

/** How far a point lies outside the outline of some points on the ground (x and z), negative inside. */
function outsideOf(points, [x, , z]) {
  let most = Number.NEGATIVE_INFINITY;
  for (let degree = 0; degree < 360; degree++) {
    const [a, b] = [Math.cos((degree * Math.PI) / 180), Math.sin((degree * Math.PI) / 180)];
    const reach = Math.max(...points.map((point) => a * point[0] + b * point[2]));
    most = Math.max(most, a * x + b * z - reach);
  }
  return most;
}

const gravity = 981;

/**
 * How far outside its feet, from heels to ends of the toes, a figure that stands on both of them is held on one side at
 * a frame: the place of its mass, or the one at which the ground would have to press to move it as it moves, whichever
 * is farther out. The push is taken over two frames either way, since no single frame shows one.
 * @param {number} rate frames per second @param {1 | -1} side 1: to its left, +x
 */
export function heldOutside(poses, frame, rate, side) {
  const [before, now, after] = [frame - 2, frame, frame + 2].map((f) => massCentre(poses(f)));
  const pushed = now.map((value, axis) => ((before[axis] - 2 * value + after[axis]) * rate * rate) / 4);
  const pressed = now.map((value, axis) => value - (now[1] * pushed[axis]) / (gravity + pushed[1]));
  const feet = ["l", "r"].flatMap((letter) => {
    const { position, orientation } = nodeIn(poses(frame), `foot_${letter}`);
    return [add(position, rotate(orientation, foot.heel)), placeIn(poses(frame), `toe_end_${letter}`)];
  });
  const outside = [now, pressed].filter(([x]) => x * side > 0).map((point) => outsideOf(feet, point));
  return Math.max(Number.NEGATIVE_INFINITY, ...outside);
}
