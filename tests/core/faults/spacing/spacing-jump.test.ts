import { describe, expect, test } from "vitest";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import {
  bipedDocument,
  chainDocument,
  eased,
  everyFrame,
  type Keyed,
  notesOfCheck,
  pathDocument,
  pointDocument,
  studyOf,
} from "../../../support/shots.ts";

const jumps = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "spacing-jump");

/** Goes on at one speed until a frame, and at another after it. */
const changing = (at: number, before: number, after: number) => (frame: number) =>
  frame <= at ? before * frame : before * at + after * (frame - at);

describe("spacing-jump", () => {
  test.each([
    [0.06, 0.02],
    [0.015, 0.05],
  ])("finds spacing that goes from %d m to %d m at one frame, and its key", (before, after) => {
    const way = changing(20, before, after);
    const keys: Keyed = [
      [1, way(1)],
      [20, way(20)],
      [40, way(40)],
    ];
    const notes = jumps(pointDocument({ "translation.z": keys }));
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "point", frames: [20, 20] });
    expect(notes[0].keys[0]).toMatchObject({ node: "point", channel: "translation.z", frame: 20 });
    expect(notes[0].measured.value).toBeCloseTo(Math.max(before / after, after / before), 6);
  });

  test("finds it in turning, at the joint whose key it is", () => {
    const document = chainDocument(3, {
      "joint_2 rotation.z": [
        [1, 0],
        [20, 80],
        [40, 110],
      ],
    });
    const notes = jumps(document);
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "joint_2", frames: [20, 20] });
    expect(notes[0].keys[0]).toMatchObject({ node: "joint_2", channel: "rotation.z", frame: 20 });
  });

  /** A point that goes these steps, in millimetres a frame, each turned from the one before by degrees. */
  const going = (steps: readonly number[], turns: Readonly<Record<number, number>> = {}) => {
    let [x, y, angle] = [0, 0, 0];
    const points = [
      [0, 0],
      ...steps.map((step, i) => {
        angle += ((turns[i] ?? 0) * Math.PI) / 180;
        x += (step * Math.cos(angle)) / 1000;
        y += (step * Math.sin(angle)) / 1000;
        return [x, y];
      }),
    ];
    return pathDocument(1, points.length, (frame) => [points[frame - 1][0], points[frame - 1][1], 0]);
  };
  const strong = [20, 36, 52, 68, 84, 100, 116, 132, 148, 164];

  test("finds one in the middle of a strong ease, which changes its spacing much from frame to frame", () => {
    const slow = strong.map((step) => step / 2.5).reverse();
    expect(jumps(going([...strong, ...slow]))).toMatchObject([{ node: "point", frames: [11, 11] }]);
    expect(jumps(going([...strong, ...strong.toReversed()]))).toEqual([]);
  });

  test("is silent on a turn-round that several frames share, each of them within 60°", () => {
    const steps = [40, 60, 80, 90, 92, 90, 85, 78, 30, 28, 40, 50, 55, 60, 60, 58];
    expect(jumps(going(steps))).toHaveLength(1);
    expect(jumps(going(steps, { 7: 20, 8: 45, 9: 40 }))).toEqual([]);
  });

  test("is silent on every ease: the minimum-jerk move of 3 to 30 frames starts and stops over several", () => {
    for (let length = 3; length <= 30; length++) {
      const move = eased(10, 10 + length, 0, 0.08 * length);
      expect(jumps(pathDocument(1, 50, (frame) => [move(frame), 0, 0])), `${length} frames`).toEqual([]);
    }
  });

  test("is silent on a turn-round, a ball that bounces on the floor, and factors below the threshold", () => {
    const way = changing(20, 0.06, -0.02);
    expect(jumps(pathDocument(1, 40, (frame) => [way(frame), 0, 0]))).toEqual([]);
    const mild = changing(20, 0.06, 0.03);
    expect(jumps(pathDocument(1, 40, (frame) => [mild(frame), 0, 0]))).toEqual([]);
  });

  test("is silent where a contact begins, and on poses held on twos", () => {
    const turn = changing(20, -4, -1);
    const curves = { "upper_arm_l rotation.z": everyFrame(1, 40, turn) };
    expect(jumps(bipedDocument(curves))).toHaveLength(1);
    const contacts = [{ node: "hand_l", frames: [20, 40] as [number, number], slides: true }];
    expect(jumps(bipedDocument(curves, { more: { contacts } }))).toEqual([]);
    const twos: Keyed = {
      interpolation: "step",
      keys: Array.from({ length: 24 }, (_, i): [number, number] => [1 + 2 * i, 0.08 * i]),
    };
    expect(jumps(pointDocument({ "translation.x": twos }))).toEqual([]);
  });

  test("leaves what a hard stop says to the hard stop", () => {
    const keys: Keyed = [
      [1, 0],
      [20, 1],
      [24, 1.02],
      [44, 1.02],
    ];
    const document = pointDocument({ "translation.x": keys });
    expect(jumps(document)).toMatchObject([{ frames: [20, 20] }]);
    const both = notesOf(studyOf(document, {}, { only: ["hard-stop", "spacing-jump"] }));
    expect(both.map(({ check }) => check)).toEqual(["hard-stop"]);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const scale = rate === 60 ? 0.4 : 1;
    const way = changing(30, 0.07 * scale, 0.02 * scale);
    expect(jumps(pathDocument(1, 60, (frame) => [way(frame), 0, 0], { rate }))).toMatchObject([
      { frames: [30, 30] },
    ]);
  });

  test.each([{ unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same whatever the unit: %o",
    (scale) => {
      const way = changing(20, -4, -1);
      const document = bipedDocument({ "upper_arm_l rotation.y": everyFrame(1, 40, way) }, scale);
      expect(jumps(document)).toMatchObject([{ node: "upper_arm_l", frames: [20, 20] }]);
    },
  );

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("spacing-jump");
  });
});
