import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { bipedDocument, type Curves, eased, everyFrame, type Keys } from "../../shared/examples/motions.ts";
import { missedContact } from "./check.ts";

type Contacts = NonNullable<CurveDocument["contacts"]>;

/** A body that turns its head, over frames 1 to 60, with what it is said to touch. */
function withContacts(curves: Curves, contacts: Contacts, more: Partial<CurveDocument> = {}): CurveDocument {
  return bipedDocument(
    { "head rotation.y": everyFrame(1, 60, eased(20, 50, 0, 20)), ...curves },
    { range: [1, 60], more: { contacts, ...more } },
  );
}

/** A pail of 20 cm beside it that is to stand on the floor, so many metres up. */
function pail(up: number): CurveDocument {
  const document = withContacts({ "pail translation.y": [[1, 0.1 + up]] }, [
    { node: "pail", with: "floor", frames: [1, 60] },
  ]);
  const shapes = [{ kind: "box" as const, size: [0.2, 0.2, 0.2] as [number, number, number] }];
  return {
    ...document,
    nodes: [...document.nodes, { id: "pail", translation: [0.5, 0.1, 0.3], shapes }],
  };
}

/** Height of a table on which the finger tips lie as the bent arm is down by 45°, metres. */
const tableHeight = 0.9293;

/** The left arm goes down to a table by so many degrees, and is to touch it from a frame on. */
function onTable(angle: number, from = 30): CurveDocument {
  return withContacts(
    {
      "upper_arm_l rotation.z": everyFrame(1, 60, eased(8, 28, 0, -angle)),
      "forearm_l rotation.y": [[1, -30]],
    },
    [{ node: "hand_l", with: "table", frames: [from, 60] }],
    {
      surfaces: [
        { id: "floor", normal: [0, 1, 0], height: 0 },
        { id: "table", height: tableHeight },
      ],
    },
  );
}

/** Both arms held to the front and turned in by so many degrees: the left hand is to touch the right one. */
function joined(angle: number): CurveDocument {
  const arm = (side: "l" | "r", value: number): Record<string, Keys> => ({
    [`upper_arm_${side} rotation.y`]: [[1, value]],
  });
  return withContacts({ ...arm("l", -90 - angle), ...arm("r", 90 + angle) }, [
    { node: "hand_l", with: "hand_r", frames: [1, 60] },
  ]);
}

/** A cart on the floor that goes by so many metres with the hand that is to touch it, whose bar no shape shows. */
function cart(goes: number): CurveDocument {
  const course = everyFrame(1, 60, eased(10, 40, 0, 0.5));
  const document = withContacts(
    { "hips translation.z": course, "cart translation.z": everyFrame(1, 60, eased(10, 40, 0.3, 0.3 + goes)) },
    [{ node: "hand_l", with: "cart", frames: [1, 60] }],
  );
  const shapes = [{ kind: "box" as const, size: [0.4, 0.4, 0.4] as [number, number, number] }];
  return {
    ...document,
    nodes: [...document.nodes, { id: "cart", translation: [0.7, 0.9, 0.3], shapes }],
    props: [{ node: "cart" }],
  };
}

export const missedContactExamples = defineExamples(missedContact, {
  faulty: [
    {
      title: "a hand that stops in the air over the table on which it is to lie",
      motion: () => onTable(36),
      right: () => onTable(45),
      note: {
        node: "hand_l",
        frames: [32, 58],
        // Lower at the shoulder, or longer at the elbow: either brings the hand down.
        key: [
          { node: "upper_arm_l", channel: "rotation.z" },
          { node: "forearm_l", channel: "rotation.y" },
        ],
        measured: 0.0782,
      },
    },
    {
      title: "a pail that stands six centimetres over the floor",
      motion: () => pail(0.06),
      right: () => pail(0),
      note: {
        node: "pail",
        frames: [3, 58],
        key: { node: "pail", channel: "translation.y" },
        measured: 0.06,
      },
    },
    {
      title: "a hand that is a hand's breadth from the one which it is to hold",
      motion: () => joined(7),
      right: () => joined(12),
      note: {
        node: "hand_l",
        frames: [3, 58],
        key: { node: "upper_arm_l", channel: "rotation.y" },
        measured: 0.1117,
      },
    },
  ],
  silent: [
    { title: "a pail that is a centimetre up", motion: () => pail(0.01), unexcused: () => pail(0.04) },
    {
      title: "a hand that is still coming as its contact begins",
      motion: () => onTable(45, 25),
      unexcused: () => onTable(45, 12),
    },
    {
      title: "a hand that goes with a cart by a bar which no shape shows",
      motion: () => cart(0.5),
      unexcused: () => cart(0.2),
    },
    {
      title: "a foot that is off the floor, which others ask for",
      motion: () =>
        withContacts({ "thigh_l rotation.x": everyFrame(1, 60, eased(8, 20, 0, -60)) }, [
          { node: "foot_l", with: "floor", frames: [1, 60] },
        ]),
    },
  ],
  provocation: {
    shot: "gate_0050_v2",
    node: "pail",
    frames: [3, 3],
    slip: "a pail that is to stand on the quay hangs six centimetres over it",
    replace: [
      `"nodes": [\n`,
      `"contacts": [\n    { "node": "pail", "with": "quay", "frames": [1, 132] }\n  ],\n  "nodes": [\n    { "id": "pail", "translation": [60, 18, 40], "shapes": [{ "kind": "box", "size": [24, 24, 24] }] },\n`,
    ],
  },
  picture: { draws: "figure", seen: "front", at: [8, 18, 40], marks: ["hand_l"] },
});
