import { gimbalLock } from "./data/gimbal-lock/fix.ts";
import { idleCurve } from "./data/idle-curve/fix.ts";
import { keyCrowding } from "./data/key-crowding/fix.ts";
import { keyOffFrame } from "./data/key-off-frame/fix.ts";
import { overshoot } from "./data/overshoot/fix.ts";
import { rotationFlip } from "./data/rotation-flip/fix.ts";
import type { Fix } from "./fix.ts";
import { blockMove } from "./parts/block-move/fix.ts";
import { competingMoves } from "./parts/competing-moves/fix.ts";
import { loneJoint } from "./parts/lone-joint/fix.ts";
import { noDrag } from "./parts/no-drag/fix.ts";
import { raisedShoulders } from "./parts/raised-shoulders/fix.ts";
import { stillFingers } from "./parts/still-fingers/fix.ts";
import { stillWrist } from "./parts/still-wrist/fix.ts";
import { twinning } from "./parts/twinning/fix.ts";
import { kinkedPath } from "./paths/kinked-path/fix.ts";
import { retracedPath } from "./paths/retraced-path/fix.ts";
import { straightPath } from "./paths/straight-path/fix.ts";
import { evenSpacing } from "./spacing/even-spacing/fix.ts";
import { frozenHold } from "./spacing/frozen-hold/fix.ts";
import { hardStart } from "./spacing/hard-start/fix.ts";
import { hardStop } from "./spacing/hard-stop/fix.ts";
import { hitch } from "./spacing/hitch/fix.ts";
import { jitter } from "./spacing/jitter/fix.ts";
import { overSpeed } from "./spacing/over-speed/fix.ts";
import { pop } from "./spacing/pop/fix.ts";
import { sameFrame } from "./spacing/same-frame/fix.ts";
import { spacingJump } from "./spacing/spacing-jump/fix.ts";
import { beatMismatch } from "./weight/beat-mismatch/fix.ts";
import { bodyTiedToSteps } from "./weight/body-tied-to-steps/fix.ts";
import { contactSlide } from "./weight/contact-slide/fix.ts";
import { earlyStop } from "./weight/early-stop/fix.ts";
import { flatFoot } from "./weight/flat-foot/fix.ts";
import { hangTime } from "./weight/hang-time/fix.ts";
import { legSnap } from "./weight/leg-snap/fix.ts";
import { liftBeforePush } from "./weight/lift-before-push/fix.ts";
import { offBalance } from "./weight/off-balance/fix.ts";
import { offGround } from "./weight/off-ground/fix.ts";
import { oneAxisRoll } from "./weight/one-axis-roll/fix.ts";

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
