import { describe, expect, test } from "vitest";
import { measure, sameNumbers, shotMeasure } from "../../../packages/core/base/study.ts";
import {
  curveNamesOf,
  curveOf,
  documentRateOf,
  rangeOf,
  setShot,
} from "../../../packages/core/document/inputs.ts";
import type { Curve, Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { chainDocument, everyFrame, studyOf } from "../../support/shots.ts";

const document = chainDocument(2, {
  "joint_1 rotation.z": everyFrame(1, 48, (frame) => 30 * Math.sin(frame / 7)),
  "joint_2 rotation.z": everyFrame(1, 48, (frame) => 20 * Math.cos(frame / 5)),
});

function shot(): Shot {
  const { shot } = shotOf(document);
  if (shot === null) throw new Error("the document cannot be read");
  return shot;
}

function changed(curve: Curve, key: number, value: number): Curve {
  const values = curve.values.slice();
  values[key] = value;
  return { ...curve, values };
}

describe("study", () => {
  test("gives the shot's inputs, and null for a curve that is not there", () => {
    const study = studyOf(document);
    expect(curveNamesOf(study)).toEqual(["joint_1 rotation.z", "joint_2 rotation.z"]);
    expect(curveOf(study, "joint_2 rotation.z")?.frames).toHaveLength(48);
    expect(curveOf(study, "joint_2 rotation.x")).toBeNull();
    expect(rangeOf(study)).toEqual([1, 48]);
    expect(documentRateOf(study)).toBe(24);
  });

  test("an edit of one curve computes again only what was made from it", () => {
    const ran: string[] = [];
    const first = measure("first value", (study, name: string) => {
      ran.push(name);
      return curveOf(study, name)?.values[0] ?? 0;
    });
    const total = shotMeasure("total", (study) => {
      ran.push("total");
      return curveNamesOf(study).reduce((sum, name) => sum + first(study, name), 0);
    });
    const study = studyOf(document);
    const before = shot();
    setShot(study, before);
    const was = total(study);
    ran.length = 0;
    const after = { ...before, curves: [before.curves[0], changed(before.curves[1], 0, 99)] };
    setShot(study, after, before);
    expect(total(study)).toBeCloseTo(was - before.curves[1].values[0] + 99, 12);
    expect(ran).toEqual(["joint_2 rotation.z", "total"]);
  });

  test("a curve that is taken out, or comes in, is seen", () => {
    const study = studyOf(document);
    const before = shot();
    setShot(study, before);
    const without = { ...before, curves: [before.curves[1]] };
    setShot(study, without, before);
    expect(curveNamesOf(study)).toEqual(["joint_2 rotation.z"]);
    expect(curveOf(study, "joint_1 rotation.z")).toBeNull();
    setShot(study, before, without);
    expect(curveOf(study, "joint_1 rotation.z")).toBe(before.curves[0]);
  });

  test("after edits the notes are those of a fresh study", () => {
    const study = studyOf(document);
    let current = shot();
    setShot(study, current);
    notesOf(study);
    const edits: [curve: number, key: number, value: number][] = [
      [0, 20, 60],
      [1, 30, -80],
      [0, 20, 30 * Math.sin(3)],
      [1, 12, 50],
      [1, 13, 50],
    ];
    for (const [curve, key, value] of edits) {
      const curves = current.curves.map((old, index) => (index === curve ? changed(old, key, value) : old));
      const next = { ...current, curves };
      setShot(study, next, current);
      current = next;
      const fresh = studyOf(document);
      setShot(fresh, current);
      expect(notesOf(study)).toEqual(notesOf(fresh));
    }
    expect(notesOf(study).length).toBeGreaterThan(0);
  });

  test("sameNumbers tells arrays apart by length and value, NaN being like NaN", () => {
    expect(sameNumbers([1, Number.NaN], [1, Number.NaN])).toBe(true);
    expect(sameNumbers([1], [1, 2])).toBe(false);
    expect(sameNumbers([0], [-0])).toBe(false);
    expect(sameNumbers(null, [1])).toBe(false);
    expect(sameNumbers(null, null)).toBe(true);
  });
});
