/**
 * Keyside's core as a library: read or build a shot, pose it, measure it, check it.
 *
 * Lengths are metres (y up), angles radians, times seconds unless a name says otherwise; a series has one entry per
 * judged frame (`gridOf`). No function here reads or writes files.
 */

export * from "./base/constants.ts";
export * from "./base/measured.ts";
export * from "./base/memo.ts";
export * from "./base/nearest.ts";
export { inWords, numbersInWords, withUnit } from "./base/number-words.ts";
export {
  type ChosenValue,
  inWorkingUnits,
  kindOf,
  kinds,
  type Unit,
  unitNames,
  units,
} from "./base/quantity.ts";
export {
  conjugate,
  multiplyQuaternions,
  rotated,
  rotationVectorOf,
} from "./base/quaternion.ts";
export * from "./base/sentence.ts";
export * from "./base/study.ts";
export { across, minus, pointAt, scaled, type Vector, vectorLength } from "./base/vector.ts";
export { sampleCurve, valueAt } from "./curve/evaluate.ts";
export * from "./document/edit.ts";
export { applyKeyEdits, keyEditPatches } from "./document/edit-text.ts";
export * from "./document/inputs.ts";
export * from "./document/json-schema.ts";
export * from "./document/model.ts";
export * from "./document/place.ts";
export * from "./document/read.ts";
export * from "./document/reread.ts";
export * from "./document/schema.ts";
export * from "./document/write.ts";
export { configJsonSchema, readConfig } from "./expressions/config.ts";
export { ownChecksOf } from "./expressions/own-check.ts";
export * from "./faults/cause.ts";
export * from "./faults/check.ts";
export type { Fix } from "./faults/fix.ts";
export * from "./faults/note.ts";
export * from "./faults/registry.ts";
export * from "./faults/values.ts";
export * from "./faults/words.ts";
export * from "./motion/body/flight.ts";
export * from "./motion/body/impact.ts";
export * from "./motion/body/mass-centre.ts";
export * from "./motion/ground/contact.ts";
export * from "./motion/path/minimum-jerk.ts";
export * from "./motion/path/moves.ts";
export * from "./motion/path/spacing.ts";
export * from "./notes/compare.ts";
export { type Comparable, type MatchedBy, matchedBy } from "./notes/compare-match.ts";
export * from "./notes/compare-schema.ts";
export { type TimeMap, type Times, timesBetween } from "./notes/compare-times.ts";
export * from "./notes/fingerprint.ts";
export * from "./notes/found.ts";
export * from "./notes/rank.ts";
export * from "./notes/report-schema.ts";
export * from "./notes/waiver-file.ts";
export * from "./notes/waiver-text.ts";
export * from "./notes/waivers.ts";
export { type SilenceQuestion, whySilent } from "./notes/why-silent.ts";
export * from "./notes/wording.ts";
export * from "./rig/body.ts";
export * from "./rig/pose.ts";
export * from "./rig/reach.ts";
export * from "./rig/rig.ts";
export * from "./rig/stature.ts";
export type { KeyChange, KeyState } from "./session/changes.ts";
export * from "./session/fix-schema.ts";
export { changedLines, fixedText } from "./session/fixed-text.ts";
export * from "./session/note-changes.ts";
export {
  type FixedShot,
  FixSession,
  fixAll,
  fixAllInSteps,
  type ProvenFix,
  provenFix,
} from "./session/proving.ts";
export * from "./session/shot-session.ts";
export {
  type CheckChoice,
  type Config,
  ConfigError,
  type ConfigProblem,
  outOfBounds,
  rateFrom,
} from "./settings/config.ts";
export * from "./settings/resolve.ts";
export * from "./settings/settings.ts";
export * from "./settings/study.ts";
export * from "./settings/styles.ts";
export * from "./settings/tier.ts";
export * from "./time/grid.ts";
