import type { Recompute } from "../shared/compare.ts";
import { dot, range, size, sub, times, turned, type Vec } from "../shared/geometry.ts";
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
  const body = shownOf(shot, centre(i), times(sub(centre(i + 1), centre(i - 1)), shot.rate / 2), i);
  const speeds = limbs.map((node) => {
    const against = (k: number) => sub(shot.at(node, k), centre(k));
    return (shownOf(shot, shot.at(node, i), sub(against(i), against(i - 1)), i) * shot.rate) / 3;
  });
  return Math.min(10 * shot.stature(root), Math.max(body, ...speeds)) || body;
}

/** The length of a vector at a point: as the first camera shows it, across the line of sight, if there is one. */
function shownOf(shot: Sampled, at: Vec, vector: Vec, i: number): number {
  const [camera] = shot.shot.header.cameras ?? [];
  if (camera === undefined) return size(vector);
  const node = shot.node(camera.node);
  const isFlat = camera.verticalFieldOfView === undefined;
  const sight = isFlat ? turned(shot.turn(node, i), [0, 0, -1]) : sub(at, shot.at(node, i));
  const along = dot(vector, sight) / size(sight);
  return Math.sqrt(Math.max(0, size(vector) ** 2 - along ** 2));
}
