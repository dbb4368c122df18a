import { describe, expect, test } from "vitest";
import { registry } from "../../../../packages/core/faults/registry.ts";
import {
  beating,
  brakedFromTop,
  stoppedJump,
  tucked,
} from "../../../../packages/core/faults/weight/early-stop/examples.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { jump } from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { guessedBody, notesOfCheck, studyOf as studyOfDocument } from "../../../support/shots.ts";

const notes = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "early-stop");

describe("early-stop", () => {
  test("of a body whose parts are a guess it is polish: it may have wings", () => {
    const [note] = notes(guessedBody(stoppedJump(4)));
    expect(note.tier).toBe("polish");
  });

  test("works out how long to fall on, and how much lower the body would be", () => {
    const { landing, motion } = jump(tucked);
    const [note] = notes(stoppedJump(4));
    expect(note.tier).toBe("major");
    expect(note.message).toContain(`4 frames before the landing of left foot at frame ${landing}`);
    expect(note.suggestion).toContain(`keep falling 4 frames more, to frame ${landing}`);
    const height = (frame: number) => motion.hips(frame)[1];
    // The stopped hips are at the third key's height plus what they go on by; the clean ones land at 0.54 m.
    const lower = Number(/([\d.]+) cm lower/.exec(note.suggestion)?.[1]) / 100;
    const stoppedHeight = height(landing - 4) - 0.05 - 2 * 0.02;
    expect(lower).toBeGreaterThan(0.5 * (stoppedHeight - height(landing)));
    expect(lower).toBeLessThan(1.2 * (stoppedHeight - height(landing)));
  });

  test("says it instead of hang time, which sees the same frames", () => {
    const only = (...checks: string[]) =>
      notesOf(studyOfDocument(brakedFromTop(tucked, 0.7), {}, { only: checks })).map(({ check }) => check);
    expect(only("hang-time")).toEqual(["hang-time"]);
    expect(only("hang-time", "early-stop")).toEqual(["early-stop"]);
  });

  test("wings that hang still do not carry", () => {
    expect(notes(beating(0))).toHaveLength(1);
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    const scale = rate === 60 ? 2.5 : 1;
    for (const unit of [1, 0.01]) {
      const options = { ...tucked, rate, unit };
      const { landing } = jump(options);
      const [note, ...others] = notes(stoppedJump(4, options, scale));
      expect(others).toEqual([]);
      expect(note.frames[1]).toBe(landing);
      expect(Math.abs(note.frames[0] - (landing - 4 * scale))).toBeLessThanOrEqual(scale);
    }
  });

  test("a captured jump falls until it lands", () => {
    for (const rate of [24, 60]) {
      const study = studyOf(capturedJump(rate), resolveSettings(registry, {}, { only: ["early-stop"] }));
      expect(notesOf(study)).toEqual([]);
    }
  });
});
