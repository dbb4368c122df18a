import type { Recompute } from "../shared/compare.ts";
import { inverse, product, type Quat, range } from "../shared/geometry.ts";

/** Tilt about the level axes that is left of a turn, degrees, when its part about the upright is taken out. */
function tiltOf(turn: Quat): readonly [number, number] {
  const length = Math.hypot(turn[1], turn[3]);
  const heading: Quat = [0, turn[1] / length, 0, turn[3] / length];
  const [x, , z, w] = product(inverse(heading), turn);
  const sine = Math.hypot(x, z);
  const share = sine < 1e-12 ? 0 : (2 * Math.atan2(sine, Math.abs(w)) * 180) / Math.PI / sine;
  return [Math.sign(w) * share * x, Math.sign(w) * share * z];
}

/**
 * For each pair of hips, chest and head the angle from the middle of the difference of their tilts that 95 of 100 frames
 * keep to; the largest.
 */
export const recompute: Recompute = (note, shot) => {
  const chest = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const tilts = [shot.hips(chest), chest, shot.part(chest, "head")].map((node) =>
    range(from, to).map((i) => tiltOf(product(shot.turn(node, i), inverse(shot.turn(node, from))))),
  );
  const apart = (a: number, b: number) => {
    const between = tilts[a].map((tilt, i) => [tilt[0] - tilts[b][i][0], tilt[1] - tilts[b][i][1]]);
    const sorted = (values: number[]) => values.sort((one, other) => one - other);
    const middle = [0, 1].map((k) => sorted(between.map((one) => one[k]))[between.length >> 1]);
    const off = sorted(between.map((one) => Math.hypot(one[0] - middle[0], one[1] - middle[1])));
    return off[Math.min(off.length - 1, Math.floor(0.95 * off.length))];
  };
  return Math.max(apart(1, 0), apart(2, 1), apart(2, 0));
};
