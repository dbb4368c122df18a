import { expect, test } from "vitest";
import type { CurveDocument, ShapeSpec } from "../../../../packages/core/document/schema.ts";
import { bipedDocument } from "../../../../packages/core/faults/shared/examples/motions.ts";
import { notesOfCheck } from "../../../support/shots.ts";

type Contacts = NonNullable<CurveDocument["contacts"]>;

/** The biped with its arms out, a board of 2 cm under its left hand by so many metres, and what touches what. */
function overBoard(under: number, contacts: Contacts): CurveDocument {
  const shapes: ShapeSpec[] = [{ kind: "box", size: [0.4, 0.02, 0.4] }];
  const document = bipedDocument(
    { "head rotation.y": [[1, 0]], "upper_arm_l rotation.z": [[1, 0]] },
    { range: [1, 48], more: { contacts } },
  );
  return {
    ...document,
    nodes: [
      ...document.nodes,
      // The hand is level at 1.42 m, and 2.7 cm of it lie under its middle.
      { id: "board", translation: [0.75, 1.42 - 0.0272 - 0.01 - under, 0], shapes },
    ],
  };
}
const onBoard: Contacts = [{ node: "hand_l", with: "board", frames: [1, 48] }];
const notes = (document: CurveDocument) => notesOfCheck(document, "missed-contact");

test("a hand that has never been on a thing's shape keeps its place there as on a handle, however far it is", () => {
  expect(notes(overBoard(0.1, onBoard))).toEqual([]);
});

test("a contact of a hand with something that is not in the shot says nothing", () => {
  expect(notes(overBoard(0.1, [{ node: "hand_l", with: "rope", frames: [1, 48] }]))).toEqual([]);
  expect(notes(overBoard(0.1, [{ node: "hand_l", frames: [1, 48] }]))).toEqual([]);
});

test("a hand that lifts off a thing and comes back is told where it is off, from two frames on", () => {
  const document = overBoard(0, onBoard);
  const arm = document.curves.find(({ channel }) => channel === "rotation.z");
  const lifted = document.curves.map((curve) =>
    curve === arm
      ? {
          ...curve,
          keys: [
            [1, 0],
            [12, 0],
            [18, 14],
            [30, 14],
            [36, 0],
            [48, 0],
          ] as typeof curve.keys,
        }
      : curve,
  );
  const [note, ...more] = notes({ ...document, curves: lifted });
  expect(more).toEqual([]);
  expect(note.node).toBe("hand_l");
  expect(note.frames[0]).toBeGreaterThan(12);
  expect(note.frames[1]).toBeLessThan(36);
  // The edge of the board that is next to the wrist: the finger tips are higher.
  expect(note.measured.value).toBeGreaterThan(0.034);
});
