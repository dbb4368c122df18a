import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readBvh } from "../../../packages/adapters/bvh/read.ts";
import { valueAt } from "../../../packages/core/curve/evaluate.ts";
import type { Curve, Shot } from "../../../packages/core/document/model.ts";
import { bvhText, lineAndColumn, rowFrom } from "./bvh-text.ts";

/** Angles as recordings list them: the middle one within ±90°, the others within ±180°. */
function wrapped([a, b, c]: readonly [number, number, number]): readonly [number, number, number] {
  const inCircle = (angle: number) => angle - 360 * Math.round(angle / 360);
  return Math.abs(inCircle(b)) <= 90
    ? [inCircle(a), inCircle(b), inCircle(c)]
    : [inCircle(a + 180), inCircle(180 - b), inCircle(c + 180)];
}

const curveIn = (shot: Shot | null, node: string, channel: string): Curve =>
  shot?.curves.find((curve) => curve.node === node && curve.channel === channel) as Curve;

describe("a sound BVH file", () => {
  const text = bvhText([1, 2, 3, 4, 5, 6, 7].map(rowFrom));
  const { shot, problems } = readBvh(text);

  it("gives nodes with offsets, rotation orders and end sites", () => {
    expect(problems).toEqual([]);
    expect(shot?.header.nodes).toEqual([
      { id: "Hips", translation: [0, 0, 0], rotationOrder: "zyx" },
      { id: "Chest", parent: "Hips", translation: [0, 5, 0], rotationOrder: "zxy" },
      { id: "Chest_end", parent: "Chest", translation: [0, 4, 1] },
    ]);
    expect(shot?.header.space).toEqual({ angle: "degrees" });
  });

  it("gives a linear curve per channel, frames from 1, in the file's rate", () => {
    expect(shot?.frameRate).toEqual({ numerator: 120, denominator: 1 });
    expect(shot?.range).toEqual([1, 7]);
    expect(shot?.curves).toHaveLength(9);
    const curve = curveIn(shot, "Chest", "rotation.y");
    expect([...curve.frames]).toEqual([1, 2, 3, 4, 5, 6, 7]);
    expect([...curve.values]).toEqual([1.8, 2.8, 3.8, 4.8, 5.8, 6.8, 7.8]);
    expect(curve).toMatchObject({ interpolation: "linear", width: 1, handles: null });
  });

  it("keeps the place of each number", () => {
    const { place } = curveIn(shot, "Chest", "rotation.z");
    const [start, end] = [place?.keyStart[2] as number, place?.keyEnd[2] as number];
    expect(place?.start).toBe(0);
    expect(text.slice(start, end)).toBe("3.6000");
    expect(lineAndColumn(text, start)).toEqual([21, 43]);
  });

  it("takes every nth row at a rate that divides the file's, each key at its own row's place", () => {
    const slow = readBvh(text, { rate: 60 }).shot;
    const curve = curveIn(slow, "Hips", "translation.x");
    expect([...curve.frames]).toEqual([1, 2, 3, 4]);
    expect([...curve.values]).toEqual([1, 3, 5, 7]);
    expect(slow?.range).toEqual([1, 4]);
    const at = curve.place?.keyStart[3] as number;
    expect(lineAndColumn(text, at)).toEqual([25, 1]);
  });

  it("interpolates between rows at any other rate", () => {
    const curve = curveIn(readBvh(text, { rate: 80 }).shot, "Hips", "translation.x");
    expect([...curve.values]).toEqual([1, 2.5, 4, 5.5, 7]);
    expect(lineAndColumn(text, curve.place?.keyStart[1] as number)[0]).toBe(21);
  });

  it("takes rates and units as asked for", () => {
    expect(readBvh(text, { rate: 23.976 }).shot?.header.shot.frameRate).toBe("24000/1001");
    expect(readBvh(text, { metresPerUnit: 0.01 }).shot?.header.space?.metresPerUnit).toBe(0.01);
    expect(readBvh(text, { name: "jump" }).shot?.header.shot.name).toBe("jump");
  });

  it("goes the shorter way round between rows of a wrapped angle", () => {
    const rows = ["0 0 0 179 0 0 0 0 0", "0 0 0 -179 0 0 0 0 0", "0 0 0 -177 0 0 0 0 0"];
    const curve = curveIn(readBvh(bvhText(rows), { rate: 80 }).shot, "Hips", "rotation.z");
    expect([...curve.values]).toEqual([179, 182]);
  });

  it("goes from pose to pose where the rows change to the other set of angles of a turn", () => {
    // The turn of (−170, 80, −160)° is that of (10, 100, 20)°: 20° from the row before, with 90° half way.
    const rows = ["0 0 0 0 0 0 10 80 20", "0 0 0 0 0 0 -170 80 -160", "0 0 0 0 0 0 10 80 20"];
    const { shot } = readBvh(bvhText(rows), { rate: 80 });
    expect([...curveIn(shot, "Chest", "rotation.z").values]).toEqual([10]);
    expect([...curveIn(shot, "Chest", "rotation.x").values]).toEqual([80, 90]);
    expect([...curveIn(shot, "Chest", "rotation.y").values]).toEqual([20]);
  });

  it.each([120, 60, 240])("goes from pose to pose by the short way at %d frames per second", (rate) => {
    // The chest turns past b = 90° and through half a circle of z; the file's angles jump at both places.
    const steps = Array.from({ length: 17 }, (_, i) => wrapped([170 + 4 * i, 60 + 4 * i, -20 + 2 * i]));
    const jumps = steps.filter(([a], i) => i > 0 && Math.abs(a - steps[i - 1][0]) > 100);
    expect(jumps.length).toBeGreaterThanOrEqual(2);
    const { shot } = readBvh(bvhText(steps.map((step) => `0 0 0 0 0 0 ${step.join(" ")}`)), { rate });
    const turned = (["z", "x", "y"] as const).map((axis) => curveIn(shot, "Chest", `rotation.${axis}`));
    const perFrame = 120 / rate;
    for (let frame = 1; frame <= (shot?.range[1] ?? 0); frame += 0.5) {
      turned.forEach((curve, k) => {
        const expected = [170, 60, -20][k] + [4, 4, 2][k] * (frame - 1) * perFrame;
        expect(valueAt(curve, frame)).toBeCloseTo(expected, 6);
      });
    }
  });

  it("takes whole circles off a joint with one turn", () => {
    const text = bvhText(["0 0 0 0 0 0 179", "0 0 0 0 0 0 -179"]);
    const { shot } = readBvh(
      text.replace("CHANNELS 3 Zrotation Xrotation Yrotation", "CHANNELS 1 Yrotation"),
    );
    expect([...curveIn(shot, "Chest", "rotation.y").values]).toEqual([179, 181]);
  });

  it("gives one key for a channel that stays, and none for one that stays at rest", () => {
    const { shot: still } = readBvh(bvhText(["0 9 0 0 0 0 0 30 0", "0 9 0 0 0 0 0 30 1"]));
    expect(still?.curves.map(({ node, channel, values }) => [node, channel, [...values]])).toEqual([
      ["Hips", "translation.y", [9]],
      ["Chest", "rotation.x", [30]],
      ["Chest", "rotation.y", [0, 1]],
    ]);
  });
});

describe("frame times", () => {
  it.each([
    ["0.0083333", 120, 1],
    [".0083333", 120, 1],
    ["0.00833333", 120, 1],
    ["0.0083", 120, 1],
    ["0.033333", 30, 1],
    ["0.0333333", 30, 1],
    ["0.033", 30, 1],
    ["0.041667", 24, 1],
    ["0.0416667", 24, 1],
    ["0.0417083", 24000, 1001],
    ["0.04170833", 24000, 1001],
    ["0.0333667", 30000, 1001],
    ["0.04", 25, 1],
    ["0.010000", 100, 1],
    ["0.0166", 60, 1],
    ["0.016666666666666666", 60, 1],
    ["1.6666667e-2", 60, 1],
    ["0.0333333351", 30, 1],
    ["0.0090909", 110, 1],
    ["1", 1, 1],
  ])("%s is %i/%i", (time, numerator, denominator) => {
    const { shot, problems } = readBvh(bvhText([rowFrom(1), rowFrom(2)], { time: `Frame Time: ${time}` }));
    expect(problems).toEqual([]);
    expect(shot?.frameRate).toEqual({ numerator, denominator });
  });

  it("takes an odd time as it is", () => {
    const { shot } = readBvh(bvhText([rowFrom(1)], { time: "Frame Time: 0.0081234567" }));
    expect(shot?.frameRate.numerator).toBeCloseTo(1 / 0.0081234567, 5);
  });
});

describe("position channels against the offset", () => {
  const text = (offset: string, rows: string[]) => bvhText(rows).replace("OFFSET 0 0 0", `OFFSET ${offset}`);

  it("adds them to the offset", () => {
    const { shot } = readBvh(text("0 90 0", ["1 0 0 0 0 0 0 0 0", "2 1 0 0 0 0 0 0 0"]));
    expect([...curveIn(shot, "Hips", "translation.y").values]).toEqual([90, 91]);
    expect([...curveIn(shot, "Hips", "translation.x").values]).toEqual([1, 2]);
  });

  it("takes them for whole positions where they hold the offset already", () => {
    const { shot } = readBvh(text("0 90 0", ["1 88 0 0 0 0 0 0 0", "2 89 0 0 0 0 0 0 0"]));
    expect([...curveIn(shot, "Hips", "translation.y").values]).toEqual([88, 89]);
  });
});

describe("captured motion", () => {
  const text = readFileSync(new URL("../../fixtures/capture/forward-jump.bvh", import.meta.url), "utf8");

  it("is read whole, at its own rate and at 24", () => {
    const { shot, problems } = readBvh(text);
    expect(problems).toEqual([]);
    expect(shot?.header.nodes).toHaveLength(38);
    expect(shot?.frameRate).toEqual({ numerator: 120, denominator: 1 });
    expect(shot?.range).toEqual([1, 192]);
    const slow = readBvh(text, { rate: 24 }).shot;
    expect(slow?.range).toEqual([1, 39]);
    const [all, some] = [shot, slow].map((one) => curveIn(one as Shot, "LeftUpLeg", "rotation.x"));
    expect([...some.values]).toEqual([...all.values].filter((_, i) => i % 5 === 0));
  });
});
