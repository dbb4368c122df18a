import { describe, expect, test } from "vitest";
import { shotsModule } from "./load.ts";
import type { DocumentCurve } from "./scores/records.d.ts";
import type { KeyedShot } from "./types.d.ts";

const { documentOf, namesOf } = await shotsModule("dressing/document.mjs");
const { posesOf } = await shotsModule("poses.mjs");
const { plainCurve, program } = await shotsModule("scores/program.mjs");
const { jumpOf, placeWith, tinyBuild, tinyPlan, tinyStage } = await shotsModule("scores/tiny.mjs");
const { ours, undressed } = await shotsModule("scores/undress.mjs");

describe("the way back from a document", () => {
  test.each([
    { up: "y", metresPerUnit: 1, turnsRoots: false },
    { up: "y", metresPerUnit: 0.0254, turnsRoots: false },
    { up: "z", metresPerUnit: 0.01, turnsRoots: false },
    { up: "z", metresPerUnit: 0.01, turnsRoots: true },
  ])("gives the keys as they were: %o", (dress) => {
    const plan = tinyPlan();
    const dressing = { ...plan.dressing, ...dress, rename: (joint: string) => `n_${joint}` };
    const built = tinyBuild(plan, []);
    for (const axis of ["x", "y", "z"]) {
      for (const [joint, channel] of [
        ["hips", "translation"],
        ["hips", "rotation"],
        ["chest", "translation"],
        ["chest", "rotation"],
      ]) {
        built.keyed.curves.set(`${joint} ${channel}.${axis}`, {
          joint,
          channel: `${channel}.${axis}`,
          interpolation: "bezier",
          keys: [
            { frame: 1, value: 0.5, out: [2, 0.25], interpolation: "bezier" },
            { frame: 9, value: -1, in: [-3, 0.125], interpolation: "linear" },
          ],
        });
      }
    }
    const nodeOf: Map<string, string> = namesOf(built.keyed, dressing);
    const jointOf = new Map([...nodeOf].map(([joint, node]) => [node, joint]));
    const document = documentOf(built.keyed, dressing, "tiny", built.keyed.performance);
    const dressed = { ...built, jointOf, nodeOf };
    const edited: DocumentCurve[] = program().read(JSON.stringify(document)).curves.map(plainCurve);
    const back: KeyedShot = undressed({ ...plan, dressing }, dressed, edited);
    expect([...back.curves.keys()].toSorted()).toEqual([...built.keyed.curves.keys()].toSorted());
    for (const [name, { keys }] of back.curves) {
      const old = built.keyed.curves.get(name);
      keys.forEach(({ frame, value, in: before, out }, i) => {
        expect(frame).toBe(old.keys[i].frame);
        expect(value, name).toBeCloseTo(old.keys[i].value, 7);
        expect(before?.[1] ?? 0).toBeCloseTo(old.keys[i].in?.[1] ?? 0, 7);
        expect(out?.[1] ?? 0).toBeCloseTo(old.keys[i].out?.[1] ?? 0, 7);
      });
    }
    for (const { node, channel } of edited) {
      const { joint, channel: own } = ours({ ...plan, dressing }, dressed, node, channel);
      expect(node).toBe(`n_${joint}`);
      expect(back.curves.has(`${joint} ${own}`)).toBe(true);
    }
    expect(ours({ ...plan, dressing }, dressed, "elsewhere", "rotation.x")).toBeNull();
  });
});

test("poses of an edited document are those of the edited keys", () => {
  const built = tinyBuild(tinyPlan(), [
    { kind: jumpOf("jump", "head", 34), strength: 2, place: placeWith({ joint: "head" }), seed: "" },
  ]);
  const again = posesOf(tinyStage.undressed(null, built, program().read(built.text).curves.map(plainCurve)));
  expect(again.channel("head", "rotation.z", 34)).toBeCloseTo(
    built.poses.channel("head", "rotation.z", 34),
    12,
  );
});

test("curves of a document come out as they were written", () => {
  const document = {
    format: "keyside.curves",
    version: 1,
    shot: { frameRate: 24 },
    nodes: [{ id: "a" }],
    curves: [
      {
        node: "a",
        channel: "rotation.x",
        interpolation: "bezier",
        keys: [
          [1, 5, { out: [2, 1] }],
          [9, 7, { in: [-3, 0], interpolation: "step" }],
          [12, 8, { interpolation: "cubic", out: 3 }],
          [18, 4, { in: -1, interpolation: "linear" }],
          [20, 0],
        ],
      },
    ],
  };
  const [curve] = program().read(JSON.stringify(document)).curves.map(plainCurve);
  expect(curve).toEqual({
    node: "a",
    channel: "rotation.x",
    interpolation: "bezier",
    keys: [
      { frame: 1, value: 5, out: [2, 1], interpolation: "bezier" },
      { frame: 9, value: 7, in: [-3, 0], interpolation: "step" },
      // A slope of 3 over 6 frames: a handle of 2 frames and 6.
      { frame: 12, value: 8, out: [2, 6], interpolation: "bezier" },
      { frame: 18, value: 4, in: [-2, 2], interpolation: "linear" },
      { frame: 20, value: 0, interpolation: "bezier" },
    ],
  });
});
