import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { rotated } from "../../../packages/core/base/quaternion.ts";
import type { Shot } from "../../../packages/core/document/model.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { gripsOf } from "../../../packages/core/motion/parts/grips.ts";
import { staysOf } from "../../../packages/core/motion/parts/stays.ts";
import { statureNear } from "../../../packages/core/motion/path/moves.ts";
import { worldOf } from "../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { motionOf } from "../../../packages/core/session/verify/trial.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { type Motion, motionDocument, standing } from "../../support/bodies.ts";
import { bipedDocument, eased, everyFrame, pointDocument } from "../../support/shots.ts";
import { objection, set, settings, shotFrom } from "./objections.ts";

const about = (note: Partial<Note>): Note =>
  ({ check: "pop", figure: null, node: null, seenAt: [], keys: [], frames: [20, 20], ...note }) as Note;

/** A point that goes by a metre and holds. */
const point = shotFrom(pointDocument({ "translation.x": everyFrame(1, 60, eased(4, 40, 0, 1)) }));
const valueAt = (frame: number) => eased(4, 40, 0, 1)(frame);

describe("a change elsewhere", () => {
  test("within six frames of a note is none; farther away it is refused, with the part, the way and the frame", () => {
    const by = (frame: number) =>
      objection(point, [set("point", "translation.x", frame, valueAt(frame) + 0.03)], about({}));
    expect(by(20)).toBeNull();
    expect(by(26)).toBeNull();
    expect(by(27)).toBe("the point would move by 3 cm at frame 27, where nothing is wrong");
  });

  test("is refused exactly from half a percent of the stature on", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 60 }),
        fc.double({ min: -0.05, max: 0.05, noNaN: true }),
        (frame, by) => {
          // A point that belongs to no body is judged as one a metre tall would be.
          const study = studyOf(point, settings);
          const limit = 0.005 * statureNear(study, 0);
          fc.pre(Math.abs(Math.abs(by) - limit) > 1e-6);
          const isNear = frame >= 14 && frame <= 26;
          const said = objection(
            point,
            [set("point", "translation.x", frame, valueAt(frame) + by)],
            about({}),
          );
          expect(said === null).toBe(isNear || Math.abs(by) < limit);
        },
      ),
      { numRuns: 60 },
    );
  });

  test("takes the breath out of a hold: what moved stands still", () => {
    const breath = (frame: number) => 0.003 * Math.sin(frame / 4);
    const shot = shotFrom(pointDocument({ "translation.y": everyFrame(1, 80, breath) }));
    const still = Array.from({ length: 30 }, (_, i) => set("point", "translation.y", 45 + i, 0));
    expect(objection(shot, still, about({}))).toMatch(/^the point would stand still from frame \d+ to \d+$/);
  });

  test("of keys that are set off in time shows the same poses, for notes of timing alone", () => {
    const turn = eased(10, 50, 0, 40);
    const arm = "upper_arm_r";
    const shot = shotFrom(bipedDocument({ [`${arm} rotation.z`]: everyFrame(1, 60, turn) }));
    const keyed = (value: (frame: number) => number) =>
      Array.from({ length: 56 }, (_, i) => set(arm, "rotation.z", 4 + i, value(4 + i)));
    const later = keyed((frame) => turn(frame - 3));
    const wider = keyed((frame) => 1.3 * turn(frame));
    const note = about({ check: "same-frame", figure: "walker", frames: [10, 12] });
    expect(objection(shot, later, note)).toBeNull();
    expect(objection(shot, later, { ...note, check: "pop" })).toMatch(/would move by/);
    expect(objection(shot, wider, note)).toMatch(/would move by/);
  });
});

/** The biped shifts its weight over feet that stand. */
const weightShift: Motion = {
  first: 1,
  last: 48,
  hips: (frame) => [eased(8, 40, 0, 0.06)(frame), 0.9 + eased(8, 40, 0, -0.04)(frame), 0],
  left: () => standing("left"),
  right: () => standing("right"),
};
const shifted = shotFrom(motionDocument(weightShift));
const ofBody = about({ figure: "walker", node: "hips", frames: [24, 24] });

describe("what stands", () => {
  test("is found by its contacts, and where it stays while the body moves", () => {
    const study = studyOf(shifted, settings);
    expect(motionOf(study).stances.filter(({ touches }) => touches).length).toBeGreaterThan(0);
    expect(new Set(staysOf(study, 0).map(({ node }) => node)).size).toBe(4);
  });

  test("must not slide when the body is moved: the refusal names the foot and how far", () => {
    const edits = [22, 23, 24, 25].map((frame) =>
      set("hips", "translation.x", frame, weightShift.hips(frame)[0] + 0.03),
    );
    expect(objection(shifted, edits, ofBody)).toMatch(
      /^the (left|right) (foot|toes) would slide by \d+(\.\d+)? cm over frames \d+ to \d+$/,
    );
  });

  test("stays when the legs are carried along", () => {
    const moved = motionDocument({
      ...weightShift,
      hips: (frame) => {
        const [x, y, z] = weightShift.hips(frame);
        return [x + (Math.abs(frame - 24) <= 2 ? 0.01 : 0), y, z];
      },
    });
    const edits = shotFrom(moved).curves.flatMap(({ node, channel, frames, values }) =>
      [...frames].flatMap((frame, key) =>
        Math.abs(frame - 24) <= 2 ? [set(node, channel, frame, values[key])] : [],
      ),
    );
    expect(edits.length).toBeGreaterThan(20);
    expect(objection(shifted, edits, ofBody)).toBeNull();
  });
});

describe("what is held", () => {
  const document = motionDocument(
    weightShift,
    {},
    {
      "upper_arm_r rotation.z": everyFrame(1, 48, eased(6, 42, 0, 30)),
    },
  );
  /** A cup that is keyed in the world, exactly where the hand carries it. */
  function holding(): Shot {
    const study = studyOf(shotFrom(document), settings);
    const hand = rigOf(study).indexOf.get("hand_r") ?? -1;
    const { position, orientation } = worldOf(study, hand);
    const place = (axis: number) =>
      everyFrame(1, 48, (frame) => {
        const out = rotated(orientation, [0, -0.08, 0], 4 * (frame - 1));
        return position[3 * (frame - 1) + axis] + out[axis];
      });
    const curves = ["x", "y", "z"].map((axis, k) => ({
      node: "cup",
      channel: `translation.${axis}` as const,
      keys: place(k),
    }));
    return shotFrom({
      ...document,
      nodes: [...document.nodes, { id: "cup" }],
      curves: [...(document.curves ?? []), ...curves],
    } as CurveDocument);
  }

  test("stays in the hand: a turn of the arm that leaves it behind is refused", () => {
    const shot = holding();
    expect(gripsOf(studyOf(shot, settings)).length).toBeGreaterThan(0);
    const edits = [23, 24, 25].map((frame) =>
      set("upper_arm_r", "rotation.z", frame, eased(6, 42, 0, 30)(frame) + 6),
    );
    const note = about({ figure: "walker", node: "upper_arm_r", frames: [24, 24] });
    expect(objection(shot, edits, note)).toMatch(
      /^the cup would leave its place in the right hand by \d+(\.\d+)? cm/,
    );
  });
});
