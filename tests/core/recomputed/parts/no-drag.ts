import type { Note } from "@keyside/core";
import type { Recompute } from "../shared/compare.ts";
import {
  angleBetween,
  angleOf,
  dot,
  inverse,
  product,
  type Quat,
  range,
  sub,
  toDegrees,
  toRadians,
  turned,
  type Vec,
} from "../shared/geometry.ts";
import { bestLag } from "../shared/lag.ts";
import type { Sampled } from "../shared/sampled.ts";

/** The largest turn of a link against the one before it, or the lag of a link behind the one before it. */
export const recompute: Recompute = (note, shot) => {
  if (note.measured.unit === "deg") return mostTurn(note, shot);
  return note.measured.quantity.includes("beat") ? lagOfBeat(note, shot) : lagOf(note, shot);
};

/** The lag at which two joints bend most alike, in the frames that are marked: each about the axis between its extremes. */
function lagOfBeat(note: Note, shot: Sampled): number {
  const node = shot.nodeOf(note);
  const samples = range(...shot.spanOf(note));
  const speedOf = (joint: number) => {
    const turn = (i: number) => shot.turnIn(joint, shot.rig.parent[joint], i);
    const far = samples.reduce((a, b) =>
      angleBetween(turn(samples[0]), turn(b)) > angleBetween(turn(samples[0]), turn(a)) ? b : a,
    );
    const axis = rotationVector(product(inverse(turn(samples[0])), turn(far)));
    return {
      axis: turned(shot.turn(joint, samples[samples.length >> 1]), axis),
      steps: samples.slice(1).map((i) => dot(rotationVector(product(inverse(turn(i - 1)), turn(i))), axis)),
    };
  };
  const before = speedOf(shot.rig.parent[node]);
  const own = speedOf(node);
  const side = Math.sign(dot(before.axis, own.axis));
  return bestLag(
    before.steps,
    own.steps.map((step) => side * step),
    Math.round(shot.rate / 3),
  );
}

function rotationVector([x, y, z, w]: Quat): Vec {
  const sine = Math.hypot(x, y, z);
  const factor = sine === 0 ? 0 : (2 * Math.atan2(w < 0 ? -sine : sine, Math.abs(w))) / sine;
  return [factor * x, factor * y, factor * z];
}

/**
 * Over the links of the chain: the largest turn against the link before from the first frame that is marked, without a
 * pop: up to two frames past the limit.
 */
function mostTurn(note: Note, shot: Sampled): number {
  const limit = toRadians(note.expected.min as number);
  const pop = Math.round((2 * shot.rate) / 24);
  const [from, to] = shot.spanOf(note);
  const turns = linksFrom(shot, shot.nodeOf(note)).flatMap((link) => {
    const turn = (i: number) => shot.turnIn(link, shot.rig.parent[link], i);
    const angles = range(from, to).map((i) => angleBetween(turn(from), turn(i)));
    return angles.filter((angle, k) => {
      if (angle <= limit) return true;
      let [first, last] = [k, k];
      while (angles[first - 1] > limit) first--;
      while (angles[last + 1] > limit) last++;
      return last - first + 1 > pop;
    });
  });
  return toDegrees(Math.max(...turns));
}

/** The links from the first one on; a tip without curves only marks where the last one ends. */
function linksFrom(shot: Sampled, first: number): number[] {
  const part = shot.partOf(first);
  const named = shot.parts(first, part);
  const links = [first];
  for (;;) {
    const below = shot.rig.children[links[links.length - 1]];
    const next = named.length > 0 ? below.find((child) => named.includes(child)) : below[0];
    if (next === undefined) break;
    links.push(next);
  }
  const tip = links[links.length - 1];
  const isMark = links.length > 1 && shot.rig.children[tip].length === 0 && shot.curvesOf(tip).length === 0;
  return isMark ? links.slice(0, -1) : links;
}

/**
 * The lag at which two series correlate best over the whole range, to a fraction by a parabola: how much the link's
 * direction turns from frame to frame, and how much it would if it were fixed to the link before it.
 */
function lagOf(note: Note, shot: Sampled): number {
  const link = shot.nodeOf(note);
  const end = shot.rig.children[link][0];
  const parent = shot.rig.parent[link];
  const [from] = shot.spanOf(note);
  const bone = (i: number) => sub(shot.at(end, i), shot.at(link, i));
  const fixed = turned(inverse(shot.turn(parent, from)), bone(from));
  const turnsOf = (direction: (i: number) => Vec) =>
    range(0, shot.count - 1).map((i) => (i === 0 ? 0 : angleOf(direction(i - 1), direction(i))));
  const drive = turnsOf((i) => turned(shot.turn(parent, i), fixed));
  return bestLag(drive, turnsOf(bone), Math.round(shot.rate / 2));
}
