import type { Note } from "@keyside/core";
import type { Recompute } from "../shared/compare.ts";
import { add, cross, dot, range, sub, times, toDegrees, unit, type Vec } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";
import { apartIn, soleAt, soleShift } from "../shared/sole.ts";

/**
 * The largest way, in the surface, between two of the frames that are marked: of the heel, of the ball, or of that point
 * between them which goes least; or the angle by which the line between them turns.
 */
export const recompute: Recompute = (note, shot) => {
  const { ankle, ball } = footOf(note, shot);
  const normal = shot.normalUnder(ankle, shot.spanOf(note)[0]);
  const [from, to] = shot.spanOf(note);
  const samples = range(from, to);
  if (note.measured.unit === "deg") {
    const along = (i: number) => flat(sub(shot.at(ball, i), shot.at(ankle, i)), normal);
    return toDegrees(Math.abs(turnAbout(along(from), along(to), normal)));
  }
  const pathOf = (joint: number) => {
    const shift = isFoot(shot, joint) ? soleShift(shot, joint) : none;
    return samples.map((i) => soleAt(shot, joint, shift, i));
  };
  if (note.message.includes(" at the heel")) return farthest(pathOf(ankle), normal);
  if (note.message.includes(" at the ball")) return farthest(pathOf(ball), normal);
  const heel = pathOf(ankle);
  if (ball < 0) return farthest(heel, normal);
  const toe = pathOf(ball);
  const heelDown = isDown(shot, ankle, samples);
  const toeDown = isDown(shot, ball, samples);
  const travel = (share: number) => farthest(carried(heel, toe, heelDown, toeDown, share), normal);
  return Math.min(...range(0, 100).map((percent) => travel(percent / 100)));
};

const none: Vec = [0, 0, 0];

/** The joints of feet, and other ends of limbs that are found to stand, are over a sole; what is declared touches itself. */
const isFoot = (shot: Sampled, joint: number) =>
  /Foot|Toes/.test(shot.partOf(joint)) ||
  shot.contacts(shot.figureOf(joint)).some(({ node, declared }) => node === joint && !declared);

/** Samples at which an end is in a contact and within 0.012 body heights of the level at which it mostly stands in it. */
function isDown(shot: Sampled, joint: number, samples: readonly number[]): readonly boolean[] {
  const shift = soleShift(shot, joint);
  return samples.map((i) => {
    const contact = shot
      .contacts(shot.figureOf(joint))
      .find(({ node, from, to }) => node === joint && from <= i && i <= to);
    if (contact === undefined) return false;
    const { from, to, surface } = contact;
    const height = (k: number) => dot(surface.normal, soleAt(shot, joint, shift, k)) - surface.height;
    const sorted = range(from, to)
      .map(height)
      .sort((a, b) => a - b);
    return height(i) <= sorted[sorted.length >> 2] + 0.012 * shot.stature(joint);
  });
}

/** A point between heel and ball, by its share of the way: it goes with both while both are down, else with the one that is. */
function carried(
  heel: readonly Vec[],
  toe: readonly Vec[],
  heelDown: readonly boolean[],
  toeDown: readonly boolean[],
  share: number,
): Vec[] {
  const path: Vec[] = [add(times(heel[0], 1 - share), times(toe[0], share))];
  for (let k = 1; k < heel.length; k++) {
    const [a, b] = [sub(heel[k], heel[k - 1]), sub(toe[k], toe[k - 1])];
    const both = add(times(a, 1 - share), times(b, share));
    const step = !(heelDown[k] && heelDown[k - 1]) ? b : !(toeDown[k] && toeDown[k - 1]) ? a : both;
    path.push(add(path[k - 1], step));
  }
  return path;
}

function footOf(note: Note, shot: Sampled): { ankle: number; ball: number } {
  const ankle = shot.nodeOf(note);
  const part = shot.partOf(ankle);
  const ball = part.endsWith("Foot") ? (shot.parts(ankle, part.replace("Foot", "Toes"))[0] ?? -1) : -1;
  return { ankle, ball };
}

function farthest(path: readonly Vec[], normal: Vec): number {
  return Math.max(...path.flatMap((a, k) => path.slice(k).map((b) => apartIn(a, b, normal))));
}

const flat = (way: Vec, normal: Vec): Vec => unit(sub(way, times(normal, dot(way, normal))));
const turnAbout = (a: Vec, b: Vec, normal: Vec) => Math.atan2(dot(cross(a, b), normal), dot(a, b));
