import { describe, expect, test } from "vitest";
import { walkDocument } from "../../../support/bodies.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { bipedDocument, chainDocument, eased, everyFrame, notesOfCheck } from "../../../support/shots.ts";

const over = (document: Parameters<typeof notesOfCheck>[0], config = {}) =>
  notesOfCheck(document, "over-speed", config);

describe("over-speed", () => {
  test("finds an elbow that turns past 3,000°/s, its frames and its key", () => {
    const document = bipedDocument({
      "forearm_l rotation.y": [
        [1, 0],
        [20, 0],
        [21, -150],
        [48, -150],
      ],
    });
    const [note, ...others] = over(document);
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "forearm_l", frames: [20, 21] });
    expect(note.keys[0]).toMatchObject({ node: "forearm_l", channel: "rotation.y", frame: 21 });
    // 150° in one frame of 1/24 s.
    expect(note.measured).toMatchObject({ unit: "deg/s" });
    expect(note.measured.value).toBeCloseTo(3600, 6);
    expect(note.expected).toMatchObject({ max: 3000 });
    expect(note.suggestion).toContain("take 2 frames for what now takes 1 frame");
  });

  // Grossman and others 1988: heads that were turned as fast as could be reached 780°/s (median of 20 people).
  test("finds a head that turns past 1,000°/s, and leaves one of 780°/s be", () => {
    const turning = (degrees: number) =>
      bipedDocument({
        "head rotation.y": [
          [1, 0],
          [20, 0],
          [23, degrees],
          [48, degrees],
        ],
      });
    expect(over(turning(137.5))).toMatchObject([{ node: "head", frames: [20, 23] }]);
    expect(over(turning(97.5))).toEqual([]);
  });

  const spinning = (node: string, degreesPerSecond: number) =>
    bipedDocument({ [`${node} rotation.y`]: everyFrame(1, 48, (frame) => (degreesPerSecond * frame) / 24) });

  // The fastest spin of a skater on record, 308 turns a minute, is 1,848°/s (from memory).
  test("leaves a body be that spins as skaters do, and finds one that spins faster", () => {
    expect(over(spinning("hips", 1848))).toEqual([]);
    expect(over(spinning("hips", 2400))).toMatchObject([{ node: "hips", frames: [1, 48] }]);
  });

  // J Sports Sci Med 2015, 14:246, table 3: upper torso against pelvis 871 ± 150°/s in pitching.
  test("judges what the trunk turns in itself by the trunk's own limit", () => {
    expect(over(spinning("chest", 871 + 2 * 150))).toEqual([]);
    expect(over(spinning("chest", 1848))).toMatchObject([{ node: "chest" }]);
  });

  // Turn of the upper arm about its own length in throws: 7,500 to 7,700°/s (review PMC3445080).
  test("judges how an upper arm swings, not how it turns about its own length", () => {
    const arm = (axis: "x" | "y" | "z", degreesPerSecond: number) =>
      bipedDocument(
        { [`upper_arm_l rotation.${axis}`]: everyFrame(1, 60, (frame) => (degreesPerSecond * frame) / 120) },
        { rate: 120 },
      );
    expect(over(arm("x", 7700))).toEqual([]);
    for (const axis of ["y", "z"] as const) {
      expect(over(arm(axis, 4400)).map(({ node }) => node)).toContain("upper_arm_l");
      expect(over(arm(axis, 2420)).filter(({ node }) => node === "upper_arm_l")).toEqual([]);
    }
  });

  test("finds hips that run faster than any sprint, but not a fall of the same speed", () => {
    const run = eased(6, 40, 0, 20);
    const notes = over(bipedDocument({ "hips translation.z": everyFrame(1, 48, run) }));
    expect(notes.map(({ node }) => node)).toContain("hips");
    const fall = bipedDocument({ "hips translation.y": everyFrame(1, 48, (frame) => 21 - run(frame)) });
    expect(over(fall).filter(({ node }) => node === "hips")).toEqual([]);
  });

  test("is silent on a walk and on fast moves that bodies make", () => {
    expect(over(walkDocument())).toEqual([]);
    // A forearm that is flung out by 110° in four frames: its peak is 1.875 times the mean, 1,238°/s.
    const fling = eased(20, 24, 0, 110);
    expect(over(bipedDocument({ "forearm_r rotation.y": everyFrame(1, 48, fling) }))).toEqual([]);
  });

  test("is silent on figures that are no humans, and on other limits by a setting", () => {
    const turn: [number, number][] = [
      [1, 0],
      [20, 0],
      [21, 150],
      [48, 150],
    ];
    expect(over(chainDocument(3, { "joint_2 rotation.z": turn }))).toEqual([]);
    const document = bipedDocument({ "forearm_l rotation.y": turn });
    expect(over(document)).toHaveLength(1);
    const config = { checks: { "over-speed": { values: { elbow: { value: 5000, unit: "deg/s" } } } } };
    expect(over(document, config)).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("judges per second at %s frames per second", (rate) => {
    const perFrame = 3300 / (typeof rate === "string" ? 23.976 : rate);
    const keys: [number, number][] = [
      [1, 0],
      [20, 0],
      [21, perFrame],
      [48, perFrame],
    ];
    const [note] = over(bipedDocument({ "forearm_l rotation.y": keys }, { rate }));
    expect(note).toMatchObject({ frames: [20, 21] });
    expect(note.measured.value).toBeCloseTo(3300, 0);
  });

  test.each([{ unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same whatever the unit: %o",
    (scale) => {
      const run = eased(6, 40, 0, 20);
      const document = bipedDocument({ "hips translation.z": everyFrame(1, 48, run) }, scale);
      expect(over(document).map(({ node }) => node)).toContain("hips");
      const slower = bipedDocument(
        { "hips translation.z": everyFrame(1, 48, (frame) => 0.4 * run(frame)) },
        scale,
      );
      expect(over(slower)).toEqual([]);
    },
  );

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("over-speed");
  });
});
