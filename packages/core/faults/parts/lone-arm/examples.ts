import { standardGravity } from "../../../base/constants.ts";
import { plus } from "../../../base/vector.ts";
import type { CurveDocument } from "../../../document/schema.ts";
import { holdingDocument } from "../../props/shared/held-motions.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { bipedDocument, type Curves, eased, everyFrame, onTwos } from "../../shared/examples/motions.ts";
import { loneArm } from "./check.ts";

const turn = (from: number, to: number, start: number, end: number) =>
  everyFrame(1, 48, eased(from, to, start, end));

/** The left arm goes out to the front, from a bent elbow at the side to this bend. */
const out = (bend: number): Curves => ({
  "upper_arm_l rotation.y": turn(10, 26, 20, -70),
  "upper_arm_l rotation.z": turn(10, 26, -60, -10),
  "forearm_l rotation.y": turn(10, 26, -80, -bend),
});

/** The left hand comes to a bell and stays there. */
const reach = (curves: Curves, more: Curves = {}, frames: [number, number] = [30, 48]): CurveDocument =>
  bipedDocument({ ...curves, ...more }, { more: { contacts: [{ node: "hand_l", with: "bell", frames }] } });

/** Hips and chest go into it, a little before the arm. */
const into: Curves = {
  "spine rotation.x": turn(8, 24, 0, 12),
  "chest rotation.y": turn(8, 24, 0, -18),
};

/** The arm swings round to the front, and lets go of a ball on the way. */
const swing = (angle: number): Curves => ({
  "upper_arm_l rotation.y": turn(14, 28, 40, 40 - angle),
  "upper_arm_l rotation.z": turn(14, 28, -10, 0),
  "forearm_l rotation.y": turn(14, 28, -60, -20),
});
const lets = 22;

/** A ball of so many kilograms that flies from the left hand at so many metres per second to the front. */
const thrown = (curves: Curves, speed: number, mass: number): CurveDocument =>
  holdingDocument(curves, [1, 48], {
    node: "ball",
    shapes: [{ kind: "sphere", radius: 0.05 }],
    path: (frame, hand) => {
      const held = Math.min(lets, frame);
      const time = (frame - held) / 24;
      const [x, , z] = [0, 1, 2].map((axis) => hand.at(lets)[axis] - hand.at(lets - 1)[axis]);
      const share = speed / Math.hypot(x, z);
      const up = 1.5 * time - (standardGravity / 2) * time * time;
      return plus(hand.at(held), [share * x * time, 0.06 + up, share * z * time]);
    },
    prop: { mass, heldBy: [{ node: "hand_l", frames: [1, lets] }] },
  });

/** Hips and chest turn into the throw before the arm comes round. */
const wound: Curves = {
  "spine rotation.y": turn(10, 22, 20, -10),
  "chest rotation.y": turn(11, 24, 20, -15),
};

const trunk = (["spine", "chest", "hips"] as const).map((node) => ({ node, channel: "rotation.y" as const }));

export const loneArmExamples = defineExamples(loneArm, {
  faulty: [
    {
      title: "an arm that goes out to a bell on a body that stands still",
      motion: () => reach(out(5), { "chest rotation.y": turn(8, 24, 0, -1) }),
      right: () => reach(out(20), into),
      note: {
        node: "hand_l",
        frames: [13, 24],
        key: { node: "chest", channel: "rotation.y" },
        measured: 0.0179,
      },
    },
    {
      title: "a throw out of the shoulder alone",
      motion: () => thrown({ ...swing(130), "chest rotation.y": turn(24, 36, 0, -20) }, 6, 0.15),
      right: () => thrown({ ...swing(110), ...wound }, 6, 0.15),
      note: { node: "hand_l", frames: [14, 22], key: trunk, measured: 0 },
    },
    {
      title: "a heavy ball that is thrown slowly, out of the shoulder alone",
      motion: () => thrown({ ...swing(80), "chest rotation.y": turn(24, 36, 0, -20) }, 3, 4),
      right: () => thrown({ ...swing(80), ...wound }, 3, 4),
      note: { node: "hand_l", frames: [14, 22], key: trunk, measured: 0 },
    },
  ],
  silent: [
    { title: "a reach into which hips and chest go", motion: () => reach(out(20), into) },
    {
      title: "a reach within the arm's length",
      motion: () => reach(out(60)),
      unexcused: () => reach(out(5)),
    },
    {
      title: "an arm that goes out and touches nothing",
      motion: () => bipedDocument(out(5), { range: [1, 48] }),
      unexcused: () => reach(out(5)),
    },
    {
      title: "a toss from the arm",
      motion: () => thrown(swing(80), 3, 0.15),
      unexcused: () => thrown(swing(80), 3, 4),
    },
    {
      title: "a throw into which the trunk turns",
      motion: () => thrown({ ...swing(110), ...wound }, 6, 0.15),
    },
    {
      title: "a reach of a body that leans there already",
      motion: () => reach(out(5), { "hips rotation.x": [[1, 25]] }),
      unexcused: () => reach(out(5), { "hips rotation.x": [[1, 5]] }),
    },
    {
      title: "a reach on twos",
      motion: () =>
        reach(
          Object.fromEntries(
            (
              [
                ["upper_arm_l rotation.y", 20, -70],
                ["upper_arm_l rotation.z", -60, -10],
                ["forearm_l rotation.y", -80, -5],
              ] as const
            ).map(([name, start, end]) => [name, onTwos(1, 47, eased(10, 26, start, end))]),
          ),
        ),
      unexcused: () => reach(out(5)),
    },
    {
      title: "a hand that goes down to where it hangs",
      motion: () =>
        reach({
          "upper_arm_l rotation.z": turn(10, 26, 0, -78),
          "forearm_l rotation.y": turn(10, 26, -80, -5),
        }),
    },
  ],
  provocation: {
    shot: "gate_0050_v2",
    node: "hand_l",
    frames: [84, 90],
    slip: "the signaller pulls at a rope over the head as far as the arm goes, and the body takes no part",
    replace: [
      `"nodes": [\n`,
      `"contacts": [\n    { "node": "hand_l", "frames": [105, 107] }\n  ],\n  "nodes": [\n`,
    ],
  },
  picture: { draws: "moves", nodes: ["hand_l", "chest", "hips"], frames: [4, 36] },
});
