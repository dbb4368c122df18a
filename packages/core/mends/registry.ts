import { axisLock } from "./axis-lock.ts";
import { beatMismatch } from "./beat-mismatch.ts";
import { blockMove } from "./block-move.ts";
import { bodyTiedToSteps } from "./body-tied-to-steps.ts";
import { earlyStop } from "./early-stop.ts";
import { evenSpacing } from "./even-spacing.ts";
import { flatFoot } from "./flat-foot.ts";
import { footSlide } from "./foot-slide.ts";
import { frozenHold } from "./frozen-hold.ts";
import { groundGap } from "./ground-gap.ts";
import { hangTime } from "./hang-time.ts";
import { hardStart } from "./hard-start.ts";
import { hardStop } from "./hard-stop.ts";
import { hitch } from "./hitch.ts";
import { idleCurve } from "./idle-curve.ts";
import { jitter } from "./jitter.ts";
import { keyCrowding } from "./key-crowding.ts";
import { keyOffFrame } from "./key-off-frame.ts";
import { kinkedPath } from "./kinked-path.ts";
import { legSnap } from "./leg-snap.ts";
import { liftBeforePush } from "./lift-before-push.ts";
import { loneJoint } from "./lone-joint.ts";
import type { Mend } from "./mend.ts";
import { noDrag } from "./no-drag.ts";
import { offBalance } from "./off-balance.ts";
import { oneAxisRoll } from "./one-axis-roll.ts";
import { overSpeed } from "./over-speed.ts";
import { overshoot } from "./overshoot.ts";
import { pop } from "./pop.ts";
import { raisedShoulders } from "./raised-shoulders.ts";
import { retracedPath } from "./retraced-path.ts";
import { rotationWrap } from "./rotation-wrap.ts";
import { sameFrame } from "./same-frame.ts";
import { spacingJump } from "./spacing-jump.ts";
import { stillWrist } from "./still-wrist.ts";
import { straightPath } from "./straight-path.ts";
import { twinning } from "./twinning.ts";

/** All mends, by family of the checks. Adding one is its file and its line here. */
export const mends: readonly Mend[] = [
  pop,
  hitch,
  hardStop,
  hardStart,
  spacingJump,
  evenSpacing,
  overSpeed,
  jitter,
  frozenHold,
  sameFrame,
  kinkedPath,
  retracedPath,
  straightPath,
  earlyStop,
  liftBeforePush,
  beatMismatch,
  hangTime,
  bodyTiedToSteps,
  footSlide,
  groundGap,
  flatFoot,
  oneAxisRoll,
  legSnap,
  offBalance,
  twinning,
  blockMove,
  loneJoint,
  noDrag,
  stillWrist,
  raisedShoulders,
  rotationWrap,
  axisLock,
  overshoot,
  keyOffFrame,
  keyCrowding,
  idleCurve,
];

/** The mends for notes of a check, in the order in which they are tried. */
export function mendsFor(check: string): readonly Mend[] {
  return mends.filter(({ checks }) => checks.includes(check));
}
