import { referenceRate } from "../../../base/constants.ts";
import { turnedBy } from "../../../base/quaternion.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { cross, lengthOf, minus, pointAt, type Vector } from "../../../base/vector.ts";
import { tiltingOf } from "../../../motion/parts/tilt.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { keysAlone } from "../../shared/keying/rekey.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { turnedInWorld } from "../../shared/posing/trail.ts";
import { type StraightSetFinding, straightSet } from "./check.ts";

export const straightSetFix = defineFix(straightSet, {
  what: "Tilts the chest into the turns and the head against it, a few frames later.",
  title: () => "tilt chest and head against each other with the turns",
  *propose(subject) {
    const { study, shot, figure, node, finding } = subject;
    if (figure < 0 || node < 0) return;
    const { head, least } = finding.numbers;
    const { count, rate } = gridOf(study);
    const samples = { lo: 0, hi: count - 1 };
    for (const size of [2, 3, 4]) {
      const late = Math.max(1, Math.round((3 * rate) / referenceRate));
      const nodes = [
        { node, turns: tilts(subject, size * least, 0) },
        { node: head, turns: tilts(subject, -size * least, late) },
      ];
      for (const laying of [{ loose: keysAlone }, undefined])
        yield* keptAndPlain(subject, shot, turnedInWorld(study, nodes, samples, laying));
    }
  },
});

/** World turns that tilt to the side by an amount where the heading is farthest from its middle, so many samples late. */
function tilts(
  { study, figure, node, finding }: Subject<StraightSetFinding>,
  amount: number,
  late: number,
): Float64Array {
  const { count } = gridOf(study);
  const hips = carrierOf(figuresOf(study)[figure]);
  const headings = [hips, node, finding.numbers.head].map((one) => tiltingOf(study, one).heading);
  const ranges = headings.map((heading) => [Math.min(...heading), Math.max(...heading)]);
  const most = ranges.reduce((best, [low, high], n) => {
    const [least, largest] = ranges[best];
    return high - low > largest - least ? n : best;
  }, 0);
  const heading = headings[most];
  const [low, high] = ranges[most];
  const turns = floats(4 * count);
  const identity = Float64Array.of(0, 0, 0, 1);
  for (let i = 0; i < count; i++) {
    const share = (2 * heading[Math.max(0, i - late)] - low - high) / (high - low || 1);
    const [x, , z] = forward(study, figure, i);
    turnedBy(identity, [-share * amount * x, 0, -share * amount * z], turns.subarray(4 * i, 4 * i + 4));
  }
  return turns;
}

/** Where a body faces, level, from its right to its left limbs; along z where it has none. */
function forward(study: Study, figure: number, i: number): Vector {
  const { parts } = figuresOf(study)[figure];
  const [left, right] = [parts.get("leftThigh")?.[0], parts.get("rightThigh")?.[0]];
  if (left === undefined || right === undefined) return [0, 0, 1];
  const [x, , z] = cross(
    minus(pointAt(worldOf(study, left).position, i), pointAt(worldOf(study, right).position, i)),
    [0, 1, 0],
  );
  const length = lengthOf(x, 0, z);
  return length > 0 ? [x / length, 0, z / length] : [0, 0, 1];
}
