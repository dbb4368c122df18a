import { conjugate, multiplyQuaternions, rotated } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { across, cross, lengthOf, minus, pointAt, scaled, vectorLength } from "../../../base/vector.ts";
import { type KeyEdit, tryEditShot } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import type { FootPlant } from "../../../motion/ground/foot-plant.ts";
import type { FootAxes } from "../../../motion/ground/foot-roll.ts";
import { solePathOf } from "../../../motion/ground/sole-path.ts";
import { heelShare, wholeForward } from "../../../motion/ground/soles.ts";
import { statureOf } from "../../../rig/body.ts";
import type { Limb } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { lengthShare } from "../../../rig/proportions.ts";
import { rigOf } from "../../../rig/rig.ts";
import { settingsOf, studyOf } from "../../../settings/study.ts";
import { withEndsKept } from "./kept-ends.ts";
import { turnedNode } from "./node-turns.ts";

/** How a foot is turned about its ball: radians about the axis across it (heel up) and about the surface's normal. */
export interface Roll {
  readonly heelUp: (sample: number) => number;
  readonly outward: (sample: number) => number;
}

/**
 * Where the ball of a foot is, metres, 3 numbers per sample: its joint, or, of one that is known by its ankle alone, where
 * it should be on a person's sole.
 */
export interface Ball {
  readonly position: Float64Array;
}

/**
 * The axes of a foot that is known by its ankle alone, as it lies at a sample, and where its ball is; null where it cannot be
 * told where it points.
 * @param figure index into `figuresOf`
 */
export function footWithoutBall(
  study: Study,
  figure: number,
  { leg, heel }: FootPlant,
  sample: number,
): { readonly axes: FootAxes; readonly ball: Ball } | null {
  const facing = heel === null ? null : wholeForward(study, figure, { node: leg.end });
  if (facing === null || heel === null) return null;
  const { normal } = heel.surface;
  const along = across(pointAt(facing, sample), normal);
  const length = vectorLength(along);
  if (!(length > 0)) return null;
  const forward = scaled(along, 1 / length);
  const ahead = (1 - heelShare) * lengthShare.foot * statureOf(study, figure);
  const position = solePathOf(study, leg.end).slice();
  for (let i = 0; i < position.length / 3; i++) {
    const [x, y, z] = pointAt(facing, i);
    const each = lengthOf(x, y, z);
    position[3 * i] += (ahead * x) / each;
    position[3 * i + 1] += (ahead * y) / each;
    position[3 * i + 2] += (ahead * z) / each;
  }
  return { axes: { forward, across: cross(normal, forward), normal }, ball: { position } };
}

/**
 * Edits that turn a foot about its ball; the leg follows, the toes stay as they lie.
 * @param axes of the foot as it stands flat
 * @param ball where it is, if no joint is there
 */
export function rolledFoot(
  study: Study,
  shot: Shot,
  leg: Limb,
  axes: FootAxes,
  roll: Roll,
  ball: Ball = worldOf(study, leg.ball),
): KeyEdit[] {
  const foot = worldOf(study, leg.end);
  const position = foot.position.slice();
  const orientation = foot.orientation.slice();
  const count = position.length / 3;
  const turn = new Float64Array(4);
  const second = new Float64Array(4);
  let [lo, hi] = [-1, -1];
  for (let i = 0; i < count; i++) {
    const [up, out] = [roll.heelUp(i), roll.outward(i)];
    if (up === 0 && out === 0) continue;
    if (lo < 0) lo = i;
    hi = i;
    // Turning about the axis across, from the normal toward forward, brings the heel up behind the ball.
    about(axes.across, up, turn);
    about(axes.normal, out, second);
    multiplyQuaternions(second, 0, turn, 0, turn, 0);
    const pivot = pointAt(ball.position, i);
    const arm = rotated(turn, minus(pointAt(foot.position, i), pivot));
    position.set([pivot[0] + arm[0], pivot[1] + arm[1], pivot[2] + arm[2]], 3 * i);
    multiplyQuaternions(turn, 0, foot.orientation, 4 * i, orientation, 4 * i);
  }
  if (lo < 0) return [];
  const edits = withEndsKept(study, shot, [], new Map([[leg.end, { position, orientation }]]));
  if (leg.ball < 0) return edits;
  return [...edits, ...toesKept(study, shot, edits, leg, Math.max(0, lo - 1), Math.min(count - 1, hi + 1))];
}

/** The toes turned against the foot so that they lie as they did. */
function toesKept(
  study: Study,
  shot: Shot,
  edits: readonly KeyEdit[],
  leg: Limb,
  lo: number,
  hi: number,
): KeyEdit[] {
  const { shot: after } = tryEditShot(shot, edits);
  const trial = studyOf(after, settingsOf(study));
  const above = worldOf(trial, rigOf(study).parent[leg.ball]).orientation;
  const { orientation } = worldOf(study, leg.ball);
  const local = new Float64Array(4 * (hi - lo + 1));
  for (let i = lo; i <= hi; i++) {
    multiplyQuaternions(conjugate(above, 4 * i), 0, orientation, 4 * i, local, 4 * (i - lo));
  }
  return turnedNode(study, leg.ball, { lo, hi }, local);
}

function about(axis: readonly [number, number, number], angle: number, out: Float64Array): void {
  const sine = Math.sin(0.5 * angle);
  out.set([sine * axis[0], sine * axis[1], sine * axis[2], Math.cos(0.5 * angle)]);
}
