import { describe, expect, test } from "vitest";
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
} from "../../../support/shots.ts";

const starts = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "hard-start");

describe("hard-start", () => {
  test("finds one that begins at seven tenths of its speed, and not one that is soft from there", () => {
    // Steps in centimetres a frame: a fast part, after it a slower one, and rest within a frame, or over six.
    const fast = [0.2, 1, 2.4, 3.8, 4.8, 5, 5, 4.9, 4.7, 4.3, 3.9, 3.6, 3.5, 3.5];
    const along = (steps: readonly number[]) => {
      const all = [...Array(8).fill(0), ...[...steps].reverse(), ...Array(16).fill(0)];
      return pathDocument(1, all.length, (frame) => [
        all.slice(0, frame).reduce((sum, step) => sum + step / 100, 0),
        0,
        0,
      ]);
    };
    expect(starts(along(fast))).toHaveLength(1);
    expect(starts(along([...fast, 3, 2.3, 1.5, 0.8, 0.3, 0.1]))).toEqual([]);
  });

  test("finds the frame and the key from which a point is at speed at once", () => {
    const keys: Keyed = [
      [1, 0],
      [12, 0, { interpolation: "smooth" }],
      [36, 1.2],
      [48, 1.2],
    ];
    const linear: Keyed = [
      [1, 0],
      [12, 0],
      [30, 1],
      [34, 1.1],
      [48, 1.1],
    ];
    expect(starts(pointDocument({ "translation.z": keys }))).toEqual([]);
    const notes = starts(pointDocument({ "translation.z": linear }));
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "point", frames: [12, 12] });
    expect(notes[0].keys[0]).toMatchObject({ node: "point", channel: "translation.z", frame: 12 });
    expect(notes[0].message).toContain("within 1 frame of rest at frame 12");
  });

  test("says the frame from which an arm is at speed, though what carries it has been creeping", () => {
    const document = chainDocument(2, {
      "joint_1 rotation.z": everyFrame(1, 48, eased(12, 44, 0, 12)),
      "joint_2 rotation.z": [
        [1, 0],
        [24, 0],
        [36, 110],
        [48, 110],
      ],
    });
    const [note] = starts(document).filter(({ node }) => node === "joint_2");
    expect(note.frames).toEqual([24, 24]);
    expect(note.keys[0]).toMatchObject({ node: "joint_2", channel: "rotation.z", frame: 24 });
  });

  test("finds a thigh that swings at once, and names its key", () => {
    const swing = bipedDocument({
      "hips translation.y": everyFrame(1, 48, () => 1.2),
      "thigh_r rotation.x": [
        [1, 0],
        [14, 0],
        [26, -60],
        [30, -64],
        [48, -64],
      ],
    });
    const notes = starts(swing);
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "thigh_r", frames: [14, 14] });
    expect(notes[0].keys[0]).toMatchObject({ node: "thigh_r", channel: "rotation.x", frame: 14 });
  });

  test("is the mirror of a hard stop", () => {
    const half = eased(10, 34, 0, 1);
    const forward = (frame: number) => half(Math.min(frame, 22));
    const stop = notesOfCheck(
      pathDocument(1, 60, (frame) => [forward(frame), 0, 0]),
      "hard-stop",
    );
    const start = starts(pathDocument(1, 60, (frame) => [forward(61 - frame), 0, 0]));
    expect(start.map(({ frames }) => frames[0])).toEqual(stop.map(({ frames }) => 61 - frames[1]));
    expect(start[0].measured.value).toBeCloseTo(stop[0].measured.value, 9);
  });

  test("is silent on an eased start, at the start of the range, and where a contact lets go", () => {
    const move = eased(10, 30, 0, 1);
    expect(starts(pathDocument(1, 48, (frame) => [move(frame), 0, 0]))).toEqual([]);
    expect(
      starts(
        pointDocument({
          "translation.x": [
            [1, 0],
            [24, 1],
          ],
        }),
      ),
    ).toEqual([]);
    const curves = {
      "upper_arm_l rotation.z": everyFrame(
        1,
        48,
        (frame) => 60 * Math.min(1, Math.max(0, (frame - 20) / 12)),
      ),
    };
    expect(starts(bipedDocument(curves))).toHaveLength(1);
    const contacts = [{ node: "hand_l", frames: [1, 20] as [number, number] }];
    expect(starts(bipedDocument(curves, { more: { contacts } }))).toEqual([]);
  });

  test("is silent where a freeze by a step key ends", () => {
    const keys: Keyed = [
      [1, 0],
      [12, 0.5, { interpolation: "step" }],
      [30, 0.5],
      [48, 1.5],
    ];
    expect(starts(pointDocument({ "translation.x": keys }))).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same start at %s frames per second", (rate) => {
    const perSecond = rate === 60 ? 60 : 24;
    const at = (seconds: number) => Math.round(seconds * perSecond);
    const keys: Keyed = [
      [0, 0],
      [at(0.5), 0],
      [at(1.5), 1],
      [at(2.5), 1],
    ];
    expect(starts(pointDocument({ "translation.x": keys }, { rate })).map(({ frames }) => frames[0])).toEqual(
      [at(0.5)],
    );
  });

  test.each([{ unit: 1 }, { unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same start whatever the unit: %o",
    (scale) => {
      const curves = {
        "upper_arm_r rotation.z": [
          [1, 0],
          [12, 0],
          [24, 70],
          [48, 70],
        ] as [number, number][],
      };
      expect(starts(bipedDocument(curves, scale))).toMatchObject([{ node: "upper_arm_r", frames: [12, 12] }]);
    },
  );

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("hard-start");
  });
});
