/**
 * How each fault looks: small motions with it and without, a slip in a demo shot that makes its check speak, a picture.
 * `@keyside/core/examples` gives them to tests, docs and the demo; no check reads them.
 */

import { applyKeyEdits } from "../document/edit-text.ts";
import { readShot } from "../document/read.ts";
import { gimbalLockExamples } from "./data/gimbal-lock/examples.ts";
import { idleCurveExamples } from "./data/idle-curve/examples.ts";
import { keyCrowdingExamples } from "./data/key-crowding/examples.ts";
import { keyOffFrameExamples } from "./data/key-off-frame/examples.ts";
import { overshootExamples } from "./data/overshoot/examples.ts";
import { rotationFlipExamples } from "./data/rotation-flip/examples.ts";
import type { CheckName } from "./names.ts";
import { blockMoveExamples } from "./parts/block-move/examples.ts";
import { competingMovesExamples } from "./parts/competing-moves/examples.ts";
import { frozenPartExamples } from "./parts/frozen-part/examples.ts";
import { loneArmExamples } from "./parts/lone-arm/examples.ts";
import { loneJointExamples } from "./parts/lone-joint/examples.ts";
import { noDragExamples } from "./parts/no-drag/examples.ts";
import { outOfStepExamples } from "./parts/out-of-step/examples.ts";
import { raisedShouldersExamples } from "./parts/raised-shoulders/examples.ts";
import { stillFingersExamples } from "./parts/still-fingers/examples.ts";
import { stillWristExamples } from "./parts/still-wrist/examples.ts";
import { straightSetExamples } from "./parts/straight-set/examples.ts";
import { twinningExamples } from "./parts/twinning/examples.ts";
import { kinkedPathExamples } from "./paths/kinked-path/examples.ts";
import { quickTopExamples } from "./paths/quick-top/examples.ts";
import { retracedPathExamples } from "./paths/retraced-path/examples.ts";
import { straightPathExamples } from "./paths/straight-path/examples.ts";
import { gripSlipExamples } from "./props/grip-slip/examples.ts";
import { missedContactExamples } from "./props/missed-contact/examples.ts";
import { movesByItselfExamples } from "./props/moves-by-itself/examples.ts";
import { noLoadExamples } from "./props/no-load/examples.ts";
import { throughPropExamples } from "./props/through-prop/examples.ts";
import type { FaultExamples, Provocation } from "./shared/examples/example.ts";
import { evenSpacingExamples } from "./spacing/even-spacing/examples.ts";
import { frozenEndExamples } from "./spacing/frozen-end/examples.ts";
import { frozenHoldExamples } from "./spacing/frozen-hold/examples.ts";
import { hardStartExamples } from "./spacing/hard-start/examples.ts";
import { hardStopExamples } from "./spacing/hard-stop/examples.ts";
import { hitchExamples } from "./spacing/hitch/examples.ts";
import { jitterExamples } from "./spacing/jitter/examples.ts";
import { lateReachExamples } from "./spacing/late-reach/examples.ts";
import { overSpeedExamples } from "./spacing/over-speed/examples.ts";
import { popExamples } from "./spacing/pop/examples.ts";
import { sameFrameExamples } from "./spacing/same-frame/examples.ts";
import { shortPoseExamples } from "./spacing/short-pose/examples.ts";
import { spacingJumpExamples } from "./spacing/spacing-jump/examples.ts";
import { blendingColoursExamples } from "./staging/blending-colours/examples.ts";
import { earlyLookExamples } from "./staging/early-look/examples.ts";
import { eyeLineExamples } from "./staging/eye-line/examples.ts";
import { flashingExamples } from "./staging/flashing/examples.ts";
import { frameEdgeExamples } from "./staging/frame-edge/examples.ts";
import { limbAtLensExamples } from "./staging/limb-at-lens/examples.ts";
import { mergedSilhouetteExamples } from "./staging/merged-silhouette/examples.ts";
import { beatMismatchExamples } from "./weight/beat-mismatch/examples.ts";
import { bodyTiedToStepsExamples } from "./weight/body-tied-to-steps/examples.ts";
import { contactSlideExamples } from "./weight/contact-slide/examples.ts";
import { earlyStopExamples } from "./weight/early-stop/examples.ts";
import { flatFootExamples } from "./weight/flat-foot/examples.ts";
import { gaitSpeedExamples } from "./weight/gait-speed/examples.ts";
import { hangTimeExamples } from "./weight/hang-time/examples.ts";
import { legSnapExamples } from "./weight/leg-snap/examples.ts";
import { liftBeforePushExamples } from "./weight/lift-before-push/examples.ts";
import { mirroredStepsExamples } from "./weight/mirrored-steps/examples.ts";
import { noAnticipationExamples } from "./weight/no-anticipation/examples.ts";
import { noSettleExamples } from "./weight/no-settle/examples.ts";
import { offBalanceExamples } from "./weight/off-balance/examples.ts";
import { offGroundExamples } from "./weight/off-ground/examples.ts";
import { oneAxisRollExamples } from "./weight/one-axis-roll/examples.ts";
import { throughGroundExamples } from "./weight/through-ground/examples.ts";

export * from "./shared/examples/example.ts";
export * from "./shared/examples/motions.ts";

/** The examples of each check. One that has a name and no examples does not compile. */
export const examples: Readonly<Record<CheckName, FaultExamples>> = {
  pop: popExamples,
  hitch: hitchExamples,
  "hard-stop": hardStopExamples,
  "hard-start": hardStartExamples,
  "spacing-jump": spacingJumpExamples,
  "even-spacing": evenSpacingExamples,
  "over-speed": overSpeedExamples,
  jitter: jitterExamples,
  "frozen-hold": frozenHoldExamples,
  "same-frame": sameFrameExamples,
  "early-stop": earlyStopExamples,
  "lift-before-push": liftBeforePushExamples,
  "beat-mismatch": beatMismatchExamples,
  "hang-time": hangTimeExamples,
  "contact-slide": contactSlideExamples,
  "off-ground": offGroundExamples,
  "through-ground": throughGroundExamples,
  "flat-foot": flatFootExamples,
  "one-axis-roll": oneAxisRollExamples,
  "leg-snap": legSnapExamples,
  "off-balance": offBalanceExamples,
  "body-tied-to-steps": bodyTiedToStepsExamples,
  "block-move": blockMoveExamples,
  "lone-joint": loneJointExamples,
  "retraced-path": retracedPathExamples,
  "straight-path": straightPathExamples,
  "kinked-path": kinkedPathExamples,
  "rotation-flip": rotationFlipExamples,
  "gimbal-lock": gimbalLockExamples,
  overshoot: overshootExamples,
  "key-off-frame": keyOffFrameExamples,
  "key-crowding": keyCrowdingExamples,
  "idle-curve": idleCurveExamples,
  "competing-moves": competingMovesExamples,
  "no-drag": noDragExamples,
  "raised-shoulders": raisedShouldersExamples,
  "still-fingers": stillFingersExamples,
  "still-wrist": stillWristExamples,
  twinning: twinningExamples,
  "out-of-step": outOfStepExamples,
  "frozen-end": frozenEndExamples,
  "gait-speed": gaitSpeedExamples,
  "no-settle": noSettleExamples,
  "no-anticipation": noAnticipationExamples,
  "quick-top": quickTopExamples,
  "straight-set": straightSetExamples,
  "late-reach": lateReachExamples,
  "merged-silhouette": mergedSilhouetteExamples,
  "limb-at-lens": limbAtLensExamples,
  "frame-edge": frameEdgeExamples,
  "eye-line": eyeLineExamples,
  "early-look": earlyLookExamples,
  "blending-colours": blendingColoursExamples,
  flashing: flashingExamples,
  "mirrored-steps": mirroredStepsExamples,
  "grip-slip": gripSlipExamples,
  "no-load": noLoadExamples,
  "short-pose": shortPoseExamples,
  "through-prop": throughPropExamples,
  "frozen-part": frozenPartExamples,
  "lone-arm": loneArmExamples,
  "missed-contact": missedContactExamples,
  "moves-by-itself": movesByItselfExamples,
};

/**
 * The text of a demo shot with a provocation's slip in it.
 * @param text of the version that the provocation names
 * @throws Error where the text is no shot, or does not hold what is to be replaced exactly once
 */
export function provokedText(text: string, { shot: name, edits = [], replace }: Provocation): string {
  let changed = text;
  if (replace !== undefined) {
    if (text.split(replace[0]).length !== 2)
      throw new Error(`${name} does not hold this once: ${replace[0]}`);
    changed = text.replace(...(replace as [string, string]));
  }
  const shotIn = (document: string) => {
    const { shot } = readShot(document);
    if (shot === null) throw new Error(`${name} is no shot.`);
    return shot;
  };
  const before = shotIn(changed);
  for (const edit of edits) {
    const shot = shotIn(changed);
    changed = applyKeyEdits(changed, shot, edit(shot, before));
  }
  return changed;
}
