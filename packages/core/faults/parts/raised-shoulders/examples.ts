import { defineExamples } from "../../shared/examples/example.ts";
import { revalued } from "../../shared/examples/keying.ts";
import { bipedDocument, bipedWithout, type Curves, everyFrame } from "../../shared/examples/motions.ts";
import { raisedShoulders } from "./check.ts";

const constant = (value: number) => everyFrame(1, 48, () => value);
/** The biped with arms that hang and sway a little, its left shoulder raised by an angle. */
const figure =
  (shoulder: (frame: number) => number, more: Curves = {}) =>
  () =>
    bipedDocument({
      "shoulder_l rotation.z": everyFrame(1, 48, shoulder),
      "upper_arm_l rotation.z": everyFrame(1, 48, (frame) => -75 + 3 * Math.sin(frame / 5) - shoulder(frame)),
      "upper_arm_r rotation.z": everyFrame(1, 48, (frame) => 75 + 3 * Math.sin(frame / 5)),
      ...more,
    });
const at = (angle: number) => () => angle;
/** Height in metres of a shoulder joint that stands 0.14 m out on a collar bone turned up by 20°. */
const raised = 0.14 * Math.sin((20 * Math.PI) / 180);
const note = {
  node: "shoulder_l",
  frames: [1, 48],
  key: { node: "shoulder_l", channel: "rotation.z" },
  measured: raised,
} as const;

/** The same with its trunk to the front instead of up. */
const level = (motion: ReturnType<typeof figure>) => () => {
  const shot = motion();
  const nodes = shot.nodes.map((node) => {
    const [x, y, z] = node.translation ?? [0, 0, 0];
    return /spine|chest|shoulder/.test(node.id)
      ? { ...node, translation: [x, z, y] as [number, number, number] }
      : node;
  });
  return { ...shot, nodes };
};

/** The same in a document whose z points up: its root turns what hangs on it from y up to z up. */
const zUp = (motion: ReturnType<typeof figure>) => () => {
  const shot = motion();
  const nodes = shot.nodes.map((node) => {
    const [x, y, z] = node.translation ?? [0, 0, 0];
    return node.parent === undefined
      ? {
          ...node,
          translation: [x, -z, y] as [number, number, number],
          fixedRotation: [Math.SQRT1_2, 0, 0, Math.SQRT1_2] as [number, number, number, number],
        }
      : node;
  });
  return { ...shot, space: { ...shot.space, up: "z" as const }, nodes };
};

export const raisedShouldersExamples = defineExamples(raisedShoulders, {
  faulty: [
    {
      title: "a shoulder that is held high through the shot, the arm down",
      motion: figure(at(20)),
      right: figure(at(0)),
      note,
    },
    {
      title: "a raised shoulder of a body that leans forward",
      motion: figure(at(20), { "hips rotation.x": constant(40) }),
      right: figure(at(0), { "hips rotation.x": constant(40) }),
      note,
    },
    {
      title: "a raised shoulder of a body whose root turns it from y up to z up",
      motion: zUp(figure(at(20))),
      right: zUp(figure(at(0))),
      note,
    },
    {
      title: "a shoulder that comes down only at the end",
      motion: figure((frame) => (frame <= 40 ? 20 : 0)),
      right: figure((frame) => (frame <= 12 ? 20 : 0)),
      // The mean of the frames in which it is high.
      note,
    },
  ],
  silent: [
    {
      title: "fore legs of a trunk that lies level",
      motion: level(figure(at(20))),
      unexcused: figure(at(20)),
    },
    { title: "shoulders at rest", motion: figure(at(0)) },
    {
      title: "a shrug",
      motion: figure((frame) => (frame > 12 && frame < 24 ? 20 : 0)),
    },
    {
      title: "a shoulder whose arm is up",
      motion: figure(at(20), { "upper_arm_l rotation.z": constant(40) }),
    },
    {
      title: "a figure whose shoulders have no joint to raise",
      motion: () =>
        bipedWithout(/shoulder/, {
          "upper_arm_l rotation.z": constant(-65),
          "upper_arm_l translation.y": constant(0.17 + raised),
        }),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "shoulder_l",
    frames: [1, 136],
    slip: "all keys of the left shoulder are 14° too high, as from a start pose that was never let down",
    edits: [(shot) => revalued(shot, "shoulder_l", "rotation.z", 1, 136, (value) => value + 14)],
  },
  picture: { draws: "figure", seen: "front", at: [24], only: ["chest"] },
});
