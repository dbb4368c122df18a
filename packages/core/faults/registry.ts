import type { Check } from "./check.ts";
import { gimbalLock } from "./data/gimbal-lock/check.ts";
import { gimbalLockFix } from "./data/gimbal-lock/fix.ts";
import { idleCurve } from "./data/idle-curve/check.ts";
import { idleCurveFix } from "./data/idle-curve/fix.ts";
import { keyCrowding } from "./data/key-crowding/check.ts";
import { keyCrowdingFix } from "./data/key-crowding/fix.ts";
import { keyOffFrame } from "./data/key-off-frame/check.ts";
import { keyOffFrameFix } from "./data/key-off-frame/fix.ts";
import { overshoot } from "./data/overshoot/check.ts";
import { overshootFix } from "./data/overshoot/fix.ts";
import { rotationFlip } from "./data/rotation-flip/check.ts";
import { rotationFlipFix } from "./data/rotation-flip/fix.ts";
import type { Fix } from "./fix.ts";
import { type CheckName, checkNames } from "./names.ts";
import { blockMove } from "./parts/block-move/check.ts";
import { blockMoveFix } from "./parts/block-move/fix.ts";
import { competingMoves } from "./parts/competing-moves/check.ts";
import { competingMovesFix } from "./parts/competing-moves/fix.ts";
import { frozenPart } from "./parts/frozen-part/check.ts";
import { frozenPartFix } from "./parts/frozen-part/fix.ts";
import { loneArm } from "./parts/lone-arm/check.ts";
import { loneArmFix } from "./parts/lone-arm/fix.ts";
import { loneJoint } from "./parts/lone-joint/check.ts";
import { loneJointFix } from "./parts/lone-joint/fix.ts";
import { noDrag } from "./parts/no-drag/check.ts";
import { noDragFix } from "./parts/no-drag/fix.ts";
import { outOfStep } from "./parts/out-of-step/check.ts";
import { outOfStepFix } from "./parts/out-of-step/fix.ts";
import { raisedShoulders } from "./parts/raised-shoulders/check.ts";
import { raisedShouldersFix } from "./parts/raised-shoulders/fix.ts";
import { stillFingers } from "./parts/still-fingers/check.ts";
import { stillFingersFix } from "./parts/still-fingers/fix.ts";
import { stillWrist } from "./parts/still-wrist/check.ts";
import { stillWristFix } from "./parts/still-wrist/fix.ts";
import { straightSet } from "./parts/straight-set/check.ts";
import { straightSetFix } from "./parts/straight-set/fix.ts";
import { twinning } from "./parts/twinning/check.ts";
import { twinningFix } from "./parts/twinning/fix.ts";
import { kinkedPath } from "./paths/kinked-path/check.ts";
import { kinkedPathFix } from "./paths/kinked-path/fix.ts";
import { quickTop } from "./paths/quick-top/check.ts";
import { quickTopFix } from "./paths/quick-top/fix.ts";
import { retracedPath } from "./paths/retraced-path/check.ts";
import { retracedPathFix } from "./paths/retraced-path/fix.ts";
import { straightPath } from "./paths/straight-path/check.ts";
import { straightPathFix } from "./paths/straight-path/fix.ts";
import { gripSlip } from "./props/grip-slip/check.ts";
import { gripSlipFix } from "./props/grip-slip/fix.ts";
import { missedContact } from "./props/missed-contact/check.ts";
import { missedContactFix } from "./props/missed-contact/fix.ts";
import { movesByItself } from "./props/moves-by-itself/check.ts";
import { movesByItselfFix } from "./props/moves-by-itself/fix.ts";
import { noLoad } from "./props/no-load/check.ts";
import { noLoadFix } from "./props/no-load/fix.ts";
import { throughProp } from "./props/through-prop/check.ts";
import { throughPropFix } from "./props/through-prop/fix.ts";
import { evenSpacing } from "./spacing/even-spacing/check.ts";
import { evenSpacingFix } from "./spacing/even-spacing/fix.ts";
import { frozenEnd } from "./spacing/frozen-end/check.ts";
import { frozenEndFix } from "./spacing/frozen-end/fix.ts";
import { frozenHold } from "./spacing/frozen-hold/check.ts";
import { frozenHoldFix } from "./spacing/frozen-hold/fix.ts";
import { hardStart } from "./spacing/hard-start/check.ts";
import { hardStartFix } from "./spacing/hard-start/fix.ts";
import { hardStop } from "./spacing/hard-stop/check.ts";
import { hardStopFix } from "./spacing/hard-stop/fix.ts";
import { hitch } from "./spacing/hitch/check.ts";
import { hitchFix } from "./spacing/hitch/fix.ts";
import { jitter } from "./spacing/jitter/check.ts";
import { jitterFix } from "./spacing/jitter/fix.ts";
import { lateReach } from "./spacing/late-reach/check.ts";
import { lateReachFix } from "./spacing/late-reach/fix.ts";
import { overSpeed } from "./spacing/over-speed/check.ts";
import { overSpeedFix } from "./spacing/over-speed/fix.ts";
import { pop } from "./spacing/pop/check.ts";
import { popFix } from "./spacing/pop/fix.ts";
import { sameFrame } from "./spacing/same-frame/check.ts";
import { sameFrameFix } from "./spacing/same-frame/fix.ts";
import { shortPose } from "./spacing/short-pose/check.ts";
import { shortPoseFix } from "./spacing/short-pose/fix.ts";
import { spacingJump } from "./spacing/spacing-jump/check.ts";
import { spacingJumpFix } from "./spacing/spacing-jump/fix.ts";
import { blendingColours } from "./staging/blending-colours/check.ts";
import { blendingColoursFix } from "./staging/blending-colours/fix.ts";
import { earlyLook } from "./staging/early-look/check.ts";
import { earlyLookFix } from "./staging/early-look/fix.ts";
import { eyeLine } from "./staging/eye-line/check.ts";
import { eyeLineFix } from "./staging/eye-line/fix.ts";
import { flashing } from "./staging/flashing/check.ts";
import { flashingFix } from "./staging/flashing/fix.ts";
import { frameEdge } from "./staging/frame-edge/check.ts";
import { frameEdgeFix } from "./staging/frame-edge/fix.ts";
import { limbAtLens } from "./staging/limb-at-lens/check.ts";
import { limbAtLensFix } from "./staging/limb-at-lens/fix.ts";
import { mergedSilhouette } from "./staging/merged-silhouette/check.ts";
import { mergedSilhouetteFix } from "./staging/merged-silhouette/fix.ts";
import { beatMismatch } from "./weight/beat-mismatch/check.ts";
import { beatMismatchFix } from "./weight/beat-mismatch/fix.ts";
import { bodyTiedToSteps } from "./weight/body-tied-to-steps/check.ts";
import { bodyTiedToStepsFix } from "./weight/body-tied-to-steps/fix.ts";
import { contactSlide } from "./weight/contact-slide/check.ts";
import { contactSlideFix } from "./weight/contact-slide/fix.ts";
import { earlyStop } from "./weight/early-stop/check.ts";
import { earlyStopFix } from "./weight/early-stop/fix.ts";
import { flatFoot } from "./weight/flat-foot/check.ts";
import { flatFootFix } from "./weight/flat-foot/fix.ts";
import { gaitSpeed } from "./weight/gait-speed/check.ts";
import { gaitSpeedFix } from "./weight/gait-speed/fix.ts";
import { hangTime } from "./weight/hang-time/check.ts";
import { hangTimeFix } from "./weight/hang-time/fix.ts";
import { legSnap } from "./weight/leg-snap/check.ts";
import { legSnapFix } from "./weight/leg-snap/fix.ts";
import { liftBeforePush } from "./weight/lift-before-push/check.ts";
import { liftBeforePushFix } from "./weight/lift-before-push/fix.ts";
import { mirroredSteps } from "./weight/mirrored-steps/check.ts";
import { mirroredStepsFix } from "./weight/mirrored-steps/fix.ts";
import { noAnticipation } from "./weight/no-anticipation/check.ts";
import { noAnticipationFix } from "./weight/no-anticipation/fix.ts";
import { noSettle } from "./weight/no-settle/check.ts";
import { noSettleFix } from "./weight/no-settle/fix.ts";
import { offBalance } from "./weight/off-balance/check.ts";
import { offBalanceFix } from "./weight/off-balance/fix.ts";
import { offGround } from "./weight/off-ground/check.ts";
import { offGroundFix } from "./weight/off-ground/fix.ts";
import { oneAxisRoll } from "./weight/one-axis-roll/check.ts";
import { oneAxisRollFix } from "./weight/one-axis-roll/fix.ts";
import { throughGround } from "./weight/through-ground/check.ts";
import { throughGroundFix } from "./weight/through-ground/fix.ts";

/** All faults: how each is found and how it is fixed. One that has a name and no home here does not compile. */
const faults: { readonly [N in CheckName]: readonly [check: { readonly name: N }, fix: unknown] } = {
  pop: [pop, popFix],
  hitch: [hitch, hitchFix],
  "hard-stop": [hardStop, hardStopFix],
  "hard-start": [hardStart, hardStartFix],
  "spacing-jump": [spacingJump, spacingJumpFix],
  "even-spacing": [evenSpacing, evenSpacingFix],
  "over-speed": [overSpeed, overSpeedFix],
  jitter: [jitter, jitterFix],
  "frozen-hold": [frozenHold, frozenHoldFix],
  "same-frame": [sameFrame, sameFrameFix],
  "retraced-path": [retracedPath, retracedPathFix],
  "straight-path": [straightPath, straightPathFix],
  "kinked-path": [kinkedPath, kinkedPathFix],
  "early-stop": [earlyStop, earlyStopFix],
  "lift-before-push": [liftBeforePush, liftBeforePushFix],
  "beat-mismatch": [beatMismatch, beatMismatchFix],
  "hang-time": [hangTime, hangTimeFix],
  "contact-slide": [contactSlide, contactSlideFix],
  "off-ground": [offGround, offGroundFix],
  "through-ground": [throughGround, throughGroundFix],
  "flat-foot": [flatFoot, flatFootFix],
  "one-axis-roll": [oneAxisRoll, oneAxisRollFix],
  "leg-snap": [legSnap, legSnapFix],
  "off-balance": [offBalance, offBalanceFix],
  "body-tied-to-steps": [bodyTiedToSteps, bodyTiedToStepsFix],
  twinning: [twinning, twinningFix],
  "out-of-step": [outOfStep, outOfStepFix],
  "block-move": [blockMove, blockMoveFix],
  "lone-joint": [loneJoint, loneJointFix],
  "no-drag": [noDrag, noDragFix],
  "still-wrist": [stillWrist, stillWristFix],
  "still-fingers": [stillFingers, stillFingersFix],
  "competing-moves": [competingMoves, competingMovesFix],
  "raised-shoulders": [raisedShoulders, raisedShouldersFix],
  "rotation-flip": [rotationFlip, rotationFlipFix],
  "gimbal-lock": [gimbalLock, gimbalLockFix],
  overshoot: [overshoot, overshootFix],
  "key-off-frame": [keyOffFrame, keyOffFrameFix],
  "key-crowding": [keyCrowding, keyCrowdingFix],
  "idle-curve": [idleCurve, idleCurveFix],
  "frozen-end": [frozenEnd, frozenEndFix],
  "gait-speed": [gaitSpeed, gaitSpeedFix],
  "no-settle": [noSettle, noSettleFix],
  "no-anticipation": [noAnticipation, noAnticipationFix],
  "quick-top": [quickTop, quickTopFix],
  "straight-set": [straightSet, straightSetFix],
  "late-reach": [lateReach, lateReachFix],
  "merged-silhouette": [mergedSilhouette, mergedSilhouetteFix],
  "limb-at-lens": [limbAtLens, limbAtLensFix],
  "frame-edge": [frameEdge, frameEdgeFix],
  "eye-line": [eyeLine, eyeLineFix],
  "early-look": [earlyLook, earlyLookFix],
  "blending-colours": [blendingColours, blendingColoursFix],
  flashing: [flashing, flashingFix],
  "mirrored-steps": [mirroredSteps, mirroredStepsFix],
  "grip-slip": [gripSlip, gripSlipFix],
  "no-load": [noLoad, noLoadFix],
  "short-pose": [shortPose, shortPoseFix],
  "through-prop": [throughProp, throughPropFix],
  "frozen-part": [frozenPart, frozenPartFix],
  "lone-arm": [loneArm, loneArmFix],
  "missed-contact": [missedContact, missedContactFix],
  "moves-by-itself": [movesByItself, movesByItselfFix],
};

/** All checks, by family. */
export const registry: readonly Check[] = checkNames.map((name) => faults[name][0] as unknown as Check);

/**
 * A check by its name.
 * @param name such as `hard-stop`
 * @returns undefined where the program has no check of this name
 */
export function checkNamed(name: string): Check | undefined {
  return Object.hasOwn(faults, name) ? (faults[name as CheckName][0] as unknown as Check) : undefined;
}

/** The fix for the notes of a check; undefined for a check of a studio's own. */
export function fixNamed(name: string): Fix | undefined {
  return Object.hasOwn(faults, name) ? (faults[name as CheckName][1] as Fix) : undefined;
}
