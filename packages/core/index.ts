/**
 * Keyside as a library: read or build a shot, pose it, measure it, check it, fix it, compare it, edit it live, and write
 * checks. docs/scripting.md tells what each of these is for. What stands here is kept.
 *
 * Lengths are metres (y up), angles radians, times seconds unless a name says otherwise. A series has one entry per
 * judged frame (`gridOf`), or three or four side by side. Nodes are rig indices, figures are indices into `figuresOf`.
 * No function here reads or writes files.
 */

// Reading, building and writing a shot.

export { documentJsonSchema } from "./document/json-schema.ts";
export {
  type Channel,
  type Curve,
  type CurveKeys,
  channels,
  type FrameRate,
  type Interpolation,
  interpolations,
  type Problem,
  type ReadResult,
  type Shot,
} from "./document/model.ts";
export { type LineColumn, lineStartsOf, placeAt } from "./document/place.ts";
export { readShot, shotOf } from "./document/read.ts";
export {
  type BodyPart,
  bodyParts,
  type CameraSpec,
  type CurveDocument,
  type CurveSpec,
  type DocumentHeader,
  type FigureSpec,
  type LimbSpec,
  type NodeSpec,
  type PropSpec,
  type ShapeSpec,
  type SoundSpec,
  type StageSpec,
  type SurfaceSpec,
  type SurroundingSpec,
  type WorkStage,
  workStages,
} from "./document/schema.ts";
export { writeDocument } from "./document/write.ts";

// Settings and the study.

export type { ChosenValue } from "./base/quantity.ts";
export { Study } from "./base/study.ts";
export { configJsonSchema, readConfig } from "./expressions/config.ts";
export { checkNamed, registry } from "./faults/registry.ts";
export {
  type CheckChoice,
  type Config,
  ConfigError,
  type ConfigProblem,
  type OwnStyle,
  type OwnStyles,
  type StyleChoice,
} from "./settings/config.ts";
export { defaultSettings, type Overrides, resolveSettings } from "./settings/resolve.ts";
export type { CheckSettings, ConfigurableCheck, ResolvedSettings } from "./settings/settings.ts";
export { setSettings, studyOf } from "./settings/study.ts";
export { type StyleName, styleNames } from "./settings/styles.ts";
export { type ChosenTier, type Tier, tiers } from "./settings/tier.ts";

// Posing.

export { angleBetween, rotated } from "./base/quaternion.ts";
export { minus, plus, pointAt, scaled, type Vector, vectorLength } from "./base/vector.ts";
export { sampleCurve, valueAt } from "./curve/evaluate.ts";
export { curveName, curveNamesOf, curveOf, headerOf } from "./document/inputs.ts";
export { nodeNameOf } from "./notes/wording.ts";
export { type Figure, type FigureKind, figureOfNode, figuresOf, inferredOf, statureOf } from "./rig/body.ts";
export { chainOf, subtreeOf, type World, worldOf } from "./rig/pose.ts";
export { reachOf } from "./rig/reach.ts";
export { type Rig, rigOf } from "./rig/rig.ts";
export { metresPerUnitOf } from "./rig/stature.ts";
export {
  type BodyPlan,
  type BodyVerdict,
  type Certainty,
  guessesOf,
  type ShotVerdict,
  verdictOf,
} from "./rig/verdict.ts";
export { type Grid, gridOf, sampleAt } from "./time/grid.ts";

// Measuring.

export { inDegrees, inRadians, referenceRate, standardGravity } from "./base/constants.ts";
export { type Measure, measure, type ShotMeasure, sameNumbers, shotMeasure } from "./base/study.ts";
export { type Balance, balanceAt, type GroundPoint, supportPolygonOf } from "./motion/body/balance.ts";
export { airborneAt, clearanceOf, type Flight, flightsOf } from "./motion/body/flight.ts";
export { impactsOf } from "./motion/body/impact.ts";
export { massCentreAccelerationOf, massCentreOf, massCentreVelocityOf } from "./motion/body/mass-centre.ts";
export { type Contact, contactsOf } from "./motion/ground/contact.ts";
export { type Hold, holdsOf, type Move, movesOf } from "./motion/path/moves.ts";
export {
  accelerationOf,
  angularSpeedOf,
  localAngularSpeedOf,
  spacingOf,
  speedOf,
  velocityOf,
} from "./motion/path/spacing.ts";

// Checking.

export type { Evidence, Expected, Measured } from "./base/measured.ts";
export type { Note, NoteKey } from "./faults/note.ts";
export { type CheckFailure, failuresOf, notesOf, reviewOf } from "./notes/found.ts";
export { notesInSteps, type Progress, type Touched } from "./notes/in-steps.ts";
export type {
  ReportError,
  ReportedFailure,
  ReportedFix,
  ReportedNote,
  ReportedPlace,
  ReportedRemark,
  ReportedReview,
  ReportedShot,
  ReportedStrength,
  ReportedWaivedNote,
} from "./notes/report-schema.ts";
export { readWaiverFile, WaiverFileError } from "./notes/waiver-file.ts";
export { waiverFor, waiverPatch } from "./notes/waiver-text.ts";
export {
  type PlacedWaiver,
  type Review,
  setWaiversBeside,
  type WaivedNote,
  type Waiver,
} from "./notes/waivers.ts";
export { type SilenceQuestion, whySilent } from "./notes/why-silent.ts";
export { strengthsOf } from "./strengths/found.ts";
export type { StrengthName } from "./strengths/names.ts";
export type { Strength } from "./strengths/strength.ts";

// Editing and fixing.

export type { TextPatch } from "./document/edit/text-patch.ts";
export {
  type EditResult,
  editShot,
  type KeyEdit,
  KeyEditError,
  type MoveKey,
  type RemoveKey,
  type SetKey,
  tryEditShot,
} from "./document/edit.ts";
export { applyKeyEdits, keyEditPatches } from "./document/edit-text.ts";
export type { KeyChange, KeyState } from "./session/changes.ts";
export { fixedText } from "./session/fixed-text.ts";
export { type FixedShot, FixSession, fixAll, type ProvenFix, provenFix } from "./session/proving.ts";

// Comparing versions.

export {
  bringsNew,
  type Comparison,
  compareNotes,
  type NoteChange,
  type NotePair,
  type Version,
} from "./notes/compare.ts";
export type { Comparable, MatchedBy } from "./notes/compare-match.ts";
export { type TimeMap, type Times, timesBetween } from "./notes/compare-times.ts";

// What people say of a shot.

export { type FollowedState, followedStates } from "./notes/followed-schema.ts";
export {
  type AgendaItem,
  type AgendaNote,
  type AgendaRemark,
  type AgendaSource,
  agendaOf,
} from "./review/agenda.ts";
export {
  type Carried,
  type Carrier,
  carryDecisions,
  type DecidedVersion,
  type NotCarried,
} from "./review/carry.ts";
export {
  addRemark,
  arrangeReview,
  type Changer,
  type Changes,
  changeRemark,
  decide,
  markRemark,
  type NewDecision,
  type NewMark,
  type NewRemark,
  ReviewError,
  removeEntry,
} from "./review/change.ts";
export { decisionAbout, type RemarkState, stateOfRemark, waiversOfReview } from "./review/drops.ts";
export {
  type ReadRows,
  type ReviewColumn,
  type ReviewRow,
  readReviewRows,
  reviewColumns,
  reviewCsv,
  reviewJsonLines,
  reviewRows,
  type TakenRows,
  takeReviewRows,
} from "./review/exchange.ts";
export { isOfAnotherShot, nodeOfRemark, partOfNode, reviewMisfits } from "./review/fit.ts";
export {
  type Followed,
  type FollowedCell,
  type FollowedVersion,
  followVersions,
  isMet,
} from "./review/follow.ts";
export {
  type Habit,
  type HabitGroup,
  HabitTally,
  type HabitVersion,
  leastGone,
  leastShots,
  wilson,
} from "./review/habits.ts";
export { decisionIdOf, newReviewId } from "./review/ids.ts";
export { type MergedReview, mergeReviews } from "./review/merge.ts";
export { motionHashOf, reviewVersionOf } from "./review/motion-hash.ts";
export { printReview } from "./review/print.ts";
export type { ReviewProblem } from "./review/problem.ts";
export { type ReviewRead, readReview } from "./review/read.ts";
export {
  type Decision,
  emptyReview,
  type Mark,
  type MarkState,
  markStates,
  type Remark,
  type ReviewEntry,
  type ReviewFile,
  type ReviewVersion,
  type ReviewWeight,
  reviewFileJsonSchema,
  reviewWeights,
  type Stroke,
} from "./review/schema.ts";
export { type TargetFit, targetFitOf } from "./review/target.ts";

// A shot that is being edited.

export type { NoteChanges } from "./session/note-changes.ts";
export { ShotSession } from "./session/shot-session.ts";

// Writing checks.

export { type Unit, unitNames } from "./base/quantity.ts";
export { causesOf } from "./faults/cause.ts";
export {
  type Caution,
  type Check,
  defineCheck,
  type Family,
  type Fault,
  type Finding,
  families,
  type Scope,
  type Values,
  type Wording,
} from "./faults/check.ts";
export { keysOfNodes } from "./faults/keys-of-nodes.ts";
export type { CheckName } from "./faults/names.ts";
export { valuesOf } from "./faults/values.ts";
export type { Words } from "./faults/words.ts";
export { findingsOf, subjectCount } from "./notes/found.ts";
export type { Setting, SettingSpecs } from "./settings/settings.ts";
export type { StyleChange } from "./settings/styles.ts";
