/** Feet that roll off and turn outward while they do: the heel swings out about the ball. */

import { foot } from "../../../../demo/motion/biped.mjs";
import { arriving } from "../../../../demo/motion/gait.mjs";
import { add, rotate, subtract, turn } from "../../../../demo/motion/vector.mjs";

/**
 * A foot's step, turned about the ball by some degrees; above 0 the toes go to the figure's left.
 * @template {{ place: number[], yaw: number }} Step
 * @param {Step} step @param {number} by @returns {Step}
 */
export function turnedAboutBall(step, by) {
  const [x, , z] = foot.ball;
  const ball = (yaw) => rotate(turn(1, yaw), [x, 0, z]);
  const yaw = step.yaw + by;
  return { ...step, yaw, place: add(step.place, subtract(ball(step.yaw), ball(yaw))) };
}

/**
 * A track of a foot that turns outward as it rolls off, and back on its way through the air. Each of its steps tells how
 * far, in `outward`, in degrees.
 * @param {(frame: number) => object} track @param {object[]} plants those of the track
 * @param {1 | -1} side 1: the left foot, whose heel swings to the left @param {number} most degrees as the foot leaves
 */
export function rollingOutward(track, plants, side, most) {
  const outwardAt = (frame) => {
    const i = plants.findLastIndex(({ from }) => from <= frame);
    const plant = plants[i];
    const next = plants[i + 1];
    if (plant === undefined || next === undefined) return 0;
    if (frame > plant.to) return most * (1 - arriving((frame - plant.to) / (next.from - plant.to), 0));
    return (most * Math.max(0, track(frame).pitch)) / plant.push;
  };
  return (frame) => {
    const outward = outwardAt(frame);
    return { ...turnedAboutBall(track(frame), -side * outward), outward };
  };
}
