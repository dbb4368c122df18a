// @ts-check
/**
 * Feet that are planted, roll off, swing and land.
 * @typedef {object} Plant
 * @property {number} from frame at which the foot lands @property {number} to frame at which it leaves
 * @property {number[]} at point on the ground below the ankle @property {number} yaw heading in degrees
 * @property {number} [strike] pitch at landing: above 0 on the ball, below 0 on the heel
 * @property {number} [flat] frame at which the whole foot is down (default 4 after landing)
 * @property {number} [heelOff] frame at which the heel begins to rise (default 7 before leaving)
 * @property {number} [push] pitch at leaving
 * @property {number} [lift] how high the foot is carried over the way to the next plant
 */
import { minimumJerk } from "./moves.mjs";

/**
 * Course from 0 to 1 that starts at rest and arrives with some of its mean speed, as a foot does that is set down.
 * @param {number} tau share of the time @param {number} speed at arrival, 1 is the mean speed
 */
export function arriving(tau, speed) {
  const t = Math.max(0, Math.min(1, tau));
  return t * t * t * (10 - 4 * speed + t * (7 * speed - 15 + t * (6 - 3 * speed)));
}

/**
 * Where a foot stands and how it is pitched, at any frame. While planted only the pitch changes.
 * @param {Plant[]} plants in order of time
 * @returns {(frame: number) => { place: number[], yaw: number, pitch: number, planted: boolean }}
 */
export function footTrack(plants) {
  return (frame) => {
    let i = plants.length - 1;
    while (i > 0 && frame < plants[i].from) i--;
    const plant = plants[i];
    const next = plants[i + 1];
    const flat = plant.flat ?? plant.from + 4;
    const heelOff = plant.heelOff ?? plant.to - 7;
    const push = plant.push ?? 0;
    const landing = i === 0 ? 0 : (plant.strike ?? 0);
    if (next === undefined || frame <= plant.to) {
      const down = landing * (1 - minimumJerk((frame - plant.from) / (flat - plant.from)));
      const up = push * minimumJerk((frame - heelOff) / (plant.to - heelOff));
      return { place: plant.at, yaw: plant.yaw, pitch: down + up, planted: true };
    }
    const tau = (frame - plant.to) / (next.from - plant.to);
    const along = arriving(tau, 0.3);
    const falls = next.at[1] < plant.at[1] - 1;
    const down = falls ? arriving((tau - 0.3) / 0.7, 0.7) : along;
    const bump = (plant.lift ?? 6) * 64 * (tau * (1 - tau)) ** 3;
    const place = plant.at.map((value, axis) =>
      axis === 1 ? value + (next.at[1] - value) * down + bump : value + (next.at[axis] - value) * along,
    );
    const pitch = push + ((next.strike ?? 0) - push) * along;
    return { place, yaw: plant.yaw + (next.yaw - plant.yaw) * along, pitch, planted: false };
  };
}
