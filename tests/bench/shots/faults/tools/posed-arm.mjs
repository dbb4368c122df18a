// @ts-check
/**
 * Arms that are brought to another pose for some frames, and back.
 * @import { Performance } from "../../types.d.ts"
 */
import { chainOfLimb, copy, figureOf, localTurn, setTurn, solveLimb } from "../../motion/index.mjs";
import { within } from "./windows.mjs";

/** A turn between two, evenly, the shorter way. @param {readonly number[]} a @param {readonly number[]} b @param {number} t */
function between(a, b, t) {
  const dot = a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
  const sign = dot < 0 ? -1 : 1;
  const angle = Math.acos(Math.min(1, Math.abs(dot)));
  const [p, q] =
    angle < 1e-6
      ? [1 - t, t]
      : [Math.sin((1 - t) * angle), Math.sin(t * angle)].map((s) => s / Math.sin(angle));
  const mixed = a.map((part, k) => p * part + sign * q * b[k]);
  const length = Math.hypot(...mixed);
  return mixed.map((part) => part / length);
}

/**
 * Brings an arm's end to a goal: eased in before the frames, held over them, eased out behind.
 * @param {Performance} performance changed in place
 * @param {{ figure: string, limb: number }} arm
 * @param {{ from: number, to: number, ramp: number }} when frames of the held pose; frames of each way
 * @param {(frame: number) => { target: readonly number[], pole: readonly number[] }} goal world place of the end; where the elbow points
 */
export function poseArm(performance, { figure, limb }, { from, to, ramp }, goal) {
  const before = copy(performance);
  const solved = copy(performance);
  const { turned } = chainOfLimb(figureOf(performance, figure).body.limbs[limb]);
  const [first, last] = [Math.max(performance.first, from - ramp), Math.min(performance.last, to + ramp)];
  for (let frame = first; frame <= last; frame++) {
    const { target, pole } = goal(frame);
    solveLimb(solved, figure, limb, frame, target, null, pole);
  }
  for (let frame = first; frame <= last; frame++) {
    const share = within(frame, from - ramp, from, to, to + ramp);
    for (const joint of turned) {
      const turn = between(localTurn(before, joint, frame), localTurn(solved, joint, frame), share);
      setTurn(performance, joint, frame, turn, frame === first ? before : undefined);
    }
  }
}
