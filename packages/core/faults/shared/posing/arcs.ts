import { conjugate, multiplyQuaternions, rotated } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { across, minus, pointAt, type Vector, vectorLength } from "../../../base/vector.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";
import { influenceOf } from "../../../rig/influence.ts";
import { quaternionCurveOf } from "../../../rig/local.ts";
import { worldOf } from "../../../rig/pose.ts";
import { chainOf, radiansPerUnitOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { bump } from "../keying/courses.ts";
import { type Track, turnTracksOf } from "../keying/track.ts";
import { localTurns, turnedNode } from "./node-turns.ts";
import { offsetTrack } from "./offsets.ts";

/** A stretch of a path, both ends grid indices. */
export interface Way {
  readonly from: number;
  readonly to: number;
}

/** Joints above the end that may bring it to the side. */
const joints = 3;
/** How many ways of doing so are offered. */
const most = 3;

/** A way of bringing the end of a limb off its path: gives the edits that do, by so many metres (of either sign). */
export type Aside = (metres: number) => KeyEdit[];

/**
 * Ways of bringing a node off its path between the ends of some stretches, by a breakdown in the middle of each: those
 * first that move it most to the side for the least turn.
 */
export function asides(study: Study, node: number, ways: readonly Way[]): Aside[] {
  const rig = rigOf(study);
  const figure = figuresOf(study)[figureOfNode(study, node)];
  const chain = chainOf(rig, node);
  const within = figure === undefined ? chain : chain.slice(Math.max(0, chain.indexOf(figure.root)));
  const turning = within.slice(0, -1).slice(-joints);
  const found = turning.flatMap((joint) =>
    quaternionCurveOf(study, joint) === null
      ? turnTracksOf(study, joint).map((track) => byChannel(study, node, track, ways))
      : [byJoint(study, node, joint, ways)],
  );
  return found
    .filter(({ gain }) => gain > 0)
    .sort((a, b) => b.gain - a.gain)
    .slice(0, most)
    .map(({ aside }) => aside);
}

interface Gained {
  /** Metres to the side per radian. */
  readonly gain: number;
  readonly aside: Aside;
}

/** One axis of a joint. */
function byChannel(study: Study, node: number, track: Track, ways: readonly Way[]): Gained {
  const perUnit = radiansPerUnitOf(study);
  const sideways = ways.map((way) => sideOfChannel(study, node, track, way));
  const first = sideways[0];
  const aside: Aside = (metres) =>
    ways.flatMap(({ from, to }, k) => {
      const side = sideways[k];
      // All stretches go to one side.
      const sign = side[0] * first[0] + side[1] * first[1] + side[2] * first[2] < 0 ? -1 : 1;
      const size = vectorLength(side);
      if (size === 0) return [];
      const amount = (sign * metres) / size;
      return offsetTrack(study, track, { lo: from, hi: to }, bumpOver(from, to, amount));
    });
  return { gain: vectorLength(first) / perUnit, aside };
}

/** Metres to the side that a unit of a channel brings a node in the middle of a way. */
function sideOfChannel(study: Study, node: number, track: Track, way: Way): Vector {
  const middle = (way.from + way.to) >> 1;
  const { frames } = gridOf(study);
  const value = new Float64Array(1);
  track.read(frames[middle], value);
  value[0] += 1;
  const moved = new Float64Array(3);
  influenceOf(study, track.node, track.channel, middle, middle, value, node, moved, null);
  const { position } = worldOf(study, node);
  return across(minus(pointAt(moved, 0), pointAt(position, middle)), wayOf(position, way));
}

/** A joint with quaternion keys: turned about the axis that brings the node straight to the side. */
function byJoint(study: Study, node: number, joint: number, ways: readonly Way[]): Gained {
  const { position } = worldOf(study, node);
  const pivot = worldOf(study, joint).position;
  const up = rigOf(study).parent[joint];
  let gain = 0;
  const plans = ways.map((way) => {
    const middle = (way.from + way.to) >> 1;
    const arm = minus(pointAt(position, middle), pointAt(pivot, middle));
    const axis = wayOf(position, way);
    // Turning about the way itself moves the arm's end across it.
    const reach = vectorLength(across(arm, axis));
    gain = Math.max(gain, reach);
    return { way, axis, reach };
  });
  const aside: Aside = (metres) =>
    plans.flatMap(({ way: { from, to }, axis, reach }) => {
      if (reach === 0) return [];
      const amounts = bumpOver(from, to, metres / reach);
      const turns = localTurns(study, joint, { lo: from, hi: to });
      const turn = new Float64Array(4);
      for (let i = 0; i < amounts.length; i++) {
        const outer = up < 0 ? Float64Array.of(0, 0, 0, 1) : worldOf(study, up).orientation;
        const at = up < 0 ? 0 : 4 * (from + i);
        const local = rotated(conjugate(outer, at), axis);
        const sine = Math.sin(0.5 * amounts[i]);
        turn.set([sine * local[0], sine * local[1], sine * local[2], Math.cos(0.5 * amounts[i])]);
        multiplyQuaternions(turn, 0, turns, 4 * i, turns, 4 * i);
      }
      return turnedNode(study, joint, { lo: from, hi: to }, turns);
    });
  return { gain, aside };
}

function bumpOver(from: number, to: number, height: number): Float64Array {
  const middle = (from + to) >> 1;
  return Float64Array.from({ length: to - from + 1 }, (_, i) => height * bump(from + i, from, middle, to));
}

/** Unit vector from one end of a way to the other. */
function wayOf(path: Float64Array, { from, to }: Way): Vector {
  const v = minus(pointAt(path, to), pointAt(path, from));
  const size = vectorLength(v);
  return size > 0 ? [v[0] / size, v[1] / size, v[2] / size] : [0, 0, 0];
}
