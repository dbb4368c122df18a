import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import {
  bipedDocument,
  bipedFigure,
  bipedNodes,
  type Curves,
  documentOf,
  eased,
  everyFrame,
  notesOfCheck,
} from "../../../support/shots.ts";

/** Keys of an eased turn by `degrees` from one frame to another, on every frame. */
const turn = (from: number, to: number, degrees: number, base = 0) =>
  everyFrame(1, 60, (f) => base + eased(from, to, 0, degrees)(f));

describe("still-wrist", () => {
  const notes = (curves: Curves, more: Partial<CurveDocument> = {}) =>
    notesOfCheck(bipedDocument(curves, { more }), "still-wrist");

  test("finds a wrist that does nothing while the forearm swings", () => {
    const found = notes({ "upper_arm_l rotation.z": turn(10, 30, 60, -70) });
    expect(found).toMatchObject([{ node: "hand_l", frames: [expect.any(Number), expect.any(Number)] }]);
    // The wrist has no keys of its own to point at: the forearm's, or else none.
    expect(found[0].suggestion).toContain("15° back");
  });

  test("points at the wrist's own keys where it has any", () => {
    const found = notes({
      "forearm_l rotation.y": turn(10, 30, -60),
      "hand_l rotation.z": everyFrame(1, 60, (f) => 0.5 * Math.sin(f)),
    });
    expect(found[0].keys[0]).toMatchObject({ node: "hand_l", channel: "rotation.z" });
  });

  test("is silent where the wrist trails, on small swings, and where a contact holds the hand", () => {
    const swing = { "upper_arm_l rotation.z": turn(10, 30, 60, -70) };
    const trail = everyFrame(1, 60, (f) => -12 * (eased(10, 20, 0, 1)(f) - eased(20, 34, 0, 1)(f)));
    expect(notes({ ...swing, "hand_l rotation.z": trail })).toEqual([]);
    expect(notes({ "upper_arm_l rotation.z": turn(10, 30, 20, -70) })).toEqual([]);
    expect(notes(swing, { contacts: [{ node: "hand_l", frames: [1, 60] }] })).toEqual([]);
  });

  test("is silent on a hanging arm that the body turns about its own length", () => {
    // The left arm hangs, the right one is held out to the side: each turn swings one and rolls the other.
    const hanging = { "upper_arm_l rotation.z": everyFrame(1, 60, () => -90) };
    expect(notes({ ...hanging, "hips rotation.y": turn(10, 30, 60) })).toMatchObject([{ node: "hand_r" }]);
    expect(notes({ ...hanging, "hips rotation.x": turn(10, 30, 60) })).toMatchObject([{ node: "hand_l" }]);
  });

  test("says nothing about documents with next to nothing in them", () => expectQuietOnBarren("still-wrist"));
});

describe("still-fingers", () => {
  const fingers = (letter: "l" | "r", sign: 1 | -1) => [
    {
      id: `index_1_${letter}`,
      parent: `fingers_${letter}`,
      translation: [0.03 * sign, 0, 0] as [number, number, number],
    },
    {
      id: `index_2_${letter}`,
      parent: `index_1_${letter}`,
      translation: [0.03 * sign, 0, 0] as [number, number, number],
    },
  ];
  const nodes = [...bipedNodes, ...fingers("l", 1), ...fingers("r", -1)];
  const parts = {
    ...bipedFigure.parts,
    leftFingers: ["fingers_l", "index_1_l", "index_2_l"],
    rightFingers: ["fingers_r", "index_1_r", "index_2_r"],
  };
  const grip = (curves: Curves, frames: [number, number]) =>
    notesOfCheck(
      documentOf(
        nodes,
        { "hips translation.x": turn(1, 60, 0.2), ...curves },
        {
          more: { figures: [{ ...bipedFigure, parts }], contacts: [{ node: "hand_l", frames }] },
        },
      ),
      "still-fingers",
    );

  test("finds a hand that takes and lets go of its load with stiff fingers", () => {
    const found = grip({ "index_1_l rotation.z": everyFrame(1, 60, (f) => 0.4 * Math.sin(f / 3)) }, [20, 45]);
    expect(found.map(({ node }) => node)).toEqual(["hand_l", "hand_l"]);
    expect(found.map(({ message }) => message).join()).toMatch(
      /takes the load at frame 20.*|lets the load go at frame 45/,
    );
    expect(found[0].keys[0]).toMatchObject({ node: "index_1_l" });
  });

  test("points at the fingers, however much the hand itself moves", () => {
    const found = grip(
      {
        "index_1_l rotation.z": everyFrame(1, 60, (f) => 0.4 * Math.sin(f / 3)),
        "hand_l rotation.z": turn(1, 60, 50),
      },
      [20, 45],
    );
    expect(found.map(({ keys }) => keys[0].node)).toEqual(["index_1_l", "index_1_l"]);
  });

  test("is silent where the fingers close and open, and where the hold lasts through the range", () => {
    const curl = everyFrame(1, 60, (f) => eased(15, 22, 0, 30)(f) - eased(43, 50, 0, 30)(f));
    expect(grip({ "index_1_l rotation.z": curl }, [20, 45])).toEqual([]);
    expect(grip({}, [1, 60])).toEqual([]);
  });

  test("says nothing about documents with next to nothing in them", () =>
    expectQuietOnBarren("still-fingers"));
});

describe("raised-shoulders", () => {
  const down: Curves = { "upper_arm_l rotation.z": everyFrame(1, 48, (f) => -65 + 3 * Math.sin(f / 5)) };
  const notes = (curves: Curves) => notesOfCheck(bipedDocument({ ...down, ...curves }), "raised-shoulders");

  test("finds a shoulder held high through the shot, with the arm down", () => {
    const found = notes({ "shoulder_l rotation.z": everyFrame(1, 48, () => 20) });
    expect(found).toMatchObject([{ node: "shoulder_l", frames: [1, 48] }]);
    // The shoulder joint stands 0.14 m out on the clavicle: raised by 0.14 · sin 20°.
    expect(found[0].measured.value).toBeCloseTo(0.14 * Math.sin((20 * Math.PI) / 180), 3);
    expect(found[0].keys[0]).toMatchObject({ node: "shoulder_l", channel: "rotation.z" });
  });

  test("follows the chest, not the room", () => {
    const leaning = notes({
      "shoulder_l rotation.z": everyFrame(1, 48, () => 20),
      "hips rotation.x": everyFrame(1, 48, () => 40),
    });
    expect(leaning).toHaveLength(1);
  });

  test("is silent on a shrug, on shoulders at rest, and while the arm is up", () => {
    expect(notes({ "shoulder_l rotation.z": everyFrame(1, 48, (f) => (f > 12 && f < 24 ? 20 : 0)) })).toEqual(
      [],
    );
    expect(notes({})).toEqual([]);
    const up = {
      "shoulder_l rotation.z": everyFrame(1, 48, () => 20),
      "upper_arm_l rotation.z": everyFrame(1, 48, () => 40),
    };
    expect(notes(up)).toEqual([]);
  });

  test("says nothing about documents with next to nothing in them", () =>
    expectQuietOnBarren("raised-shoulders"));
});
