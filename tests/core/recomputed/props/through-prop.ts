import { pathsOf, type Solid, solidsOf } from "../../../../packages/core/staging/solids.ts";
import type { Recompute } from "../shared/compare.ts";
import { add, cross, dot, range, size, times, unit, type Vec } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

/** Thickness of what is pressed flat, as a share. */
const flat = new Set(["root", "leftThigh", "rightThigh", "leftFoot", "rightFoot", "leftToes", "rightToes"]);
const soft = new Set(["root", "leftThigh", "rightThigh"]);

interface Body {
  readonly solid: Solid;
  readonly isFlesh: boolean;
  readonly radius: number;
  readonly points: (i: number) => Vec[];
}

/** All solids, as points with a radius. */
function bodiesIn(shot: Sampled): Body[] {
  return solidsOf(shot.whole).map((solid) => {
    const { figure, part, radius, of } = solid;
    const isFlesh = figure >= 0 && part !== undefined && part !== "prop";
    const isBone = "from" in of;
    const isBall = isBone && of.from === of.to && (part === "leftHand" || part === "rightHand");
    const thick = isBall ? 0.016 * shot.stature(solid.node) : radius;
    const paths = pathsOf(shot.whole, solid);
    const points = (i: number) => paths.map((path): Vec => [path[3 * i], path[3 * i + 1], path[3 * i + 2]]);
    return {
      solid,
      isFlesh,
      points,
      radius: isFlesh && (isBone ? flat : soft).has(part) ? thick / 2 : thick,
    };
  });
}

/**
 * The shortest way by which two hulls come apart: of all directions that in which they reach past each other least, by
 * trying many and going on from the best.
 */
function depth(a: readonly Vec[], b: readonly Vec[], room: number): number {
  const past = (way: Vec) =>
    Math.max(...b.map((point) => dot(point, way))) - Math.min(...a.map((point) => dot(point, way))) + room;
  let best = { way: [0, 1, 0] as Vec, past: past([0, 1, 0]) };
  const look = (way: Vec) => {
    const now = past(way);
    if (now < best.past) best = { way, past: now };
  };
  const count = 4000;
  for (let n = 0; n < count; n++) {
    const [z, turn] = [1 - (2 * n + 1) / count, n * Math.PI * (3 - Math.sqrt(5))];
    const level = Math.sqrt(1 - z * z);
    look([level * Math.cos(turn), level * Math.sin(turn), z]);
  }
  for (let step = 0.05; step > 1e-7; step *= 0.7) {
    const { way } = best;
    const side = unit(cross(way, Math.abs(way[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]));
    const other = cross(way, side);
    for (let n = 0; n < 12; n++) {
      const [x, y] = [step * Math.cos((n * Math.PI) / 6), step * Math.sin((n * Math.PI) / 6)];
      const near = add(way, add(times(side, x), times(other, y)));
      look(times(near, 1 / size(near)));
    }
  }
  return best.past;
}

/** How deep a hull is under the surface of a name, or reaches over it, whichever is less where the surface has a far side. */
function depthUnder(shot: Sampled, { points, radius }: Body, name: string, i: number): number {
  const surface = shot.shot.header.surfaces?.find(({ id }) => id === name);
  if (surface === undefined) return Number.NaN;
  const normal = unit(surface.normal ?? [0, 1, 0]);
  const heights = points(i).map((point) => dot(point, normal) - surface.height * shot.metresPerUnit);
  const [under, above] = [radius - Math.min(...heights), radius + Math.max(...heights)];
  return surface.edges === undefined && normal[1] > 0.5 ? under : Math.min(under, above);
}

/** The deepest that what the note is on is in any other thing, or in the surface that the note names: the nearest to what is said. */
export const recompute: Recompute = (note, shot) => {
  const mover = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const bodies = bodiesIn(shot);
  const isBelow = (node: number) => {
    for (let one = node; one >= 0; one = shot.rig.parent[one]) if (one === mover) return true;
    return false;
  };
  const own = bodies.filter(
    ({ solid, isFlesh }) => solid.node === mover || (!isFlesh && isBelow(solid.node)),
  );
  const surface = / into (.+?) at frame/.exec(note.message)?.[1] ?? "";
  const deepest = own.flatMap((one) => {
    const inSurface = Math.max(...range(from, to).map((i) => depthUnder(shot, one, surface, i)));
    if (!Number.isNaN(inSurface)) return [inSurface];
    return bodies
      .filter((other) => !own.includes(other))
      .map((other) => {
        // Of two pieces of flesh the one that goes in counts by its middle.
        const room = one.isFlesh && other.isFlesh ? other.radius : one.radius + other.radius;
        return Math.max(...range(from, to).map((i) => depth(one.points(i), other.points(i), room)));
      });
  });
  const said = note.measured.value;
  return deepest.reduce((best, now) => (Math.abs(now - said) < Math.abs(best - said) ? now : best));
};
