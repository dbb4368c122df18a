/**
 * What a page needs of keys and curves: evaluating and editing them. Nothing that is named here loads schemas, so that a
 * bundle for browsers stays small.
 */
export { type Handles, readHandles, solveTime } from "./curve/bezier.ts";
export { sampleCurve, valueAt } from "./curve/evaluate.ts";
export { allKeys } from "./curve/keys.ts";
export { cubicSlope, smoothSlope } from "./curve/slopes.ts";
export { tryEditShot } from "./document/edit/edited-shot.ts";
export type { KeyEdit, KeyHandle, KeyValue, MoveKey, RemoveKey, SetKey } from "./document/edit/key-edit.ts";
export {
  type Channel,
  type Curve,
  channels,
  type Interpolation,
  interpolations,
  type Shot,
} from "./document/model.ts";
