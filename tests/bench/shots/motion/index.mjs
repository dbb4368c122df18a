// @ts-check
/**
 * Tools for the dense table; each is explained where it stands. A performance is made in this order: `emptyPerformance`; the
 * trunk and free limbs (`addGesture`, `setTrack`, `addBreath`, `addMovingHold`); the root (`addFlight`, `placeMassCentre`);
 * limbs that meet something (`solveLimb`); loose parts last (`dragLimb`).
 */
export { dragChain, dragLimb } from "./drag.mjs";
export { addBreath, addGesture, addMovingHold, eased, minimumJerk } from "./eases.mjs";
export { addFlight, flightCourse, flightTime, gravity, placeMassCentre } from "./flight.mjs";
export { chainOfLimb, localTurn, setTurn, solveLimb } from "./limbs.mjs";
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
export { motionTools, resolve } from "./resolve.mjs";
export { rigOf } from "./rig.mjs";
export { massCentreAt, poseAt, worldAt } from "./world.mjs";
