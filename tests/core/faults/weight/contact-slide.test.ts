import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { inPoses } from "../../../../packages/core/faults/shared/examples/documents.ts";
import {
  shifted,
  stance,
  swivelled,
} from "../../../../packages/core/faults/weight/contact-slide/examples.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { standing, walkDocument } from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { eased, notesOfCheck, type Vector } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "contact-slide");

/** Someone who stands with a hand where a wall is, by step keys; it is so much higher from frame 24 on. */
function atWall(higher: number, contacts: CurveDocument["contacts"]): CurveDocument {
  const still = stance({}, {}, () => [0, 0.9, 0]);
  const nodes = still.nodes.filter(({ id }) => id !== "hand_l");
  const steps = {
    interpolation: "step" as const,
    keys: [
      [1, 0.1],
      [24, 0.1 + higher],
    ] as [number, number][],
  };
  return {
    ...still,
    nodes: [...nodes, { id: "hand_l", parent: "chest", translation: [0.3, 0.1, 0.5] }],
    curves: [
      ...still.curves.filter(({ node }) => node !== "hand_l"),
      { node: "hand_l", channel: "translation.y", ...steps },
    ],
    surfaces: [
      { id: "floor", height: 0 },
      { id: "wall", normal: [0, 0, -1], height: -0.5 },
    ],
    contacts,
  };
}

describe("contact-slide", () => {
  test("says how far a foot slides, and how far it turns", () => {
    const [slide] = notes(stance({ left: shifted(14, 30, 0.06) }));
    expect(slide.message).toContain("left foot slides 6 cm");
    const [turn] = notes(stance({ left: swivelled(0.14, 100) }));
    expect(turn.message).toContain("left foot turns by 100° on the ground");
  });

  test("a hand that is said to hold a wall makes no step on it from pose to pose", () => {
    const contact = { node: "hand_l", with: "wall", frames: [4, 44] as [number, number] };
    const [slide, ...more] = notes(atWall(0.09, [contact]));
    expect(slide).toMatchObject({ node: "hand_l", tier: "major", frames: [23, 24] });
    expect(slide.measured.value).toBeCloseTo(0.09, 3);
    expect(more).toEqual([]);
    expect(notes(atWall(0.09, [{ ...contact, slides: true }]))).toEqual([]);
    expect(notes(atWall(0.01, [contact]))).toEqual([]);
    const gripsAnew = [
      { ...contact, frames: [4, 22] as [number, number] },
      { ...contact, frames: [24, 44] as [number, number] },
    ];
    expect(notes(atWall(0.09, gripsAnew))).toEqual([]);
  });

  test("names the key of the hips that drags both feet along", () => {
    const still = stance({}, {}, () => [0, 0.9, 0]);
    const curves = still.curves.filter(({ node, channel }) => node !== "hips" || channel !== "translation.z");
    const keys: [number, number][] = [
      [1, 0],
      [20, 0],
      [27, 0.05],
      [48, 0.05],
    ];
    const found = notes({
      ...still,
      curves: [...curves, { node: "hips", channel: "translation.z", keys }],
    });
    expect(found.map(({ node }) => node).sort()).toEqual(["foot_l", "foot_r"]);
    for (const note of found) {
      expect(note.keys[0]).toMatchObject({ node: "hips", channel: "translation.z" });
      expect([20, 27]).toContain(note.keys[0].frame);
    }
  });

  test.each([6, 9])(
    "names the leg where the other foot stands while the hips sway, in %i frames a radian",
    (period) => {
      // The hips go farther than the foot slides; both legs answer to them, and the right foot does not slide.
      const hips = (frame: number): Vector => [
        0.02 * Math.sin(frame / 8),
        0.86,
        0.12 * Math.sin(frame / period),
      ];
      expect(notes(stance({}, {}, hips))).toEqual([]);
      expectLegNamed(hips, 0.05);
    },
  );

  test("names the leg that does not answer to the hips where the other one does", () => {
    // Held hips would keep the left foot, but drag the right one.
    const forth = eased(14, 30, 0, 0.06);
    expectLegNamed((frame) => [0, 0.88, forth(frame)], 0.06);
  });

  function expectLegNamed(hips: (frame: number) => Vector, way: number): void {
    const [note, ...others] = notes(stance({ left: shifted(14, 30, way) }, {}, hips));
    expect(others).toEqual([]);
    expect(note.node).toBe("foot_l");
    for (const key of note.keys) expect(key.node).toMatch(/_l$/);
    expect(note.keys.length).toBeGreaterThan(0);
  }

  test("hips that outrun the feet: says how much less they should travel", () => {
    // The hips go 10 % farther than the walk's steps of 0.5 m carry them.
    const document = walkDocument(
      {},
      {
        "hips translation.z": [
          [1, 0],
          [73, 3.3],
        ],
      },
    );
    const found = notes(document);
    expect(found.length).toBeGreaterThanOrEqual(4);
    for (const note of found) expect(note.suggestion).toMatch(/let the hips travel [\d.]+ cm less/);
  });

  test("a foot may turn about any point under it, from heel to ball", () => {
    // The ball is 14 cm ahead of the ankle: by 35° heel and ball travel up to 4 cm each.
    for (const ahead of [0, 0.04, 0.07, 0.1, 0.14]) {
      expect(notes(stance({ left: swivelled(ahead, 35) })), `${ahead} m ahead`).toEqual([]);
    }
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01, 0.0254]) {
      const found = notes(stance({ left: shifted(14, 30, 0.06) }, { rate, unit }));
      expect(found).toHaveLength(1);
      expect(found[0].measured.value).toBeCloseTo(0.06, 2);
    }
  });

  test("a giant may slide as far as it is tall", () => {
    const document = stance({ left: shifted(14, 30, 0.06) });
    const [note] = notes({
      ...document,
      space: { metresPerUnit: 4 },
      figures: document.figures?.map((figure) => ({ ...figure, stature: 6.8 })),
    });
    expect(note.measured.value).toBeCloseTo(0.24, 2);
    expect(note.expected.max).toBeCloseTo(0.0125 * 6.8, 6);
  });

  test("a foot that carries alone and is left behind by the hips slides from pose to pose; in a hop it goes along", () => {
    const poses = (way: number) =>
      inPoses(
        stance(
          {
            left: (frame) => standing("left", frame < 21 ? 0 : way),
            right: (frame) => ({ at: [-0.1, 0.3, frame < 21 ? 0 : 0.3] }),
          },
          {},
          (frame) => [0.08, 0.86, frame < 21 ? 0 : 0.15],
        ),
        [1, 11, 21, 31, 41],
      );
    const found = notes(poses(0.06));
    expect(found.map(({ node, tier }) => [node, tier])).toEqual([["foot_l", "major"]]);
    expect(found[0].measured.value).toBeCloseTo(0.06, 3);
    expect(notes(poses(0.15))).toEqual([]);
  });

  test("captured feet do not slide far", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["contact-slide"] }));
    expect(notesOf(study).filter(({ tier }) => tier === "major")).toEqual([]);
  });
});
