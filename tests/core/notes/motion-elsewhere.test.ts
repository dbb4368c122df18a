import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { timesBetween } from "../../../packages/core/notes/compare-times.ts";
import { motionElsewhere } from "../../../packages/core/notes/motion-elsewhere.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { bipedDocument, everyFrame } from "../../support/shots.ts";

const settings = resolveSettings(registry);

/** Hips that sway, and stand off by some metres at some frames; the shot may start later. */
function swaying(off: (frame: number) => number, start = 1): Shot {
  const { shot } = shotOf(
    bipedDocument(
      {
        "hips translation.x": everyFrame(start, start + 59, (frame) => {
          const own = frame - start + 1;
          return Math.sin(own / 7) / 9 + off(own);
        }),
        "spine rotation.x": everyFrame(start, start + 59, (frame) => (frame - start) ** 2 / 80),
      },
      { range: [start, start + 59] },
    ),
  );
  if (shot === null) throw new Error("The document is no shot.");
  return shot;
}

function elsewhere(before: Shot, after: Shot, spans: [number, number][]) {
  const times = timesBetween(before, after).shot;
  return motionElsewhere(studyOf(before, settings), studyOf(after, settings), times, spans);
}

const still = swaying(() => 0);

describe("motion elsewhere", () => {
  test("is none within a note's frames and a quarter of a second beside them", () => {
    const after = swaying((frame) => (frame >= 14 && frame <= 30 ? 0.1 : 0));
    expect(elsewhere(still, after, [[20, 24]])).toBeNull();
    expect(elsewhere(still, after, [[21, 24]])).toMatchObject({ frame: 14 });
    expect(elsewhere(still, still, [])).toBeNull();
  });

  test("counts from half a percent of the stature on, and says how far the part goes", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 10, max: 60 }),
        fc.double({ min: 0.001, max: 0.05, noNaN: true }),
        (at, by) => {
          fc.pre(Math.abs(by - 0.005 * 1.7) > 1e-6);
          const found = elsewhere(
            still,
            swaying((frame) => (frame === at ? by : 0)),
            [[1, 3]],
          );
          if (by < 0.005 * 1.7) expect(found).toBeNull();
          else {
            expect(found?.frame).toBe(at);
            expect(found?.metres).toBeCloseTo(by, 6);
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  test("is looked for at the same moments, where the newer version starts at another frame", () => {
    const later = swaying((frame) => (frame === 40 ? 0.03 : 0), 101);
    expect(elsewhere(still, later, [])).toMatchObject({ frame: 140 });
    expect(elsewhere(still, later, [[38, 42]])).toBeNull();
  });
});
