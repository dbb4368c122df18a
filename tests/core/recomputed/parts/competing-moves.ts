import type { Recompute } from "../shared/compare.ts";
import { distance, range, size, sub, times } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

/**
 * Frames between the moments that are marked, at which two figures show the most: the speed of the centre of mass, or a
 * third of that of a hand or a foot against it. NaN where they do not.
 */
export const recompute: Recompute = (note, shot) => {
  const [from, to] = shot.spanOf(note);
  const own = shot.figureOf(shot.nodeOf(note));
  const others = range(0, shot.figures.length - 1).filter((figure) => figure !== own);
  const peaks = (figure: number, i: number) => {
    const here = shownBy(shot, figure, i);
    return here >= shownBy(shot, figure, i - 1) && here > shownBy(shot, figure, i + 1);
  };
  const isSo = others.some(
    (other) => (peaks(own, from) && peaks(other, to)) || (peaks(own, to) && peaks(other, from)),
  );
  return isSo ? to - from : Number.NaN;
};

function shownBy(shot: Sampled, figure: number, i: number): number {
  const centre = (k: number) => shot.massCentre(figure, k);
  const { parts, root } = shot.figures[figure];
  const ends = ["leftHand", "rightHand", "leftFoot", "rightFoot"] as const;
  const limbs = ends.flatMap((part) => parts.get(part)?.slice(0, 1) ?? []);
  const body = size(times(sub(centre(i + 1), centre(i - 1)), shot.rate / 2));
  const speeds = limbs.map((node) => {
    const against = (k: number) => sub(shot.at(node, k), centre(k));
    return (distance(against(i - 1), against(i)) * shot.rate) / 3;
  });
  return Math.min(10 * shot.stature(root), Math.max(body, ...speeds)) || body;
}
