import type { Recompute } from "../shared/compare.ts";
import { distance, median, range, toDegrees } from "../shared/geometry.ts";
import { posesOf } from "../shared/paces.ts";

/**
 * Bend of the limb's middle joint at the frame that is named, less the mean of the bends a frame (at 24 per second)
 * before and after it. Or what is lost of the bend in the two frames before the last one that is marked. By the law of cosines from the distance of the limb's ends.
 */
export const recompute: Recompute = (note, shot) => {
  const middle = shot.nodeOf(note);
  const names: Readonly<Record<string, readonly [string, string]>> = {
    Shin: ["Thigh", "Foot"],
    Forearm: ["UpperArm", "Hand"],
  };
  const [, side, own] = /^(left|right)(.*)$/.exec(shot.partOf(middle)) ?? [];
  const [root, end] = names[own].map((name) => shot.part(middle, side + name));
  const [a, b] = [
    distance(shot.at(root, 0), shot.at(middle, 0)),
    distance(shot.at(middle, 0), shot.at(end, 0)),
  ];
  const bend = (i: number) => {
    const reach = distance(shot.at(root, i), shot.at(end, i));
    return Math.acos(Math.max(-1, Math.min(1, (reach * reach - a * a - b * b) / (2 * a * b))));
  };
  const poses = posesOf(shot, middle);
  const typical = median(range(1, poses.length - 1).map((k) => poses[k] - poses[k - 1]));
  const step = Math.max(1, Math.round(shot.rate / 24)) * typical;
  const [at] = shot.spanOf(note);
  if (note.measured.quantity === "bend lost in two frames") {
    const [, straight] = shot.spanOf(note);
    const before = straight - Math.max(step, (2 * shot.rate) / 24);
    const share = before - Math.floor(before);
    const bent = (1 - share) * bend(Math.floor(before)) + share * bend(Math.ceil(before));
    return toDegrees(bent - bend(straight));
  }
  return toDegrees(Math.abs(bend(at) - (bend(at - step) + bend(at + step)) / 2));
};
