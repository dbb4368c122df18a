// @ts-check
/**
 * What can be wrong with what a camera shows, measured on poses.
 * @import { Body, Figure, Poses, View } from "../types.d.ts"
 */
import { rotate, subtract } from "../../../../demo/motion/vector.mjs";
import { endOf } from "../faults/tools/limbs.mjs";
import { handRadius, shareOfHandOutside } from "./flesh.mjs";
import { pictureOf } from "./lens.mjs";

/** Arms that have a shoulder, an elbow and a hand: indices of limbs. @param {Body} body */
export const armsOf = ({ limbs }) =>
  limbs.flatMap((limb, n) => (limb.kind === "arm" && limb.joints.length >= 3 ? [n] : []));

/** Shoulder, elbow and wrist of an arm. @param {Body} body @param {number} limb */
export function armJoints(body, limb) {
  const { joints } = body.limbs[limb];
  const end = joints.indexOf(endOf(body.limbs[limb]));
  return [joints[end - 2], joints[end - 1], joints[end]];
}

/** Whether an arm hangs: the elbow under the shoulder, the hand well under the elbow. @param {Poses} poses @param {Body} body
 * @param {number} limb @param {number} frame */
export function hangs(poses, body, limb, frame) {
  const [a, b, c] = armJoints(body, limb).map((id) => poses.position(id, frame));
  return a[1] > b[1] && b[1] - c[1] > 0.87 * Math.hypot(...subtract(c, b));
}

/** The share of a hand that stands out. @param {Poses} poses @param {View} view @param {Body} body @param {number} limb @param {number} frame */
export const handOutside = (poses, view, body, limb, frame) =>
  shareOfHandOutside(poses, body, limb, frame, pictureOf(poses, view, frame));

/** The share of an arm's length that is seen. @param {Poses} poses @param {View} view @param {Body} body @param {number} limb @param {number} frame */
export function armSeen(poses, view, body, limb, frame) {
  const places = armJoints(body, limb).map((id) => poses.position(id, frame));
  const picture = pictureOf(poses, view, frame);
  const seen = places.map(picture);
  let [drawn, real] = [0, 0];
  for (const k of [1, 2]) {
    drawn += Math.hypot(seen[k].x - seen[k - 1].x, seen[k].y - seen[k - 1].y);
    real += Math.hypot(...subtract(places[k], places[k - 1]));
  }
  return drawn / (real * seen[1].scale);
}

/**
 * How far a point is inside of the picture, in picture heights: less than nothing where it is out, or behind the camera.
 * @param {Poses} poses @param {View} view @param {readonly number[]} point @param {number} frame
 */
export function inside(poses, view, point, frame) {
  const { x, y, depth } = pictureOf(poses, view, frame)(point);
  if (!(depth > 0)) return -1;
  return Math.min(view.aspect / 2 - Math.abs(x), 0.5 - Math.abs(y));
}

/** Half of a head's height, statures (Drillis and Contini 1966: 0.13; from memory). */
export const headRadius = 0.065;

/** The middle of a head. @param {Poses} poses @param {Body} body @param {number} frame */
export function headAt(poses, body, frame) {
  const head = /** @type {string} */ (body.head);
  return poses.point(head, [0, headRadius * body.stature, 0], frame);
}

/** The share of a head that an edge of the picture cuts: none where it is nearest to stands free. @param {Poses} poses @param {View} view
 * @param {Body} body @param {number} frame */
export function headCut(poses, view, body, frame) {
  const at = headAt(poses, body, frame);
  const { scale } = pictureOf(poses, view, frame)(at);
  const radius = headRadius * body.stature * scale;
  return (radius - inside(poses, view, at, frame)) / (2 * radius);
}

/** Degrees between where a face points and a target. Faces look along z in the rest pose. @param {Poses} poses @param {Body} body
 * @param {string} target @param {number} frame */
export function lookingPast(poses, body, target, frame) {
  const head = /** @type {string} */ (body.head);
  const ahead = rotate([...poses.orientation(head, frame)], [0, 0, 1]);
  const way = subtract(poses.position(target, frame), poses.position(head, frame));
  const cosine = (ahead[0] * way[0] + ahead[1] * way[1] + ahead[2] * way[2]) / (Math.hypot(...way) || 1);
  return (Math.acos(Math.max(-1, Math.min(1, cosine))) * 180) / Math.PI;
}

/** The longest stretch of samples in a list that are bad. @param {readonly boolean[]} bad */
function longest(bad) {
  let [most, now] = [0, 0];
  for (const one of bad) {
    now = one ? now + 1 : 0;
    most = Math.max(most, now);
  }
  return most;
}

/** Frames at 24 per second for which a hand may be lost, or an arm point at the lens, in a clean shot: half of what is barely seen. */
const passing = 6;

/**
 * Whether a shot is clean in its staging: everybody in the picture with some air, no raised hand lost and no arm at the lens for
 * longer than a passing movement takes.
 * @param {Poses} poses @param {View} view @param {readonly Figure[]} figures
 */
export function isStagedCleanly(poses, view, figures) {
  const { rate } = poses.performance;
  const step = Math.max(1, Math.round(rate / 12));
  const frames = [];
  for (let frame = poses.first; frame < poses.first + poses.count; frame += step) frames.push(frame);
  const most = (passing * rate) / 24 / step;
  return figures.every(({ body }) => {
    const air = 0.05;
    const isIn = frames.every((frame) =>
      body.joints.every(({ id }) => inside(poses, view, poses.position(id, frame), frame) > air / 2),
    );
    if (!isIn || (body.head !== null && frames.some((frame) => headCut(poses, view, body, frame) > -0.2)))
      return false;
    return armsOf(body).every((limb) => {
      const hand = armJoints(body, limb)[2];
      const isNear = frames.some((frame) => {
        const at = poses.position(hand, frame);
        const { scale } = pictureOf(poses, view, frame)(at);
        return inside(poses, view, at, frame) < air + handRadius * body.stature * scale;
      });
      if (isNear) return false;
      const lost = longest(
        frames.map(
          (frame) => !hangs(poses, body, limb, frame) && handOutside(poses, view, body, limb, frame) < 0.4,
        ),
      );
      const atLens = longest(frames.map((frame) => armSeen(poses, view, body, limb, frame) < 0.5));
      return lost <= most && atLens <= most;
    });
  });
}
