import fc from "fast-check";
import { Euler, MathUtils, Quaternion } from "three";
import { describe, expect, it } from "vitest";
import { bvhAdapter } from "../../../packages/adapters/bvh/adapter.ts";
import { readBvh } from "../../../packages/adapters/bvh/read.ts";
import { writeBvh } from "../../../packages/adapters/bvh/write.ts";
import { type Axis, anglesOfTurns } from "../../../packages/adapters/poses.ts";
import type { Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { anyShot } from "../../support/any-shot.ts";
import { capturedJump } from "../../support/capture.ts";
import { frameCount, worldDistance } from "../../support/world-distance.ts";

const text = (shot: Shot) => writeBvh(shot, "a.bvh").files[0].content as string;
const read = (bvh: string, metresPerUnit?: number) => {
  const { shot, problems } = readBvh(bvh, metresPerUnit === undefined ? {} : { metresPerUnit });
  expect(problems).toEqual([]);
  return shot as Shot;
};

describe("BVH that is written", () => {
  it("is read back within 1e-5 m, frame for frame", () => {
    fc.assert(
      fc.property(anyShot(), (shot) => {
        const again = read(text(shot), 0.01);
        expect(frameCount(again)).toBe(frameCount(shot));
        const rate = ({ numerator, denominator }: Shot["frameRate"]) => numerator / denominator;
        expect(rate(again.frameRate)).toBeCloseTo(rate(shot.frameRate), 6);
        expect(worldDistance(shot, again, (id) => id.replace(" ", "_"))).toBeLessThan(1e-5);
      }),
      { numRuns: 60 },
    );
  });

  it("is the same again once it has been read", () => {
    fc.assert(
      fc.property(anyShot(), (shot) => {
        const once = text(shot);
        const twice = text(read(once));
        expect(text(read(twice))).toBe(twice);
      }),
      { numRuns: 20 },
    );
  });

  it("holds a captured jump as it was recorded", () => {
    const jump = capturedJump();
    expect(worldDistance(jump, read(text(jump)))).toBeLessThan(1e-9);
  });

  it("keeps whole turns of angles, and says what is lost", () => {
    const { shot } = shotOf({
      format: "keyside.curves",
      version: 1,
      shot: { frameRate: 25, range: [5, 7] },
      space: { metresPerUnit: 1 },
      nodes: [{ id: "a b", rotationOrder: "yzx", scale: [1, 2, 1] }],
      surfaces: [{ id: "floor", height: 0 }],
      curves: [
        {
          node: "a b",
          channel: "rotation.y",
          interpolation: "linear",
          keys: [
            [5, 0],
            [7, 300],
          ],
        },
      ],
    });
    const { files, lost } = writeBvh(shot as Shot, "a.bvh");
    expect(files[0].content).toContain(
      "CHANNELS 6 Xposition Yposition Zposition Yrotation Zrotation Xrotation",
    );
    expect(String(files[0].content).trimEnd().split("\n").slice(-3)).toEqual([
      "0 0 0 0 0 0",
      "0 0 0 150 0 0",
      "0 0 0 300 0 0",
    ]);
    expect(lost).toEqual([
      "Left out: surfaces.",
      "The scale of a node that it changes, or that is uneven.",
      "A name has blanks or braces; they became low lines.",
      "Frames count from 1, which was frame 5.",
      "The unit, which is centimetres; BVH does not say it.",
    ]);
  });

  it("makes even scales part of the offsets", () => {
    const { shot } = shotOf({
      format: "keyside.curves",
      version: 1,
      shot: { frameRate: 24, range: [1, 2] },
      space: { metresPerUnit: 1 },
      nodes: [
        { id: "a", scale: [2, 2, 2] },
        { id: "b", parent: "a", translation: [1, 0, 0], scale: [3, 3, 3] },
        { id: "c", parent: "b", translation: [0, 1, 0] },
      ],
      curves: [],
    });
    // By hand: b stands 2 · 1 m from a, c 2 · 3 · 1 m from b.
    expect(text(shot as Shot)).toMatch(/JOINT b\n\t\{\n\t\tOFFSET 200 0 0/);
    expect(worldDistance(shot as Shot, read(text(shot as Shot), 0.01))).toBeLessThan(1e-9);
  });
});

describe("angles of turns", () => {
  it("give the turn again in every order, as a general 3D library has it", () => {
    const angle = fc.double({ min: -180, max: 180, noNaN: true });
    const order = fc.constantFrom("xyz", "xzy", "yxz", "yzx", "zxy", "zyx");
    fc.assert(
      fc.property(order, angle, angle, angle, (name, a, b, c) => {
        const own = (x: number, y: number, z: number) =>
          new Quaternion().setFromEuler(
            new Euler(
              ...([x, y, z].map(MathUtils.degToRad) as [number, number, number]),
              name.toUpperCase() as "XYZ",
            ),
          );
        const turn = own(a, b, c);
        const found = anglesOfTurns(Float64Array.from(turn.toArray()), [...name] as Axis[]);
        const [x, y, z] = [..."xyz"].map((axis) => found[name.indexOf(axis)][0]);
        expect(Math.abs(own(x, y, z).dot(turn))).toBeCloseTo(1, 9);
      }),
    );
  });
});

it("the adapter of BVH knows its files by their bytes", () => {
  const bytes = (said: string) => new TextEncoder().encode(said);
  expect(bvhAdapter.detect(bytes("\uFEFF  hierarchy\r\nROOT a"))).toBe(true);
  expect(bvhAdapter.detect(bytes("frame,a"))).toBe(false);
});
