import type { Check } from "./check.ts";
import { gimbalLock } from "./data/gimbal-lock/check.ts";
import { idleCurve } from "./data/idle-curve/check.ts";
import { keyCrowding } from "./data/key-crowding/check.ts";
import { keyOffFrame } from "./data/key-off-frame/check.ts";
import { overshoot } from "./data/overshoot/check.ts";
import { rotationFlip } from "./data/rotation-flip/check.ts";
import { blockMove } from "./parts/block-move/check.ts";
import { competingMoves } from "./parts/competing-moves/check.ts";
import { loneJoint } from "./parts/lone-joint/check.ts";
import { noDrag } from "./parts/no-drag/check.ts";
import { raisedShoulders } from "./parts/raised-shoulders/check.ts";
import { stillFingers } from "./parts/still-fingers/check.ts";
import { stillWrist } from "./parts/still-wrist/check.ts";
import { twinning } from "./parts/twinning/check.ts";
import { kinkedPath } from "./paths/kinked-path/check.ts";
import { retracedPath } from "./paths/retraced-path/check.ts";
import { straightPath } from "./paths/straight-path/check.ts";
import { evenSpacing } from "./spacing/even-spacing/check.ts";
import { frozenHold } from "./spacing/frozen-hold/check.ts";
import { hardStart } from "./spacing/hard-start/check.ts";
import { hardStop } from "./spacing/hard-stop/check.ts";
import { hitch } from "./spacing/hitch/check.ts";
import { jitter } from "./spacing/jitter/check.ts";
import { overSpeed } from "./spacing/over-speed/check.ts";
import { pop } from "./spacing/pop/check.ts";
import { sameFrame } from "./spacing/same-frame/check.ts";
import { spacingJump } from "./spacing/spacing-jump/check.ts";
import { beatMismatch } from "./weight/beat-mismatch/check.ts";
import { bodyTiedToSteps } from "./weight/body-tied-to-steps/check.ts";
import { contactSlide } from "./weight/contact-slide/check.ts";
import { earlyStop } from "./weight/early-stop/check.ts";
import { flatFoot } from "./weight/flat-foot/check.ts";
import { hangTime } from "./weight/hang-time/check.ts";
import { legSnap } from "./weight/leg-snap/check.ts";
import { liftBeforePush } from "./weight/lift-before-push/check.ts";
import { offBalance } from "./weight/off-balance/check.ts";
import { offGround } from "./weight/off-ground/check.ts";
import { oneAxisRoll } from "./weight/one-axis-roll/check.ts";
import { throughGround } from "./weight/through-ground/check.ts";

/** All checks, by family. Adding one is its file and its line here; help, docs, settings and the test scaffold follow. */
export const registry: readonly Check[] = [
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
  retracedPath,
  straightPath,
  kinkedPath,

  // weight and support
  earlyStop,
  liftBeforePush,
  beatMismatch,
  hangTime,
  contactSlide,
  offGround,
  throughGround,
  flatFoot,
  oneAxisRoll,
  legSnap,
  offBalance,
  bodyTiedToSteps,

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
] as readonly unknown[] as readonly Check[];

/** A check by its name. */
export function checkNamed(name: string): Check | undefined {
  return registry.find((check) => check.name === name);
}
