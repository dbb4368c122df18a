import type { Recompute } from "../shared/compare.ts";
import { distance, median, range } from "../shared/geometry.ts";
import { posesOf } from "../shared/paces.ts";
import type { Sampled } from "../shared/sampled.ts";

const gravity = 9.80665;

/**
 * The median over the note's frames of how far outside of what carries the centre of mass or the zero-moment point is,
 * whichever is farther; or the largest friction that is needed. Both are means over two frames on either side.
 */
export const recompute: Recompute = (note, shot) => {
  const hips = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const demand = demandOf(shot, hips);
  if (note.measured.unit !== "m") return Math.max(...range(from, to).map(demand.friction));
  const figure = shot.figureOf(hips);
  return median(
    range(from, to).map((i) => {
      const hull = shot.hull(figure, i);
      const [x, , z] = shot.commonCentre(figure, i);
      const pressed = demand.pressedAt(i);
      const ways = [outside(hull, [x, z]), ...(pressed === null ? [] : [outside(hull, pressed)])];
      return hull.length === 0 ? 0 : Math.max(...ways);
    }),
  );
};

type Point = readonly [number, number];

function demandOf(shot: Sampled, hips: number) {
  const figure = shot.figureOf(hips);
  const poses = posesOf(shot, hips);
  const hold = median(range(1, poses.length - 1).map((k) => poses[k] - poses[k - 1]));
  const ground = Math.min(...shot.contacts(figure).map(({ surface }) => surface.height));
  const centre = (i: number) => shot.commonCentre(figure, i);
  // A pose that step keys hold, and that stands for longer than threes, is by itself.
  const held = shot.held(hips);
  const longest = Math.max(1, Math.floor((3 * shot.rate) / 24 + 0.01));
  const poseOf = (i: number): readonly [number, number] | null => {
    let [from, to] = [i, i];
    while (from > 0 && held[from]) from--;
    while (to + 1 < shot.count && held[to + 1]) to++;
    return to - from + 1 > longest ? [from, to] : null;
  };
  const acceleration = (i: number) => {
    if (poseOf(i) !== null) return [0, 0, 0];
    const at = Math.min(shot.count - 1 - hold, Math.max(hold, i));
    return [0, 1, 2].map(
      (k) => (centre(at + hold)[k] - 2 * centre(at)[k] + centre(at - hold)[k]) / (hold * shot.dt) ** 2,
    );
  };
  const reach = Math.max(1, Math.round(shot.rate / 12));
  const around = (i: number) => {
    const [from, to] = poseOf(i) ?? [0, shot.count - 1];
    return range(Math.max(from, i - reach), Math.min(to, i + reach));
  };
  return {
    pressedAt(i: number): Point | null {
      let [x, z, press] = [0, 0, 0];
      for (const k of around(i)) {
        const [ax, ay, az] = acceleration(k);
        const [cx, cy, cz] = centre(k);
        x += cx * (gravity + ay) - (cy - ground) * ax;
        z += cz * (gravity + ay) - (cy - ground) * az;
        press += gravity + ay;
      }
      return press > 0.3 * gravity * around(i).length ? [x / press, z / press] : null;
    },
    friction(i: number): number {
      let [x, z, press] = [0, 0, 0];
      for (const k of around(i)) {
        const [ax, ay, az] = acceleration(k);
        x += ax;
        z += az;
        press += gravity + ay;
      }
      return press > 0.5 * gravity * around(i).length ? Math.hypot(x, z) / press : 0;
    },
  };
}

/** How far a point is outside a convex hull; below 0 inside. */
function outside(hull: readonly Point[], [x, z]: Point): number {
  let nearest = Number.POSITIVE_INFINITY;
  let isInside = hull.length > 2;
  hull.forEach(([ax, az], i) => {
    const [bx, bz] = hull[(i + 1) % hull.length];
    const [dx, dz] = [bx - ax, bz - az];
    const squared = dx * dx + dz * dz;
    const share = squared > 0 ? Math.min(1, Math.max(0, ((x - ax) * dx + (z - az) * dz) / squared)) : 0;
    nearest = Math.min(nearest, distance([x, 0, z], [ax + share * dx, 0, az + share * dz]));
    if (dx * (z - az) - dz * (x - ax) < 0) isInside = false;
  });
  return isInside ? -nearest : nearest;
}
