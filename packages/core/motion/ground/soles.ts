import { conjugateInto, rotateVector } from "../../base/quaternion.ts";
import { measure, type Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { limbsOf } from "../../rig/limb.ts";
import { worldOf } from "../../rig/pose.ts";
import { lengthShare } from "../../rig/proportions.ts";
import { boneLengthOf } from "../../rig/reach.ts";
import { contactsOf } from "./contact.ts";
import { type FoundFootPoint, footPointsOf } from "./feet.ts";

/** A point on the ground: x and z in metres. */
export type GroundPoint = readonly [x: number, z: number];

/** Adds the corners of what a planted point of a foot covers at a sample. */
export type Sole = (sample: number, corners: GroundPoint[]) => void;

/** Share of the foot's length that lies behind the ankle joint: from memory, common proportion. */
export const heelShare = 0.25;

/**
 * Soles by the point of the foot that is planted. Under an ankle lie the heel, as far behind it as a quarter of the foot,
 * and the foot up to its end; under a ball the toes. A human's foot is at least as long as published proportions say,
 * where its joints end before, and as broad. Points that are not in the map cover no more than themselves.
 */
export const solesOf = measure("soles", (study, figure: number): ReadonlyMap<number, Sole> => {
  const soles = new Map<number, Sole>();
  const points = footPointsOf(study, figure);
  const stature = statureOf(study, figure);
  const isHuman = figuresOf(study)[figure].kind === "human";
  const half = isHuman ? (lengthShare.footBreadth * stature) / 2 : 0;
  const ahead = isHuman ? lengthShare.foot * (1 - heelShare) * stature : 0;
  const pathOf = (node: number) => worldOf(study, node).position;
  points.forEach((point, index) => {
    const { node, point: kind, tip, foot } = point;
    const ball = kind === "heel" ? points[index + 1] : undefined;
    if (kind === "whole") {
      const forward = isHuman ? wholeForward(study, figure, point) : null;
      if (forward !== null) soles.set(node, alongSole(pathOf(node), forward, ahead, ahead / 3, half));
      return;
    }
    const heel = kind === "heel" ? node : foot;
    const front = ball?.node ?? node;
    if (heel === front) {
      if (tip >= 0) soles.set(node, betweenSole(pathOf(node), pathOf(tip), 0, 0, half));
      return;
    }
    const toe = tip >= 0 ? tip : (ball?.tip ?? -1);
    const own = boneLengthOf(study, heel, front) + (toe >= 0 ? boneLengthOf(study, front, toe) : 0);
    const beyond = Math.max(0, ahead - own);
    const end = pathOf(toe >= 0 ? toe : front);
    if (kind === "heel")
      soles.set(node, betweenSole(pathOf(node), end, beyond, heelShare / (1 - heelShare), half));
    else soles.set(node, ballSole(pathOf(heel), pathOf(node), end, beyond, half));
  });
  return soles;
});

function addAcross(x: number, z: number, dx: number, dz: number, half: number, corners: GroundPoint[]): void {
  if (half === 0) corners.push([x, z]);
  else corners.push([x - half * dz, z + half * dx], [x + half * dz, z - half * dx]);
}

/** From an ankle to the end of its foot and somewhat beyond, and behind it by a share of that. */
function betweenSole(from: Float64Array, to: Float64Array, beyond: number, back: number, half: number): Sole {
  return (sample, corners) => {
    const a = 3 * sample;
    const b = 3 * sample + 2;
    const x = to[a] - from[a];
    const z = to[b] - from[b];
    const length = lengthOf(x, z);
    const [dx, dz] = length > 0 ? [x / length, z / length] : [0, 0];
    const behind = back * (length + beyond);
    addAcross(from[a] - behind * dx, from[b] - behind * dz, dx, dz, half, corners);
    addAcross(to[a] + beyond * dx, to[b] + beyond * dz, dx, dz, half, corners);
  };
}

/** Under a ball and its toes, in the direction in which the ankle points to it. */
function ballSole(
  ankle: Float64Array,
  ball: Float64Array,
  end: Float64Array,
  beyond: number,
  half: number,
): Sole {
  return (sample, corners) => {
    const a = 3 * sample;
    const b = 3 * sample + 2;
    const x = end[a] - ankle[a];
    const z = end[b] - ankle[b];
    const length = lengthOf(x, z);
    const [dx, dz] = length > 0 ? [x / length, z / length] : [0, 0];
    addAcross(ball[a], ball[b], dx, dz, half, corners);
    addAcross(end[a] + beyond * dx, end[b] + beyond * dz, dx, dz, half, corners);
  };
}

/** Under an ankle that is all that is known of its foot, along a direction in the world. */
function alongSole(
  ankle: Float64Array,
  forward: Float64Array,
  ahead: number,
  back: number,
  half: number,
): Sole {
  return (sample, corners) => {
    const a = 3 * sample;
    const b = 3 * sample + 2;
    const length = lengthOf(forward[a], forward[b]);
    const [dx, dz] = length > 0 ? [forward[a] / length, forward[b] / length] : [0, 0];
    addAcross(ankle[a] - back * dx, ankle[b] - back * dz, dx, dz, half, corners);
    addAcross(ankle[a] + ahead * dx, ankle[b] + ahead * dz, dx, dz, half, corners);
  };
}

/**
 * Where a foot points that is known by its ankle alone, as a path of vectors in the world: as the hips face, on the mean
 * of the shot's plants, carried along by the ankle. Null without two legs, or where the hips face nowhere.
 */
export function wholeForward(
  study: Study,
  figure: number,
  { node }: Pick<FoundFootPoint, "node">,
): Float64Array | null {
  const legs = limbsOf(study, figure).filter(({ kind }) => kind === "leg");
  const left = legs.find(({ side }) => side === "left");
  const right = legs.find(({ side }) => side === "right");
  if (left === undefined || right === undefined) return null;
  const a = worldOf(study, left.root).position;
  const b = worldOf(study, right.root).position;
  const { orientation } = worldOf(study, node);
  const local = new Float64Array(3);
  const facing = new Float64Array(3);
  const inverse = new Float64Array(4);
  for (const { node: own, from, to } of contactsOf(study, figure)) {
    if (own !== node) continue;
    for (let i = from; i <= to; i++) {
      // Left to right across the hips, turned by a right angle about the upright: forward.
      const x = a[3 * i] - b[3 * i];
      const z = a[3 * i + 2] - b[3 * i + 2];
      const length = lengthOf(x, z);
      if (!(length > 0)) continue;
      facing[0] = -z / length;
      facing[1] = 0;
      facing[2] = x / length;
      conjugateInto(orientation, 4 * i, inverse, 0);
      rotateVector(inverse, 0, facing, 0, facing, 0);
      for (let k = 0; k < 3; k++) local[k] += facing[k];
    }
  }
  if (!(lengthOf(local[0], local[1], local[2]) > 0)) return null;
  const forward = new Float64Array((3 * orientation.length) / 4);
  for (let i = 0; i < orientation.length / 4; i++) rotateVector(orientation, 4 * i, local, 0, forward, 3 * i);
  return forward;
}
