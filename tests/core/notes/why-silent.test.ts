import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { whySilent } from "../../../packages/core/notes/why-silent.ts";
import {
  bipedDocument,
  eased,
  everyFrame,
  pathDocument,
  pointDocument,
  studyOf,
} from "../../support/shots.ts";
import { demoShot } from "./versions.ts";

/** A point on a straight way that is off it by some metres at frame 24. */
const offBy = (metres: number) =>
  pathDocument(1, 48, (frame) => [0.004 * frame, frame === 24 ? metres : 0, 0]);
const ask = (document: CurveDocument, check: string, node = "point", frame = 24, config = {}) =>
  whySilent(studyOf(document, config), { check, node, frame });

describe("why a check is silent", () => {
  test("a note that is there is told, with its tier and frames", () => {
    expect(ask(offBy(0.03), "pop")).toEqual([
      expect.stringMatching(/^It is said: a \w+ note at point, frames 24 to 24\.$/),
    ]);
  });

  test("what another note speaks for is told, though that note is of a check to which it does not yield", () => {
    const [note] = notesOf(studyOf(demoShot("gate_0050_v1"))).filter(({ also = [] }) =>
      also.some(({ check }) => check === "merged-silhouette"),
    );
    expect([note.check, note.node]).toEqual(["limb-at-lens", "hand_l"]);
    expect(ask(demoShot("gate_0050_v1"), "merged-silhouette", "hand_l", 110)).toEqual([
      "It is found over frames 102 to 116 and told as a part of the limb-at-lens note at hand_l, frames 97 to 118.",
    ]);
  });

  test("a check that is off says so", () => {
    const lines = ask(offBy(0.03), "pop", "point", 24, { checks: { pop: { on: false } } });
    expect(lines).toEqual(["pop is off: a style, the configuration or an option silences it."]);
  });

  test("a waiver is told", () => {
    const document = {
      ...offBy(0.03),
      waivers: [{ check: "pop", node: "point", frames: [20, 30] as [number, number], reason: "a twitch" }],
    };
    expect(ask(document, "pop")[0]).toMatch(/^A waiver covers it: at point, frames 24 to 24\.$/);
  });

  test("a setting that keeps it silent is named with the value at which it would speak, and that value is true", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 0.0045, noNaN: true }), (metres) => {
        const [line] = ask(offBy(metres), "pop");
        const value = /floor at ([\d.e-]+) \(it is 0\.003 H\)/.exec(line)?.[1];
        expect(line).toMatch(/^It would speak with /);
        if (value === undefined) return;
        const floor = (factor: number) => ({
          checks: { pop: { values: { floor: { value: factor * Number(value), unit: "H" as const } } } },
        });
        const isSaid = (config: object) =>
          notesOf(studyOf(offBy(metres), config)).some(({ check }) => check === "pop");
        // The value is told in three digits, and found to about a hundredth of the way.
        expect(isSaid(floor(0.99))).toBe(true);
        expect(isSaid(floor(1.1))).toBe(false);
      }),
      { numRuns: 25 },
    );
  });

  test("what yields to a better note names it", () => {
    const document = pointDocument({
      "translation.x": [
        [1, 0],
        [12, 0],
        [36, 0.7],
        [48, 0.7],
      ],
    });
    const stop = notesOf(studyOf(document)).find(({ check }) => check === "even-spacing");
    expect(stop).toBeDefined();
    expect(ask(document, "hard-stop", "point", 36)).toEqual([
      expect.stringMatching(/^It is found over frames .* and yields to the even-spacing note at point/),
    ]);
  });

  test("a rule that excuses what was seen is told, with its frames", () => {
    const document = pointDocument({
      "translation.x": {
        interpolation: "step",
        keys: [
          [1, 0],
          [12, 0.2],
          [24, 0.4],
          [25, 0.2],
          [36, 0.1],
          [48, 0],
        ],
      },
      "translation.y": [
        [1, 0],
        [48, 0.3],
      ],
    });
    expect(ask(document, "pop")).toContain(
      "point is excused over frames 24 to 24: a step key switches the pose there.",
    );
  });

  test("what is not in the motion is not explained by a setting", () => {
    const document = bipedDocument({ "head rotation.y": everyFrame(1, 48, eased(4, 44, 0, 2)) });
    expect(ask(document, "key-off-frame", "head", 24)[0]).toMatch(/^key-off-frame measures nothing here/);
  });

  test("names that are not there get the nearest one, and frames outside the shot are told", () => {
    expect(ask(offBy(0), "pp")[0]).toMatch(/^There is no check "pp"\. Did you mean "pop"\?$/);
    expect(ask(offBy(0), "pop", "pont")[0]).toMatch(/Did you mean "point"\?$/);
    expect(ask(offBy(0), "pop", "point", 480)).toEqual([
      "Frame 480 is not judged: the shot runs from 1 to 48.",
    ]);
  });

  test("asking changes nothing", () => {
    const study = studyOf(offBy(0.002));
    const before = notesOf(study);
    whySilent(study, { check: "pop", node: "point", frame: 24 });
    expect(notesOf(study)).toBe(before);
  });
});
