import { describe, expect, test } from "vitest";
import { valueAt } from "../../../../packages/core/curve/evaluate.ts";
import { editShot } from "../../../../packages/core/document/edit.ts";
import { shotOf } from "../../../../packages/core/document/read.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { FixSession } from "../../../../packages/core/session/proving.ts";
import { defaultSettings } from "../../../../packages/core/settings/resolve.ts";
import { bipedDocument, type Keys, notesOfCheck } from "../../../support/shots.ts";

const settings = defaultSettings(registry);

const flips = (keys: [number, number][]) =>
  notesOfCheck(bipedDocument({ "forearm_l rotation.y": keys }), "rotation-flip");

describe("rotation-flip", () => {
  test("says how far the joint would have to turn, and which turns to take off", () => {
    const [note] = flips([
      [1, -10],
      [12, -20],
      [20, 330],
      [36, 320],
    ]);
    expect(note.expected.max).toBeCloseTo(10, 6);
    expect(note.suggestion).toContain("take 360° off");
  });

  test("weighs a flip between neighbouring frames lightly: only motion blur shows it", () => {
    const [long] = flips([
      [1, 0],
      [12, 5],
      [20, 350],
      [30, 350],
    ]);
    const [short] = flips([
      [1, 0],
      [12, 5],
      [13, 362],
      [30, 350],
    ]);
    expect(short.weight).toBeLessThan(long.weight);
    expect(short.tier).not.toBe("major");
  });

  test("is taken out with the handles that were drawn for the long way round: the joint does not swing out on the short one", () => {
    const keys: Keys = [
      [1, -10, { out: [4, -2] }],
      [12, -20, { in: [-4, 2], out: [3, 100] }],
      [20, 330, { in: [-3, -100], out: [5, -3] }],
      [36, 320, { in: [-5, 3] }],
    ];
    const document = bipedDocument({ "forearm_l rotation.y": { interpolation: "bezier", keys } });
    const { shot } = shotOf(document);
    if (shot === null) throw new Error("not a shot");
    const session = new FixSession(shot, settings);
    const note = session.notes.find(({ check }) => check === "rotation-flip");
    if (note === undefined) throw new Error("no flip");
    const proven = session.prove(note);
    expect(proven?.kind).toBe("fix");
    const [curve] = editShot(shot, proven?.edits ?? []).curves;
    const values = Array.from({ length: 9 }, (_, i) => valueAt(curve, 12 + i));
    // From −20° to −30°, or a circle higher: no farther out than by half of that way.
    const [first, last] = [values[0], values[8]];
    expect(Math.abs(last - first)).toBeCloseTo(10, 3);
    expect(Math.max(...values)).toBeLessThan(first + 5);
    expect(Math.min(...values)).toBeGreaterThan(last - 5);
  });
});
