/**
 * What Keyside's own command, adapters, demo and docs need of the core beyond its public list (`index.ts`). Nothing here
 * is promised: any of it may change or go with the next version. Scripts and plug-ins keep to the public list.
 */

// Numbers and words.

export { degreesPerRadian } from "./base/constants.ts";
export { nearestName, suggestion } from "./base/nearest.ts";
export { numbersInWords, withUnit } from "./base/number-words.ts";
export { kindOf, units } from "./base/quantity.ts";
export { conjugate, multiplyQuaternions, rotationVectorOf } from "./base/quaternion.ts";
export { sentence } from "./base/sentence.ts";
export { across } from "./base/vector.ts";
export { partHeading } from "./notes/wording.ts";

// The text of a document while it is edited.

export { shortMessage } from "./base/short-message.ts";
export { keyEditSchema } from "./document/edit.ts";
export { jsonFault } from "./document/json-fault.ts";
export { type HeaderPlaces, mildProblems } from "./document/model.ts";
export { type IdKind, idLists, references } from "./document/references.ts";
export { type ChangeStep, rereadSteps, sameCurveData, type TextChange } from "./document/reread.ts";
export { waiverSchema } from "./document/schema.ts";
export { isUsable, whyUnusable } from "./document/terms.ts";
export { isFrameRate } from "./document/validate/frame-rate.ts";

// What holds.

export { allStrengthsOf, heldOf, mostStrengths } from "./strengths/found.ts";
export { strengthNames } from "./strengths/names.ts";
export { strengthKinds } from "./strengths/registry.ts";
export type { StrengthKind } from "./strengths/strength.ts";

// Settings in force.

export { checkIn, checksIn } from "./expressions/checks.ts";
export { ownChecksOf } from "./expressions/own-check.ts";
export { foreignCheck, foreignCheckFaults } from "./faults/foreign-check.ts";
export { rateFrom } from "./settings/config.ts";
export { defaultTiers, ownName } from "./settings/resolve.ts";
export { stageSentences } from "./settings/stage.ts";
export { settingsOf, styleSentences } from "./settings/study.ts";
export {
  chainOf,
  changeOf,
  changeWords,
  type StyleChain,
  styleChanges,
  styledCheck,
} from "./settings/style-chain.ts";
export { styles } from "./settings/styles.ts";

// Poses.

export { groundOf } from "./motion/ground/foot.ts";
export { carrierOf } from "./rig/body.ts";
export { type LocalMotion, type LocalSeries, localMotionOf, quaternionCurveOf } from "./rig/local.ts";
export { outerWorldOf } from "./rig/pose.ts";
export { farReachOf } from "./rig/reach.ts";
export { radiansPerUnitOf, restPositionsOf } from "./rig/rig.ts";
export { scaleOf } from "./rig/stature.ts";

// What the camera sees, and props.

export { gripsOf } from "./motion/parts/grips.ts";
export { commonCentreOf } from "./motion/parts/loads.ts";
export { propsOf } from "./rig/props.ts";
export { type Lens, lensOf } from "./staging/camera.ts";
export { type Colour, noColour, writtenColour } from "./staging/colour.ts";
export { type Drawable, drawablesOf, drawSolids, wholePicture } from "./staging/draw.ts";
export { type Bone, bonesOf } from "./staging/flesh.ts";
export { backgroundOf, colourOf } from "./staging/painted.ts";
export { Raster, type Window } from "./staging/raster.ts";
export { projectPoint, screenOf, seenWidth } from "./staging/screen.ts";
export { type Outline, outlinesOf, pathsOf, type Solid, solidsOf } from "./staging/solids.ts";
export { isVisible } from "./staging/visible.ts";

// Notes, waivers, fixes and comparisons as they are written and read.

export { fixNamed } from "./faults/registry.ts";
export { comparisonJsonSchema, type ReportedComparison } from "./notes/compare-schema.ts";
export { fingerprintOf } from "./notes/fingerprint.ts";
export { type ShotHistory, shotHistoryJsonSchema } from "./notes/followed-schema.ts";
export { type MotionElsewhere, motionElsewhere } from "./notes/motion-elsewhere.ts";
export { failureSchema, rankSchema, reportJsonSchema, reportSchema } from "./notes/report-schema.ts";
export { waiverFileJsonSchema } from "./notes/waiver-file.ts";
export { unusedWaiver, waiversBesideOf } from "./notes/waivers.ts";
export { type FixReport, fixJsonSchema, moveSchema } from "./session/fix-schema.ts";
export { changedLines } from "./session/fixed-text.ts";
export type { KeyMove } from "./session/moves.ts";
export { noteChanges } from "./session/note-changes.ts";
export { fixAllInSteps } from "./session/proving.ts";

// The review in the messages of the host channel.

export { strokeSchema } from "./review/schema.ts";
