import { describe, expect, test } from "vitest";
import { eachAlone } from "../../../../packages/core/notes/assemble.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import {
  bipedDocument,
  eased,
  everyFrame,
  notesOfCheck,
  pathDocument,
  studyOf,
  type Vector,
} from "../../../support/shots.ts";

const rates = [24, 25, "24000/1001", 60] as const;
/** A move that takes as long at any rate: frames as if at 24 per second. */
const at24 = (rate: number | string, frame: number) => (rate === 60 ? frame / 2.5 : frame);
const arm = (turn: (frame: number) => number, rate: number | string = 24) =>
  bipedDocument({ "upper_arm_l rotation.z": everyFrame(1, 150, turn) }, { rate });

describe("retraced-path", () => {
  const swing = (frame: number) => eased(8, 24, 0, 1)(frame) - eased(28, 44, 0, 1)(frame);
  const retraced = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "retraced-path");

  test("counts turns that follow each other once", () => {
    const notes = retraced(arm((frame) => -30 + 30 * Math.cos((2 * Math.PI * frame) / 20)));
    expect(notes).toHaveLength(1);
    expect(notes[0].message).toMatch(/comes back \d+ times on the same line/);
  });

  test.each(rates)("finds the same at %s frames per second", (rate) => {
    const notes = retraced(arm((frame) => -70 * swing(at24(rate, frame)), rate));
    expect(notes).toMatchObject([{ node: "hand_l" }]);
  });
});

/** A hand that goes up along a line on frames 10 to 30, as its only motion. */
const reach = eased(10, 30, 0, 1);
const pulled = (bow: number, rate: number | string = 24) => {
  const document = bipedDocument(
    {
      "hand_l translation.x": everyFrame(1, 60, (f) => 0.4 + 4 * bow * reach(f) * (1 - reach(f))),
      "hand_l translation.y": everyFrame(1, 60, (f) => 0.1 + 0.5 * reach(f)),
    },
    { rate },
  );
  for (const node of document.nodes) if (node.id === "hand_l") node.parent = "hips";
  return document;
};

describe("straight-path", () => {
  test.each(rates)("finds the same at %s frames per second", (rate) => {
    expect(notesOfCheck(pulled(0, rate), "straight-path")).toMatchObject([{ node: "hand_l" }]);
    expect(notesOfCheck(pulled(0.1, rate), "straight-path")).toEqual([]);
  });

  test("is off in a style that has punches", () => {
    const checks = (style: "snappy" | undefined) =>
      // The hand's end in a freeze has the same key, and is told with it.
      eachAlone(notesOf(studyOf(pulled(0), style === undefined ? {} : { style }))).map(({ check }) => check);
    expect(checks(undefined)).toContain("straight-path");
    expect(checks("snappy")).not.toContain("straight-path");
  });
});

describe("kinked-path", () => {
  const kinked = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "kinked-path");
  /** At an even speed to a point, and on at an angle. */
  const corner =
    (degrees: number, step = 0.05) =>
    (frame: number): Vector => {
      const angle = (degrees * Math.PI) / 180;
      const before = step * Math.min(frame, 30);
      const after = step * Math.max(0, frame - 30);
      return [before + after * Math.cos(angle), after * Math.sin(angle), 0];
    };

  test.each([70, 90, 140, 180])("finds a corner of %i° at its frame", (degrees) => {
    const notes = kinked(pathDocument(1, 60, corner(degrees)));
    expect(notes).toMatchObject([{ node: "point", frames: [30, 30] }]);
    expect(notes[0].measured.value).toBeCloseTo(degrees, 4);
  });

  test("holds a corner in a burst against the burst, not against the calm around it", () => {
    // Every step of the burst is as long; its turns change from frame to frame by up to as much as the corner.
    const turns = [0, 0, 70, 0, -45, 40, -50];
    const points: Vector[] = [[0, 0, 0]];
    let angle = 0;
    for (let frame = 1; frame < 60; frame++) {
      const index = frame - 24;
      angle += ((turns[index] ?? 0) * Math.PI) / 180;
      const step = index >= 0 && index < turns.length ? 0.03 : 0.0001;
      const [x, y] = points[frame - 1];
      points.push([x + step * Math.cos(angle), y + step * Math.sin(angle), 0]);
    }
    expect(kinked(pathDocument(1, 60, (frame) => points[frame - 1]))).toEqual([]);
  });

  test("holds a corner between two stretches that waver against the whole shot, not against those alone", () => {
    // A circle of even steps that wavers by 25° on either side of frame 30.
    const wavering = (degrees: number) => {
      const points: Vector[] = [[0, 0, 0]];
      let angle = 0;
      for (let frame = 1; frame < 120; frame++) {
        const away = Math.abs(frame - 29);
        const waver = away > 2 && away < 10 ? 25 * (-1) ** frame : 0;
        angle += ((7 + waver + (frame === 29 ? degrees : 0)) * Math.PI) / 180;
        const [x, y] = points[frame - 1];
        points.push([x + 0.05 * Math.cos(angle), y + 0.05 * Math.sin(angle), 0]);
      }
      return kinked(pathDocument(1, 120, (frame) => points[frame - 1]));
    };
    expect(wavering(80)).toMatchObject([{ node: "point", frames: [29, 29] }]);
    expect(wavering(0)).toEqual([]);
  });

  test.each(rates)("finds the same at %s frames per second", (rate) => {
    const step = rate === 60 ? 0.02 : 0.05;
    expect(kinked(pathDocument(1, 60, corner(90, step), { rate }))).toMatchObject([{ frames: [30, 30] }]);
  });
});
