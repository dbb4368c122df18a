/** A figure crouches, jumps forward, lands and rises. 24 frames per second. */

import { stateAt } from "../../../../demo/motion/biped.mjs";
import { draggedChain, seriesAt, trailing } from "../../../../demo/motion/drag.mjs";
import { footTrack } from "../../../../demo/motion/gait.mjs";
import { keyCourse } from "../../../../demo/motion/keying.mjs";
import { flightSpeeds, gravity, minimumJerk, moves, pathThrough } from "../../../../demo/motion/moves.mjs";
import { nodeIn, poseOf } from "../../../../demo/motion/skeleton.mjs";
import { biped } from "./stand.mjs";

const rate = 24;
const from = 1;
const to = 96;
export const off = 40;
export const air = 12;
export const down = off + air;
const stand = 97;
/** Height of the centre of mass at landing: knees bent, so that the legs have length to spare. */
const landing = 92;

export function jump() {
  const range = { from, to };
  const speeds = flightSpeeds(air / rate, 106, landing);
  const height = pathThrough(rate, [
    { frame: 8, at: stand },
    { frame: 28, at: stand - 27 },
    { frame: 31, at: stand - 27.5, acceleration: 900 },
    { frame: off, at: 106, speed: speeds.takeOff, acceleration: -gravity },
    { frame: down, at: landing, speed: speeds.landing, acceleration: -gravity },
    { frame: down + 7, at: stand - 29, acceleration: 1000 },
    { frame: down + 26, at: stand + 0.3 },
    { frame: to, at: stand - 0.3 },
  ]);
  const ahead = pathThrough(rate, [
    { frame: 8, at: 0 },
    { frame: 26, at: -1.5 },
    { frame: off, at: 7, speed: 84 },
    { frame: down, at: 7 + (84 * air) / rate, speed: 84 },
    { frame: down + 16, at: 64 },
    { frame: to, at: 63 },
  ]);
  const rise = height(down) - height(off);
  const fly = (f) =>
    f <= off || f >= down ? 0 : height(f) - height(off) - rise * minimumJerk((f - off) / air);
  const foot = (x, out, late) => {
    const track = footTrack([
      { from, to: off, at: [x, 0, 0], yaw: out, heelOff: off - 8, push: 46, lift: 0 },
      { from: down, to, at: [x * 1.15, 0, 60 + 3 * late], yaw: out, strike: 16, flat: down + 4, lift: 0 },
    ]);
    const tuck = moves(0, [off + late, off + 5 + late, 9], [down - 5, down, -9]);
    return (f) => {
      const step = track(f);
      const lifted = f > off && f < down ? fly(f) + tuck(f) : 0;
      return { ...step, place: [step.place[0], step.place[1] + lifted, step.place[2]] };
    };
  };
  const bow = moves(
    2,
    [6, 27, 24],
    [29, 39, -26],
    [down - 4, down + 6, 22],
    [down + 7, down + 26, -20],
    [82, to, 0.8],
  );
  const arm = (side, late, less) => {
    const swing = moves(
      0,
      [8 + late, 26 + late, 46 * less],
      [28 + late, 41 + late, -150 * less],
      [down - 6 + late, down + 8 + late, 122 * less],
      [down + 12 + 2 * late, down + 32 + late, -18 * less],
      [84, to, 0.8],
    );
    const trail = trailing(swing, { ...range, lag: 2.2, gain: 0.4 });
    const out = side === "l" ? 1 : -1;
    return (f) => ({
      [`upper_arm_${side}`]: [swing(f), 0, out * (8 + 0.08 * Math.abs(swing(f - 2)))],
      [`forearm_${side}`]: [-18 - 0.14 * Math.abs(swing(f - 2)) + 0.4 * trail(f), 0, 0],
      [`hand_${side}`]: [-5 + 0.7 * trail(f - 1), 0, out * 0.3 * trail(f - 2)],
      [`fingers_${side}`]: [-20 + 0.4 * trail(f - 3), 0, 0],
    });
  };
  const [left, right] = [arm("l", 0, 1), arm("r", 2, 0.86)];
  const nod = trailing(height, { ...range, lag: 2, gain: 0.25 });
  const lean = moves(0, [10, 26, 2.4], [30, 44, -4], [down, down + 12, 3.5], [down + 14, down + 30, -1.9]);
  const angles = (f) => ({
    hips: [0.5 * bow(f), 0.6 * lean(f), 0.5 * lean(f)],
    spine: [0.35 * bow(f - 1), -0.7 * lean(f - 1), -0.3 * lean(f - 1)],
    chest: [0.35 * bow(f - 2), -0.6 * lean(f - 2), -0.3 * lean(f - 2)],
    neck: [-0.4 * bow(f - 2), 0.4 * lean(f - 3), 0],
    head: [-0.5 * bow(f - 3) + nod(f), 0.3 * lean(f - 4), 0],
    ...left(f),
    ...right(f),
  });
  return biped(
    {
      name: "jump",
      rate,
      from,
      to,
      hair: true,
      angles,
      massCentre: (f) => [0.3 * lean(f), height(f), ahead(f)],
      feet: { l: foot(9.5, 7, 0), r: foot(-9.5, -7, 1) },
      toeFlat: (f) => 1 - 0.6 * minimumJerk((f - off) / 6) + 0.6 * minimumJerk((f - down + 5) / 5),
    },
    (nodes, curves) => plait(nodes, curves, { from, to, rate }),
  );
}

/** Hair that hangs from the head and is dragged by it. */
export function plait(nodes, curves, { from, to, rate }) {
  const base = (f) => {
    const { angles, places } = stateAt(nodes, curves, f);
    return nodeIn(poseOf(nodes, angles, places), "head");
  };
  const links = [
    [0, -10, 0],
    [0, -10, 0],
    [0, -10, 0],
    [0, -9, 0],
  ];
  const how = { from, to, rate, links, order: "xzy", stiffness: 260, damping: 16, gravity };
  return draggedChain(base, how, [0, 12, -9]).flatMap((series, n) => {
    const node = nodes.find(({ id }) => id === `hair_${n + 1}`);
    return keyCourse(node, "rotation", seriesAt(series, from), { from, to, tolerance: 0.25 });
  });
}
