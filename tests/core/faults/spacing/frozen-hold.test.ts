import { describe, expect, test } from "vitest";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { bipedDocument, chainDocument, eased, everyFrame, notesOfCheck } from "../../../support/shots.ts";

const frozen = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "frozen-hold");

const arm = eased(4, 24, 0, 60);
const again = eased(44, 64, 0, 30);
/** A body that moves, stands stock-still from frame 24 to 44, and moves on. */
const stopping = (drift: (frame: number) => number = () => 0) =>
  bipedDocument({
    "upper_arm_l rotation.z": everyFrame(1, 72, (frame) => arm(frame) + again(frame)),
    "head rotation.y": everyFrame(1, 72, (frame) => 0.5 * arm(frame) - again(frame)),
    "chest rotation.x": everyFrame(1, 72, (frame) => 0.2 * arm(frame) + drift(frame)),
  });

describe("frozen-hold", () => {
  test("finds the hold in which nothing moves, and the keys that it hangs on", () => {
    const [note, ...others] = frozen(stopping());
    expect(others).toEqual([]);
    expect(note.frames[0]).toBeGreaterThanOrEqual(22);
    expect(note.frames[0]).toBeLessThanOrEqual(24);
    expect(note.frames[1]).toBeGreaterThanOrEqual(44);
    expect(note.frames[1]).toBeLessThanOrEqual(46);
    expect(note.figure).toBe("walker");
    const moved = ["upper_arm_l rotation.z", "head rotation.y", "chest rotation.x"];
    for (const { node, channel } of note.keys) expect(moved).toContain(`${node} ${channel}`);
    expect(note.keys.length).toBeGreaterThan(0);
  });

  test("finds a dead stop of a chain between two linear moves", () => {
    const turn: [number, number][] = [
      [1, 0],
      [20, 60],
      [32, 60],
      [50, 0],
    ];
    const [note, ...others] = frozen(chainDocument(2, { "joint_1 rotation.z": turn }));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ frames: [20, 32] });
    expect(note.keys[0]).toMatchObject({ node: "joint_1", channel: "rotation.z", frame: 20 });
    expect(note.message).toContain("stay frozen for 12 frames");
  });

  test("is silent on a moving hold: one part that drifts on is enough", () => {
    // 2° of the chest over the hold, which carries the head by about 2 cm.
    expect(frozen(stopping((frame) => 0.1 * frame))).toEqual([]);
  });

  test("is silent at the start and the end of the shot", () => {
    const document = bipedDocument({
      "upper_arm_l rotation.z": everyFrame(1, 60, eased(20, 36, 0, 60)),
    });
    expect(frozen(document)).toEqual([]);
  });

  test("is silent on a stop of four frames, on step keys and on a figure that never moved", () => {
    const accent: [number, number][] = [
      [1, 0],
      [20, 60],
      [24, 60],
      [44, 0],
    ];
    expect(frozen(chainDocument(2, { "joint_1 rotation.z": accent }))).toEqual([]);
    const steps = Array.from({ length: 6 }, (_, i): [number, number] => [1 + 10 * i, 20 * (i % 2)]);
    const blocked = chainDocument(
      2,
      { "joint_1 rotation.z": { interpolation: "step", keys: steps } },
      { range: [1, 60] },
    );
    expect(frozen(blocked)).toEqual([]);
    const freeze = chainDocument(2, {
      "joint_1 rotation.z": [
        [1, 0],
        [20, 60, { interpolation: "step" }],
        [40, 60],
        [60, 0],
      ],
    });
    expect(frozen(freeze)).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const perSecond = rate === 60 ? 60 : 24;
    const at = (seconds: number) => Math.round(seconds * perSecond);
    const turn: [number, number][] = [
      [0, 0],
      [at(1), 60],
      [at(1.5), 60],
      [at(2.5), 0],
    ];
    const notes = frozen(chainDocument(2, { "joint_1 rotation.z": turn }, { rate }));
    expect(notes).toMatchObject([{ frames: [at(1), at(1.5)] }]);
    const short: [number, number][] = [
      [0, 0],
      [at(1), 60],
      [at(1.125), 60],
      [at(2), 0],
    ];
    expect(frozen(chainDocument(2, { "joint_1 rotation.z": short }, { rate }))).toEqual([]);
  });

  test.each([{ unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same whatever the unit: %o",
    (scale) => {
      const turn: [number, number][] = [
        [1, 0],
        [20, 60],
        [32, 60],
        [50, 0],
      ];
      const document = bipedDocument({ "upper_arm_l rotation.z": turn }, scale);
      expect(frozen(document)).toMatchObject([{ frames: [20, 32] }]);
    },
  );

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("frozen-hold");
  });
});
