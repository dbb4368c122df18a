import { numbersInWords } from "../../base/number-words.ts";
import { angleBetween, logBetween } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import { distanceBetween, lengthOf } from "../../base/vector.ts";
import type { Note } from "../../faults/note.ts";
import type { HitchFinding } from "../../faults/spacing/hitch/check.ts";
import { carriedPath, carriedTurns } from "../../motion/path/carried.ts";
import { findingBehind } from "../../notes/assemble.ts";
import { nodeNameOf } from "../../notes/wording.ts";
import { localRotationOf, localTranslationOf, worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { metresPerUnitOf } from "../../rig/stature.ts";
import { gridOf, sampleAt } from "../../time/grid.ts";
import type { Law } from "./law.ts";

/** Checks of what is seen as a jolt: a course that changes from one frame to the next as nothing with mass does. */
export const ofJolts: readonly string[] = ["pop", "hitch", "kinked-path", "spacing-jump", "jitter"];
/** What is left of a jolt that is taken out: less than half, or it is only made smaller. */
const mostLeft = 0.5;
/** Samples beside a note in which its jolt lies: a change of steps is seen over three of them. */
const beside = 2;
/** Smaller jolts than these are noise of digits: metres, radians. */
const leastWay = 1e-4;
const leastTurn = 1e-3;

/** The jolt that a note is about is gone: of what is seen of it, or of what its keys turn or shift, less than half is left. */
export const softensJolt: Law = ({ study, note, before, after }) => {
  if (!ofJolts.includes(note.check)) return null;
  if (note.check === "hitch") {
    const stands = standsIn(study, note);
    if (stands !== "unknown") return stands;
  }
  const { indexOf } = rigOf(study);
  const grid = gridOf(study);
  const from = Math.max(0, sampleAt(grid, note.frames[0]) - beside);
  const to = Math.min(grid.count - 1, sampleAt(grid, note.frames[1]) + beside);
  let least = Number.POSITIVE_INFINITY;
  const compare = (before: Float64Array, after: Float64Array, smallest: number) => {
    const [was, is] = withoutHolds(before, after, smallest).map(joltOf);
    if (was > smallest) least = Math.min(least, is / was);
  };
  const shown = indexOf.get(note.seenAt[0] ?? note.node ?? "");
  if (shown === undefined) return null;
  const wayOf = (path: Float64Array) => waysOf(path, from, to);
  compare(wayOf(before.worlds[shown].position), wayOf(after[shown].position), leastWay);
  for (const id of new Set(note.keys.map(({ node }) => node))) {
    const node = indexOf.get(id);
    if (node === undefined) continue;
    const { turn, shift } = before.local(node);
    compare(turnsOf(turn, from, to), turnsOf(localRotationOf(study, node), from, to), leastTurn);
    compare(wayOf(shift), wayOf(localTranslationOf(study, node)), leastWay / metresPerUnitOf(study));
  }
  if (!(least > mostLeft) || least === Number.POSITIVE_INFINITY) return null;
  return `${numbersInWords.share(least)} of the jolt of the ${nodeNameOf(study, shown)} would be left`;
};

/** A hitch is gone where each of its frames is at half of the pace around it: eases halve (common practice). */
const halfPace = 0.5;

/**
 * Where what hitched still stands in the frames of its note, as its check measures it, whatever else jolts there: what is
 * said against that; null where it goes on.
 */
function standsIn(study: Study, note: Note): string | null | "unknown" {
  const finding = findingBehind(note);
  if (finding === null || finding.node < 0) return "unknown";
  const { node, numbers } = finding as HitchFinding;
  const { around, turns, carrier } = numbers;
  const grid = gridOf(study);
  const { position, orientation } = worldOf(study, node);
  const frame = carrier < 0 ? null : worldOf(study, carrier);
  const path = frame === null ? position : carriedPath(position, frame);
  const turned = frame === null ? orientation : carriedTurns(orientation, frame.orientation);
  const [from, to] = note.frames.map((at) => sampleAt(grid, at));
  for (let i = Math.max(1, from); i <= to; i++) {
    const step =
      turns === 1 ? angleBetween(turned, 4 * (i - 1), turned, 4 * i) : distanceBetween(path, i - 1, path, i);
    if (step >= halfPace * around) continue;
    const share = numbersInWords.share(step / around);
    return `the ${nodeNameOf(study, node)} would go on at ${share} of the pace around it only, at frame ${grid.frames[i]}`;
  }
  return null;
}

/** Ways of a point from sample to sample, 3 numbers each. */
function waysOf(path: Float64Array, from: number, to: number): Float64Array {
  const ways = floats(3 * (to - from));
  for (let k = 0; k < ways.length; k++) ways[k] = path[3 * from + 3 + k] - path[3 * from + k];
  return ways;
}

/** Turns from sample to sample, 3 numbers each. */
function turnsOf(turn: Float64Array, from: number, to: number): Float64Array {
  const turns = floats(3 * (to - from));
  for (let i = from; i < to; i++) {
    turns.set(
      logBetween(turn.subarray(4 * i, 4 * i + 4), turn.subarray(4 * i + 4, 4 * i + 8)),
      3 * (i - from),
    );
  }
  return turns;
}

/**
 * Steps before and after without those that are none in both, between two that are some: where poses are held for two
 * frames each, the course is that of the poses.
 */
function withoutHolds(before: Float64Array, after: Float64Array, smallest: number): Float64Array[] {
  const moves = (steps: Float64Array, k: number) => lengthOf(steps[k], steps[k + 1], steps[k + 2]) > smallest;
  const moved = (k: number) => moves(before, k) || moves(after, k);
  const last = before.length - 3;
  const isSeen = (k: number) => k === 0 || k === last || moved(k) || !(moved(k - 3) && moved(k + 3));
  const seen = (_: number, k: number) => isSeen(k - (k % 3));
  return [before.filter(seen), after.filter(seen)];
}

/** The largest change of how a course changes: the second difference of its steps. */
function joltOf(steps: Float64Array): number {
  let largest = 0;
  for (let k = 0; k + 8 < steps.length; k += 3) {
    const [x, y, z] = [0, 1, 2].map(
      (axis) => steps[k + axis] - 2 * steps[k + 3 + axis] + steps[k + 6 + axis],
    );
    largest = Math.max(largest, lengthOf(x, y, z));
  }
  return largest;
}
