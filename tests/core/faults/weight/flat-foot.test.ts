import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { stiffFoot } from "../../../../packages/core/faults/weight/flat-foot/examples.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { walkDocument } from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "flat-foot");

describe("flat-foot", () => {
  test("finds every step of a walk on flat feet", () => {
    const found = notes(walkDocument({ roll: 0 }));
    // Six steps of twelve frames, in which a foot leaves three quarters of a step after it stood under the hips: on
    // frame 10 it is 2.3 cm up. The leg leans by 18° (the hips 0.26 m ahead of an ankle 0.79 m below) from frame 7.2 on.
    expect(found.map(({ frames }) => frames).sort((a, b) => a[0] - b[0])).toEqual(
      [0, 12, 24, 36, 48, 60].map((since) => [since + 8, since + 9]),
    );
    for (const [i, note] of [...found].sort((a, b) => a.frames[1] - b.frames[1]).entries()) {
      expect(note.node).toBe(i % 2 === 0 ? "foot_l" : "foot_r");
      expect(note.keys[0].node).toBe(note.node);
      expect(note.message).toContain("leaves the ground flat");
      expect(note.measured.value).toBeLessThan(1);
    }
  });

  test("says how far the heel should have come up", () => {
    const [note] = notes(walkDocument({ roll: 0, stepLength: 0.5 }));
    const degrees = Number(/by about (\d+)°/.exec(note.suggestion)?.[1]);
    // The hips are 0.375 m ahead of an ankle 0.79 m below them.
    expect(Math.abs(degrees - (Math.atan2(0.375, 0.79) * 180) / Math.PI)).toBeLessThan(3);
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) expect(notes(walkDocument({ roll: 0, rate, unit }))).toHaveLength(6);
  });

  test("tells a foot that never rolls by the other one, and as minor where it tips a little", () => {
    const found = notes(stiffFoot(14)());
    expect(found.map(({ node }) => node)).toEqual(["foot_l", "foot_l", "foot_l"]);
    expect(found[0].tier).toBe("minor");
    expect(found[0].message).toMatch(
      /leaves the ground stiffly at frame \d+: its sole has tilted by 1\d°, and by 4\d° in like steps/,
    );
    expect(notes(stiffFoot(30)())).toEqual([]);
  });

  test("captured feet roll", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["flat-foot"] }));
    expect(notesOf(study)).toEqual([]);
  });
});
