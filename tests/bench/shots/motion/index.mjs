// @ts-check
/** Tools for the dense table; each is explained where it stands. */
export { addBreath, addGesture, addMovingHold, eased, minimumJerk } from "./eases.mjs";
export {
  addTrack,
  channelAt,
  copy,
  emptyPerformance,
  figureOf,
  framesOf,
  restOf,
  setTrack,
  trackOf,
} from "./performance.mjs";
export { rigOf } from "./rig.mjs";
export { massCentreAt, poseAt, worldAt } from "./world.mjs";
