import { describe, expect, test } from "vitest";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import {
  bipedDocument,
  chainDocument,
  documentOf,
  eased,
  everyFrame,
  type Keyed,
  notesOfCheck,
  pathDocument,
  pointDocument,
} from "../../../support/shots.ts";

const stops = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "hard-stop");

/** Eases in, keeps its speed and stops dead at a frame: 1.2 m in all. */
const dead: Keyed = {
  interpolation: "bezier",
  keys: [
    [1, 0],
    [8, 0, { out: [5, 0] }],
    [32, 1.2, { in: [-8, -0.5], interpolation: "linear" }],
    [60, 1.2],
  ],
};

describe("hard-stop", () => {
  test("finds one that ends at seven tenths of its speed, and not one that is soft from there", () => {
    // Steps in centimetres a frame: a fast part, before it a slower one, and rest within a frame, or over six.
    const fast = [0.2, 1, 2.4, 3.8, 4.8, 5, 5, 4.9, 4.7, 4.3, 3.9, 3.6, 3.5, 3.5];
    const along = (steps: readonly number[]) => {
      const all = [...Array(8).fill(0), ...steps, ...Array(16).fill(0)];
      return pathDocument(1, all.length, (frame) => [
        all.slice(0, frame).reduce((sum, step) => sum + step / 100, 0),
        0,
        0,
      ]);
    };
    expect(stops(along(fast))).toHaveLength(1);
    expect(stops(along([...fast, 3, 2.3, 1.5, 0.8, 0.3, 0.1]))).toEqual([]);
  });

  test("what goes on slowly for long after a flicker has not come to rest there", () => {
    // 8 cm out and back within two frames, then on at 6 mm a frame for 5 s, which is under a tenth of the flicker's speed.
    const drift = (frame: number) => 0.006 * Math.max(0, Math.min(frame, 132) - 12);
    const flicker = pathDocument(1, 150, (frame) => [drift(frame), frame === 12 ? 0.08 : 0, 0]);
    expect(stops(flicker)).toEqual([]);
    expect(notesOfCheck(flicker, "pop")).toHaveLength(1);
  });

  test("finds the frame and the key of a point that stops dead", () => {
    const notes = stops(pointDocument({ "translation.x": dead }, { range: [1, 60] }));
    expect(notes).toHaveLength(1);
    const [note] = notes;
    expect(note.node).toBe("point");
    expect(note.frames[1]).toBe(32);
    expect(note.keys[0]).toMatchObject({ node: "point", channel: "translation.x", frame: 32 });
    expect(note.message).toMatch(
      /^point stops in 1 frame from \d(\.\d)? m\/s at frame 32; .* takes 6 frames$/,
    );
  });

  test("tells how long an eased stop takes: a minimum-jerk move of 24 frames needs 0.251 of them", () => {
    // The first half of a minimum-jerk move (Flash & Hogan 1985) over 24 frames, and nothing after it: the whole move
    // would have taken 24 · 0.251 = 6.0 frames for its stop, and half a step less where the middle step counts once.
    const half = eased(10, 34, 0, 1);
    const notes = stops(pathDocument(1, 60, (frame) => [half(Math.min(frame, 22)), 0, 0]));
    expect(notes).toHaveLength(1);
    expect(notes[0].message).toMatch(/an eased stop of this move takes (5|6) frames/);
  });

  test("finds a head that stops turning, though it does not travel", () => {
    const document = bipedDocument({
      "head rotation.y": [
        [1, 0],
        [10, 0],
        [22, 50],
        [48, 50],
      ],
    });
    const notes = stops(document);
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "head", frames: [22, 22] });
    expect(notes[0].keys[0]).toMatchObject({ node: "head", channel: "rotation.y", frame: 22 });
    expect(notes[0].message).toContain("stops turning in 1 frame from 100°/s");
  });

  test("says the frame on which an arm stops dead, though what carries it creeps on for some frames", () => {
    const document = chainDocument(2, {
      "joint_1 rotation.z": everyFrame(1, 48, eased(4, 36, 0, 12)),
      "joint_2 rotation.z": [
        [1, 0],
        [12, 0],
        [24, 110],
        [48, 110],
      ],
    });
    // Its own turn of 9 degrees a frame ends on frame 24; with the carrier it goes on turning by half a degree.
    const [note] = stops(document).filter(({ node }) => node === "joint_2");
    expect(note.frames).toEqual([24, 24]);
    expect(note.keys[0]).toMatchObject({ node: "joint_2", channel: "rotation.z", frame: 24 });
    expect(note.message).toContain("at frame 24");
  });

  test("names the joint that stops and not the tip that follows it", () => {
    const document = chainDocument(3, {
      "joint_1 rotation.z": [
        [1, 0],
        [12, 0],
        [24, 70],
        [48, 70],
      ],
    });
    const notes = stops(document);
    expect(notes).toHaveLength(1);
    expect(notes[0].node).toBe("joint_1");
    expect(notes[0].keys[0]).toMatchObject({ node: "joint_1", channel: "rotation.z", frame: 24 });
    expect(notes[0].seenAt).toContain("tip");
  });

  test("is silent on an eased move, keyed on every frame or by four keys", () => {
    const move = eased(10, 30, 0, 1);
    expect(stops(pathDocument(1, 48, (frame) => [move(frame), 0.3 * move(frame), 0]))).toEqual([]);
    const keys: Keyed = {
      interpolation: "smooth",
      keys: [
        [1, 0],
        [10, 0],
        [30, 1],
        [48, 1],
      ],
    };
    expect(stops(pointDocument({ "translation.x": keys }))).toEqual([]);
  });

  test("is silent where the range ends while the part moves", () => {
    const keys: Keyed = [
      [1, 0],
      [24, 1],
    ];
    expect(stops(pointDocument({ "translation.x": keys }))).toEqual([]);
    expect(stops(pointDocument({ "translation.x": [...keys, [48, 1]] }, { range: [1, 24] }))).toEqual([]);
  });

  test("is silent on poses held by step keys, and on a freeze by a step key", () => {
    const twos: Keyed = {
      interpolation: "step",
      keys: Array.from({ length: 24 }, (_, i): [number, number] => [
        1 + 2 * i,
        eased(9, 33, 0, 1)(1 + 2 * i),
      ]),
    };
    expect(stops(pointDocument({ "translation.x": twos }, { range: [1, 48] }))).toEqual([]);
    const blocked: Keyed = {
      interpolation: "step",
      keys: [
        [1, 0],
        [13, 0.5],
        [25, 0.2],
        [37, 0.9],
      ],
    };
    expect(stops(pointDocument({ "translation.x": blocked }, { range: [1, 48] }))).toEqual([]);
    const frozen: Keyed = {
      interpolation: "linear",
      keys: [
        [1, 0],
        [24, 1, { interpolation: "step" }],
        [40, 1],
        [60, 2],
      ],
    };
    expect(stops(pointDocument({ "translation.x": frozen }))).toEqual([]);
  });

  test("on twos a dead stop is still one", () => {
    const twos: Keyed = {
      interpolation: "step",
      keys: Array.from({ length: 30 }, (_, i): [number, number] => [
        1 + 2 * i,
        Math.min(1.5, Math.max(0, 0.1 * (i - 5))),
      ]),
    };
    const notes = stops(pointDocument({ "translation.x": twos }, { range: [1, 60] }));
    expect(notes.map(({ frames }) => frames[1])).toEqual([41]);
  });

  test("is silent where a declared contact begins: the hand hits the table", () => {
    const curves = {
      "upper_arm_l rotation.z": everyFrame(
        1,
        48,
        (frame) => -80 * Math.min(1, Math.max(0, (frame - 8) / 12)),
      ),
    };
    const open = bipedDocument(curves);
    expect(stops(open).map(({ frames }) => frames[1])).toEqual([20]);
    const contacts = [{ node: "hand_l", with: "table", frames: [20, 48] as [number, number] }];
    expect(stops(bipedDocument(curves, { more: { contacts } }))).toEqual([]);
    const later = [{ node: "hand_l", with: "table", frames: [30, 48] as [number, number] }];
    expect(stops(bipedDocument(curves, { more: { contacts: later } }))).toHaveLength(1);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same stop at %s frames per second", (rate) => {
    const perSecond = rate === 60 ? 60 : 24;
    const at = (seconds: number) => Math.round(seconds * perSecond);
    const keys: Keyed = [
      [0, 0],
      [at(0.5), 0],
      [at(1.5), 1],
      [at(2.5), 1],
    ];
    const notes = stops(pointDocument({ "translation.x": keys }, { rate }));
    expect(notes.map(({ frames }) => frames[1])).toEqual([at(1.5)]);
    const soft = eased(at(0.5), at(1.5), 0, 1);
    expect(stops(pathDocument(0, at(2.5), (frame) => [soft(frame), 0, 0], { rate }))).toEqual([]);
  });

  test.each([{ unit: 1 }, { unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same stop whatever the unit: %o",
    (scale) => {
      const curves = {
        "upper_arm_r rotation.z": [
          [1, 0],
          [12, 0],
          [24, 70],
          [48, 70],
        ] as [number, number][],
        "hips translation.x": [
          [1, 0],
          [48, 0],
        ] as [number, number][],
      };
      const [note, ...others] = stops(bipedDocument(curves, scale));
      expect(others).toEqual([]);
      expect(note).toMatchObject({ node: "upper_arm_r", frames: [24, 24] });
      expect(note.weight).toBeCloseTo(stops(bipedDocument(curves))[0].weight, 2);
    },
  );

  test("a slow drift that ends is no hard stop, and thresholds can be set", () => {
    const keys: Keyed = [
      [1, 0],
      [40, 0.2],
      [60, 0.2],
    ];
    const document = documentOf([{ id: "point" }], { "point translation.x": keys });
    expect(stops(document)).toEqual([]);
    const config = { checks: { "hard-stop": { values: { speed: { value: 0.05, unit: "m/s" as const } } } } };
    expect(notesOfCheck(document, "hard-stop", config)).toHaveLength(1);
  });

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("hard-stop");
  });
});
