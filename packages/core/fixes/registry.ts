import { gimbalLock } from "./data/gimbal-lock.ts";
import { idleCurve } from "./data/idle-curve.ts";
import { keyCrowding } from "./data/key-crowding.ts";
import { keyOffFrame } from "./data/key-off-frame.ts";
import { overshoot } from "./data/overshoot.ts";
import { rotationFlip } from "./data/rotation-flip.ts";
import type { Fix } from "./fix.ts";
import { blockMove } from "./parts/block-move.ts";
import { competingMoves } from "./parts/competing-moves.ts";
import { loneJoint } from "./parts/lone-joint.ts";
import { noDrag } from "./parts/no-drag.ts";
import { raisedShoulders } from "./parts/raised-shoulders.ts";
import { stillFingers } from "./parts/still-fingers.ts";
import { stillWrist } from "./parts/still-wrist.ts";
import { twinning } from "./parts/twinning.ts";
import { kinkedPath } from "./paths/kinked-path.ts";
import { retracedPath } from "./paths/retraced-path.ts";
import { straightPath } from "./paths/straight-path.ts";
import { evenSpacing } from "./spacing/even-spacing.ts";
import { frozenHold } from "./spacing/frozen-hold.ts";
import { hardStart } from "./spacing/hard-start.ts";
import { hardStop } from "./spacing/hard-stop.ts";
import { hitch } from "./spacing/hitch.ts";
import { jitter } from "./spacing/jitter.ts";
import { overSpeed } from "./spacing/over-speed.ts";
import { pop } from "./spacing/pop.ts";
import { sameFrame } from "./spacing/same-frame.ts";
import { spacingJump } from "./spacing/spacing-jump.ts";
import { beatMismatch } from "./weight/beat-mismatch.ts";
import { bodyTiedToSteps } from "./weight/body-tied-to-steps.ts";
import { contactSlide } from "./weight/contact-slide.ts";
import { earlyStop } from "./weight/early-stop.ts";
import { flatFoot } from "./weight/flat-foot.ts";
import { hangTime } from "./weight/hang-time.ts";
import { legSnap } from "./weight/leg-snap.ts";
import { liftBeforePush } from "./weight/lift-before-push.ts";
import { offBalance } from "./weight/off-balance.ts";
import { offGround } from "./weight/off-ground.ts";
import { oneAxisRoll } from "./weight/one-axis-roll.ts";

/** All fixes, by family of the checks. Adding one is its file and its line here. */
export const fixes: readonly Fix[] = [
  // spacing and timing
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
  // paths
  kinkedPath,
  retracedPath,
  straightPath,
  // weight and support
  earlyStop,
  liftBeforePush,
  beatMismatch,
  hangTime,
  bodyTiedToSteps,
  contactSlide,
  offGround,
  flatFoot,
  oneAxisRoll,
  legSnap,
  offBalance,
  // parts against each other
  twinning,
  blockMove,
  loneJoint,
  noDrag,
  stillWrist,
  stillFingers,
  competingMoves,
  raisedShoulders,
  // curves and data
  rotationFlip,
  gimbalLock,
  overshoot,
  keyOffFrame,
  keyCrowding,
  idleCurve,
];

/** The fixes for notes of a check, in the order in which they are tried. */
export function fixesFor(check: string): readonly Fix[] {
  return fixes.filter(({ checks }) => checks.includes(check));
}
