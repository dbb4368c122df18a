import { describe, expect, it } from "vitest";
import { inferredOf, statureOf } from "../../../packages/core/rig/body.ts";
import { metresPerUnitOf, scaleOf } from "../../../packages/core/rig/stature.ts";
import { bipedLines, nodesFrom, studyOf } from "./body-study.ts";

const scaled = (lines: string, factor: number) =>
  lines.replace(
    /@ (\S+) (\S+) (\S+)/g,
    (_, ...v) =>
      `@ ${v
        .slice(0, 3)
        .map((x) => Number(x) * factor)
        .join(" ")}`,
  );
const metres = { metresPerUnit: 1, up: "y", angle: "degrees" } as const;

describe("stature", () => {
  // The biped's parts by hand: ankle to sole 0.07, shin and thigh 0.8202, hip to pelvis, spine to head joint, head 0.19.
  const legs = Math.hypot(0.42, 0.01) + Math.hypot(0.41, 0.01) + 0.07;
  const spine = 0.05 + 0.12 + 0.14 + 0.22 + Math.hypot(0.08, 0.01);
  const height = legs + spine + 0.19;

  it("sums the bones from sole to crown", () => {
    expect(statureOf(studyOf(nodesFrom(bipedLines), { space: metres }), 0)).toBeCloseTo(height, 9);
    expect(height).toBeCloseTo(1.7, 1);
  });

  it("is the same for a rest pose with bent knees", () => {
    const bent = nodesFrom(bipedLines).map((node) =>
      /Hip$/.test(node.id)
        ? { ...node, rotation: [-40, 0, 0] as [number, number, number] }
        : /Knee$/.test(node.id)
          ? { ...node, rotation: [80, 0, 0] as [number, number, number] }
          : /Ankle$/.test(node.id)
            ? { ...node, rotation: [-40, 0, 0] as [number, number, number] }
            : node,
    );
    expect(statureOf(studyOf(bent, { space: metres }), 0)).toBeCloseTo(height, 6);
  });

  it("adds the head's share where no tip of the head is there: chin to vertex is 0.130 of stature (Drillis and Contini 1966)", () => {
    const lines = bipedLines.replace(/crown.*\n/, "");
    expect(statureOf(studyOf(nodesFrom(lines), { space: metres }), 0)).toBeCloseTo((legs + spine) / 0.87, 9);
  });

  it("distrusts a tip that stands too near to be the top of the head", () => {
    const lines = bipedLines.replace("crown < head @ 0 0.19 0", "crown < head @ 0 0.02 0");
    expect(statureOf(studyOf(nodesFrom(lines), { space: metres }), 0)).toBeCloseTo((legs + spine) / 0.87, 9);
  });

  it("is what the document declares, and then gives the units", () => {
    const study = studyOf(nodesFrom(scaled(bipedLines, 10)), {
      figures: [{ id: "courier", stature: 1.5, parts: { root: "hips" } }],
    });
    expect(statureOf(study, 0)).toBe(1.5);
    expect(metresPerUnitOf(study)).toBeCloseTo(1.5 / (10 * height), 12);
    expect(scaleOf(study).from).toBe("declared stature");
  });
});

describe("metres per unit", () => {
  it("is what the document declares", () => {
    const study = studyOf(nodesFrom(bipedLines), { space: { ...metres, metresPerUnit: 0.5 } });
    expect(metresPerUnitOf(study)).toBe(0.5);
    expect(inferredOf(study)).toHaveLength(1);
  });

  // Inch and foot are exact by definition; 1/0.45 inch: mocap.cs.cmu.edu/faqs.php.
  it.each([1, 0.01, 0.1, 0.001, 0.0254, 0.3048, 0.0254 / 0.45])("recognises a unit of %f m", (unit) => {
    const study = studyOf(nodesFrom(scaled(bipedLines, 1 / unit)));
    expect(metresPerUnitOf(study)).toBe(unit);
    expect(statureOf(study, 0)).toBeCloseTo(1.7, 1);
    expect(inferredOf(study)[1]).toMatch(/^1 unit = .* m: inferred from the rest pose of figure "hips"/);
  });

  it("makes a human of no usual unit 1.7 m tall (common practice) and says so", () => {
    const study = studyOf(nodesFrom(scaled(bipedLines, 30)));
    expect(statureOf(study, 0)).toBeCloseTo(1.7, 9);
    expect(inferredOf(study)[1]).toMatch(/assumed to be 1.7 m tall$/);
  });

  it.each([
    [0.65, 1],
    [3.5 / 1.7, 0.01],
    [1.9, 1],
  ])("takes metres or centimetres for a child or a giant of no usual unit: %f", (size, unit) => {
    const study = studyOf(nodesFrom(scaled(bipedLines, size / unit)));
    expect(metresPerUnitOf(study)).toBe(unit);
    expect(inferredOf(study)[1]).toMatch(/^1 unit = .* m: assumed, as figure "hips" is then .* m tall$/);
  });

  it.each([
    [0.4, 1],
    [120, 0.01],
  ])("takes metres or centimetres for a figure that is no human: %f", (size, unit) => {
    const study = studyOf(nodesFrom(`cart @ 5 5 5\nwheel < cart @ ${size} 0 0`));
    expect(metresPerUnitOf(study)).toBe(unit);
    expect(inferredOf(study)[1]).toMatch(/assumed, as figure "cart" is then .* m in size$/);
  });

  it("makes a figure that is no human and of no usual size 1 m in size and says so", () => {
    const study = studyOf(nodesFrom("cart @ 5 5 5\nwheel < cart @ 4000 0 1"));
    expect(metresPerUnitOf(study)).toBe(0.00025);
    expect(statureOf(study, 0)).toBe(1);
    expect(inferredOf(study)[1]).toMatch(/assumed to measure 1 m$/);
  });

  it("takes units for metres where there is nothing to measure", () => {
    const study = studyOf(nodesFrom("ball"));
    expect(metresPerUnitOf(study)).toBe(1);
    expect(inferredOf(study)).toEqual(["1 unit = 1 m: assumed, for want of a figure to measure"]);
  });
});
