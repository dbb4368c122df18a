/** A figure crouches to pick a cup up from a low table, stands with it and sets it down again. */
import { stateAt } from "../../../../demo/motion/biped.mjs";
import { trailing } from "../../../../demo/motion/drag.mjs";
import { keyCourse } from "../../../../demo/motion/keying.mjs";
import { moves } from "../../../../demo/motion/moves.mjs";
import { nodeIn, poseOf } from "../../../../demo/motion/skeleton.mjs";
import { biped, standing } from "./stand.mjs";

const from = 1;
const to = 126;
export const grips = 42;
export const releases = 98;

export function crouch() {
  const range = { from, to };
  const down = moves(0, [14, 36, 1], [46, 68, -1], [74, 94, 0.8], [102, 122, -0.8]);
  const reach = moves(0, [16, 40, 1], [47, 66, -0.6], [78, 96, 0.5], [102, 120, -0.9]);
  const turn = moves(0, [10, 28, -14], [48, 64, 10], [72, 88, -8], [104, 122, 12]);
  const sway = moves(0, [16, 40, -5], [42, 58, 7], [74, 98, -6], [100, 114, 5]);
  const follow = trailing(reach, { ...range, lag: 2.2, gain: 22 });
  const dip = trailing(down, { ...range, lag: 2, gain: 15 });
  const curl = moves(
    0,
    [grips - 14, grips - 5, 14],
    [grips - 4, grips + 4, -44],
    [releases - 3, releases + 7, 40],
    [releases + 8, to - 8, -10],
  );
  const angles = (f) => ({
    hips: [3 + 30 * down(f), 0.4 * turn(f), 0.3 * sway(f)],
    spine: [2 + 12 * down(f - 1), 0.3 * turn(f - 1), -0.2 * sway(f - 1)],
    chest: [2 + 9 * down(f - 2), 0.3 * turn(f - 2), -0.2 * sway(f - 2)],
    neck: [-1 - 8 * down(f + 1), 0.3 * turn(f + 2), 0],
    head: [4 - 14 * down(f - 1) + dip(f), 0.5 * turn(f + 1), 0.2 * sway(f - 3)],
    upper_arm_r: [-4 - 62 * reach(f), -4, -9 - 6 * reach(f - 3)],
    forearm_r: [-18 - 14 * reach(f - 3) - 0.6 * follow(f - 1), 0, 0],
    hand_r: [-8 + follow(f), 0, -4 + 0.4 * follow(f - 2)],
    fingers_r: [-26 + curl(f), 0, 0],
    upper_arm_l: [2 + 24 * down(f - 2), 3, 9 + 9 * down(f - 4)],
    forearm_l: [-20 - 16 * down(f - 4), 0, 0],
    hand_l: [-5 + 0.8 * dip(f - 1), 0, 3 + dip(f - 2)],
    fingers_l: [-24 + 0.5 * dip(f - 3), 0, 0],
  });
  return biped(
    {
      name: "crouch",
      rate: 24,
      from,
      to,
      angles,
      massCentre: (f) => [sway(f), 96.5 - 25 * down(f), 3 + 2 * down(f)],
      feet: standing(from, to),
      nodes: [{ id: "cup", translation: [0, 0, 0] }],
      more: { contacts: [{ node: "hand_r", with: "cup", frames: [grips, releases] }] },
    },
    (nodes, curves) => {
      const palm = (f) => {
        const { angles: now, places } = stateAt(nodes, curves, f);
        return nodeIn(poseOf(nodes, now, places), "fingers_r").position;
      };
      const cup = nodes.find(({ id }) => id === "cup");
      const place = (f) => palm(Math.max(grips, Math.min(releases, f)));
      return keyCourse(cup, "translation", place, { from, to, tolerance: 0.1, at: [grips, releases] });
    },
  );
}
