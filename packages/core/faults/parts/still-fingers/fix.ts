import { multiplyQuaternions, rotated } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { cross, dot, minus, pointAt, type Vector, vectorLength } from "../../../base/vector.ts";
import { figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { chainOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { ramp } from "../../shared/keying/courses.ts";
import { localTurns, turnedNode } from "../../shared/posing/node-turns.ts";
import { stillFingers } from "./check.ts";

export const stillFingersFix = defineFix(stillFingers, {
  what: "Curls fingers as a load comes on, and opens them as it goes.",
  title: ({ node, frames }) =>
    `let the fingers of ${node ?? "the hand"} answer to the load over frames ${frames[0]} to ${frames[1]}`,
  *propose({ study, node: hand, figure, finding }) {
    if (hand < 0 || figure < 0) return;
    const { parts } = figuresOf(study)[figure];
    const side = parts.get("leftHand")?.[0] === hand ? "left" : "right";
    const rig = rigOf(study);
    const fingers = (parts.get(`${side}Fingers`) ?? []).filter((node) => rig.children[node].length > 0);
    const { count, rate } = gridOf(study);
    const { change, begins } = finding.numbers;
    const over = Math.max(2, Math.round(rate / 6));
    for (const degrees of [10, 15, 20]) {
      for (const sign of [1, -1]) {
        // Fingers close from before the load comes on, and open as it goes; they stay so to that end of the range.
        const samples =
          begins === 1
            ? { lo: Math.max(0, change - over), hi: count - 1 }
            : { lo: 0, hi: Math.min(count - 1, change + over) };
        const amount = (i: number) => {
          const closing = ramp(i, change - over, change + 1);
          const opening = ramp(i, change - 1, change + over);
          return begins === 1 ? closing : 1 - opening;
        };
        yield fingers.flatMap((finger) => {
          const axis = curlAxis(study, hand, finger, change);
          const turns = localTurns(study, finger, samples);
          const turn = new Float64Array(4);
          for (let i = samples.lo; i <= samples.hi; i++) {
            const angle = (sign * amount(i) * degrees * Math.PI) / 180;
            const sine = Math.sin(0.5 * angle);
            turn.set([sine * axis[0], sine * axis[1], sine * axis[2], Math.cos(0.5 * angle)]);
            const at = 4 * (i - samples.lo);
            multiplyQuaternions(turns, at, turn, 0, turns, at);
          }
          return turnedNode(study, finger, samples, turns, { loose: 10 });
        });
      }
    }
  },
});

/** The own axis of a finger joint that brings its tip toward the forearm's end fastest. */
function curlAxis(study: Study, hand: number, finger: number, sample: number): Vector {
  const rig = rigOf(study);
  const wrist = rig.parent[hand] < 0 ? hand : rig.parent[hand];
  const { orientation, position } = worldOf(study, finger);
  const pivot = pointAt(position, sample);
  const tip = pointAt(worldOf(study, tipOf(study, finger)).position, sample);
  const home = pointAt(worldOf(study, chainOf(rig, wrist).includes(hand) ? hand : wrist).position, sample);
  const arm = minus(tip, pivot);
  const q = orientation.subarray(4 * sample, 4 * sample + 4);
  let best: Vector = [1, 0, 0];
  let most = 0;
  for (const axis of [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ] as const) {
    // How fast the tip comes nearer when the joint turns about the axis.
    const way = cross(rotated(q, axis), arm);
    const apart = minus(tip, home);
    const nearer = -dot(way, apart) / Math.max(1e-9, vectorLength(apart));
    if (Math.abs(nearer) <= most) continue;
    most = Math.abs(nearer);
    best = nearer < 0 ? [-axis[0], -axis[1], -axis[2]] : axis;
  }
  return best;
}

function tipOf(study: Study, node: number): number {
  const { children } = rigOf(study);
  let at = node;
  while (children[at].length > 0) at = children[at][0];
  return at;
}
