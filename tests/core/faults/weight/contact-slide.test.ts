import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import {
  ankleHeight,
  curveThrough,
  degrees,
  type Foot,
  halfStance,
  jumpDocument,
  type Motion,
  motionDocument,
  rolled,
  standing,
  walkDocument,
} from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import {
  type DocumentOptions,
  documentOf,
  eased,
  notesOfCheck,
  type Vector,
} from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "contact-slide");

/** Someone who sways over both feet, which do as they are told. */
function stance(feet: Partial<Motion> = {}, options: DocumentOptions = {}, hips?: (frame: number) => Vector) {
  return motionDocument(
    {
      first: 1,
      last: 48,
      hips: hips ?? ((frame) => [0.04 * Math.sin(frame / 8), 0.9, 0.03 * Math.sin(frame / 6)]),
      left: () => standing("left"),
      right: () => standing("right"),
      ...feet,
    },
    options,
  );
}

/** A left foot that goes forward on the ground by so many metres between two frames. */
const shifted = (from: number, to: number, way: number) => (frame: number) =>
  standing("left", eased(from, to, 0, way)(frame));

/** Hips, and feet that hang on the figure's top node as controls do, with curves of their own. */
function controls(curves: Parameters<typeof documentOf>[1], options: DocumentOptions = {}): CurveDocument {
  return documentOf(
    [
      { id: "walker" },
      { id: "hips", parent: "walker", translation: [0, 0.95, 0] },
      { id: "head", parent: "hips", translation: [0, 0.6, 0] },
      { id: "foot_l", parent: "walker", translation: [0.1, 0.09, 0] },
      { id: "foot_r", parent: "walker", translation: [-0.1, 0.09, 0] },
    ],
    {
      "hips translation.z": [
        [1, 0],
        [48, 0.1],
      ],
      ...curves,
    },
    {
      range: [1, 48],
      ...options,
      more: {
        figures: [
          {
            id: "walker",
            stature: 1.7,
            parts: { root: "walker", head: "head", leftFoot: "foot_l", rightFoot: "foot_r" },
          },
        ],
        surfaces: [{ id: "floor", normal: [0, 1, 0], height: 0 }],
        ...options.more,
      },
    },
  );
}

describe("contact-slide", () => {
  test("feet that stand while the body sways, walks, jumps are silent", () => {
    expect(notes(stance())).toEqual([]);
    expect(notes(walkDocument())).toEqual([]);
    expect(notes(walkDocument({ roll: 0 }))).toEqual([]);
    expect(notes(walkDocument({ stepFrames: 9, stepLength: 0.6, roll: 45 }))).toEqual([]);
    expect(notes(jumpDocument({ forward: 1 }))).toEqual([]);
  });

  test("finds a foot that drifts, how far and when", () => {
    const [note, ...others] = notes(stance({ left: shifted(14, 30, 0.06) }));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "foot_l", measured: { unit: "m" } });
    expect(note.measured.value).toBeCloseTo(0.06, 3);
    expect(note.message).toContain("left foot slides 6 cm");
    // A minimum-jerk move of 16 frames leaves its first 3 % on its third frame.
    expect(note.frames[0]).toBeGreaterThanOrEqual(14);
    expect(note.frames[0]).toBeLessThanOrEqual(17);
    expect(note.frames[1]).toBeGreaterThanOrEqual(27);
    expect(note.frames[1]).toBeLessThanOrEqual(30);
  });

  test("names the key of the hips that drags both feet along", () => {
    const still = stance({}, {}, () => [0, 0.9, 0]);
    const curves = still.curves.filter(({ node, channel }) => node !== "hips" || channel !== "translation.z");
    const dragged = {
      ...still,
      curves: [
        ...curves,
        {
          node: "hips",
          channel: "translation.z" as const,
          keys: [
            [1, 0],
            [20, 0],
            [27, 0.05],
            [48, 0.05],
          ] as [number, number][],
        },
      ],
    };
    const found = notes(dragged);
    expect(found.map(({ node }) => node).sort()).toEqual(["foot_l", "foot_r"]);
    for (const note of found) {
      expect(note.keys[0]).toMatchObject({ node: "hips", channel: "translation.z", frame: 27 });
      expect(note.keys[0].share).toBeCloseTo(1, 6);
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
      const [note, ...others] = notes(stance({ left: shifted(14, 30, 0.05) }, {}, hips));
      expect(others).toEqual([]);
      expect(note.node).toBe("foot_l");
      for (const key of note.keys) expect(key.node).toMatch(/_l$/);
      expect(note.keys.length).toBeGreaterThan(0);
    },
  );

  test("names the leg that does not answer to the hips where the other one does", () => {
    // Held hips would keep the left foot, but drag the right one.
    const forth = eased(14, 30, 0, 0.06);
    const hips = (frame: number): Vector => [0, 0.88, forth(frame)];
    const [note, ...others] = notes(stance({ left: shifted(14, 30, 0.06) }, {}, hips));
    expect(others).toEqual([]);
    expect(note.node).toBe("foot_l");
    for (const key of note.keys) expect(key.node).toMatch(/_l$/);
  });

  test("names the key of a foot that is keyed on its own", () => {
    const [note, ...others] = notes(
      controls({
        "foot_l translation.z": [
          [1, 0],
          [20, 0],
          [30, 0.07],
          [48, 0.07],
        ],
      }),
    );
    expect(others).toEqual([]);
    expect(note.node).toBe("foot_l");
    expect(note.keys[0]).toMatchObject({ node: "foot_l", channel: "translation.z", frame: 30 });
    expect(note.frames).toEqual([20, 30]);
  });

  test("names the key that a drift leaves where none ends it", () => {
    const [note] = notes(
      controls({
        "foot_r translation.x": [
          [1, -0.1],
          [12, -0.1],
          [90, -0.4],
        ],
      }),
    );
    expect(note).toMatchObject({
      node: "foot_r",
      keys: [{ node: "foot_r", channel: "translation.x", frame: 12 }],
    });
  });

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

  test("a slide under the limit is not seen", () => {
    expect(notes(stance({ left: shifted(14, 30, 0.019) }))).toEqual([]);
    expect(notes(stance({ left: shifted(14, 30, 0.025) }))).toHaveLength(1);
  });

  test("a foot that rolls over its ball does not slide", () => {
    const pitch = eased(10, 34, 0, 40);
    expect(notes(stance({ left: (frame) => rolled("left", 0, pitch(frame)) }))).toEqual([]);
  });

  /** A left foot that turns about its ball. */
  const pivoted =
    (degrees: number) =>
    (frame: number): Foot => {
      const yaw = eased(12, 30, 0, degrees)(frame);
      const turn = (yaw * Math.PI) / 180;
      // The ball stands 0.14 m in front of the ankle.
      return {
        at: [halfStance - 0.14 * Math.sin(turn), ankleHeight, 0.14 - 0.14 * Math.cos(turn)],
        yaw,
      };
    };

  test("a foot may turn about its ball up to a limit", () => {
    expect(notes(stance({ left: pivoted(50) }))).toEqual([]);
    const [note, ...others] = notes(stance({ left: pivoted(100) }));
    expect(others).toEqual([]);
    expect(note.message).toContain("left foot turns by 100° on the ground");
    expect(note).toMatchObject({ node: "foot_l", measured: { unit: "deg" } });
  });

  /** A left foot that turns by an angle (degrees) about a point so far ahead of its ankle, and slides forward meanwhile. */
  const swivelled = (ahead: number, angle: number, way: number) => (frame: number) => {
    const yaw = eased(12, 30, 0, angle)(frame);
    const [x, y] = standing("left").at;
    const place = eased(12, 30, 0, way)(frame) + ahead * (1 - Math.cos(yaw / degrees));
    return { at: [x - ahead * Math.sin(yaw / degrees), y, place] as const, yaw };
  };

  test("a foot may turn about any point under it, from heel to ball", () => {
    // The ball is 14 cm ahead of the ankle: by 35° heel and ball travel up to 4 cm each.
    for (const ahead of [0, 0.04, 0.07, 0.1, 0.14]) {
      expect(notes(stance({ left: swivelled(ahead, 35, 0) })), `${ahead} m ahead`).toEqual([]);
    }
  });

  test("of a foot that slides while it turns, only the slide is told", () => {
    const [note] = notes(stance({ left: swivelled(0.07, 35, 0.04) }));
    expect(note.node).toBe("foot_l");
    expect(note.measured.value).toBeGreaterThan(0.035);
    expect(note.measured.value).toBeLessThan(0.045);
  });

  test.each([
    ["off", 1],
    ["in", -1],
  ] as const)("both feet that shuffle %s in a hop slide while they swing, not while they stand", (_, way) => {
    // Between a stand and 1.4 m/s within seven frames, hardly off the ground, as in a boxer's shuffle.
    const hop = (side: "left" | "right") => (frame: number) => {
      const n = Math.max(0, way * (frame - 24));
      const place = n < 7 ? 0.0045 * n * n : 0.0045 * 7 * (2 * n - 7);
      return { at: [standing(side).at[0], ankleHeight + 0.0006 * n * n, way * place] as const };
    };
    const hips = (frame: number): Vector => [0, 0.9, hop("left")(frame).at[2]];
    const range = way === 1 ? { first: 1, last: 36 } : { first: 12, last: 48 };
    expect(notes(stance({ ...range, left: hop("left"), right: hop("right") }, {}, hips))).toEqual([]);
  });

  test("a declared slide is meant; a declared contact that slides is not", () => {
    const curves = {
      "foot_l translation.z": [
        [1, 0],
        [20, 0],
        [30, 0.07],
        [48, 0.07],
      ] as [number, number][],
    };
    const contact = { node: "foot_l", with: "floor", frames: [1, 48] as [number, number] };
    expect(notes(controls(curves, { more: { contacts: [{ ...contact, slides: true }] } }))).toEqual([]);
    expect(notes(controls(curves, { more: { contacts: [contact] } }))).toHaveLength(1);
  });

  test("a quick, low step beside a standing foot is a step", () => {
    expect(notes(stance({ left: shifted(14, 20, 0.2) }))).toEqual([]);
  });

  test("a foot in the air may travel", () => {
    const lift = curveThrough([
      [12, 0],
      [18, 0.12],
      [24, 0],
    ]);
    const swung = (frame: number): Foot => ({
      at: [
        halfStance,
        ankleHeight + (frame > 12 && frame < 24 ? lift.at(frame) : 0),
        eased(12, 24, 0, 0.3)(frame),
      ],
    });
    expect(notes(stance({ left: swung }))).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01, 0.0254]) {
      const found = notes(stance({ left: shifted(14, 30, 0.06) }, { rate, unit }));
      expect(found).toHaveLength(1);
      expect(found[0].measured.value).toBeCloseTo(0.06, 2);
    }
  });

  test("a giant may slide as far as it is tall", () => {
    const grown = (unit: number, stature: number): CurveDocument => {
      const document = stance({ left: shifted(14, 30, 0.06) }, { rate: 24 });
      return {
        ...document,
        space: { metresPerUnit: unit },
        figures: document.figures?.map((figure) => ({ ...figure, stature })),
      };
    };
    expect(notes(grown(1, 1.7))).toHaveLength(1);
    const [note] = notes(grown(4, 6.8));
    expect(note.measured.value).toBeCloseTo(0.24, 2);
    expect(note.expected.max).toBeCloseTo(0.0125 * 6.8, 6);
  });

  test("captured feet do not slide far", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["contact-slide"] }));
    expect(notesOf(study).filter(({ tier }) => tier === "major")).toEqual([]);
  });

  test("barren documents are silent", () => expectQuietOnBarren("contact-slide"));
});
