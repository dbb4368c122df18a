import type { Recompute } from "../shared/compare.ts";
import { range } from "../shared/geometry.ts";
import { posesOf } from "../shared/paces.ts";
import { parabolaThrough } from "../shared/parabola.ts";

/** Of the parabola through the centre of mass, or the place of a thing, over the frames that are marked: its gravity, its drift, or its rest. */
export const recompute: Recompute = (note, shot) => {
  const [from, to] = shot.spanOf(note);
  const node = shot.nodeOf(note);
  // Of a thing, which is no figure's, its own place.
  const figure = shot.figureOf(node);
  const centre = (i: number) => (figure < 0 ? shot.at(node, i) : shot.massCentre(figure, i));
  const bend = (axis: 0 | 1 | 2) =>
    parabolaThrough(range(from, to).map((i) => [i * shot.dt, centre(i)[axis]])).bend;
  if (note.measured.quantity === "gravity of the flight") return -2 * bend(1);
  if (note.measured.unit === "m/s^2") return Math.hypot(2 * bend(0), 2 * bend(2));
  const poses = posesOf(shot, node).filter((i) => i >= from && i <= to);
  return parabolaThrough(poses.map((i) => [i * shot.dt, centre(i)[1]])).residual;
};
