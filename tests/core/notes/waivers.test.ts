import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { readConfig } from "../../../packages/core/expressions/config.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { foundNotesOf, notesOf, reviewOf } from "../../../packages/core/notes/found.ts";
import {
  answers,
  setWaiversBeside,
  unusedWaiver,
  type Waiver,
} from "../../../packages/core/notes/waivers.ts";
import { eased, everyFrame, pointDocument, studyOf } from "../../support/shots.ts";

/** A point that moves from rest to rest and is off its path to the side at frame 12. */
function popDocument(waivers: readonly Waiver[], revision?: number): CurveDocument {
  const course = eased(4, 28, 0, 1);
  const document = pointDocument({
    "translation.x": everyFrame(1, 36, course),
    "translation.y": everyFrame(1, 36, (frame) => (frame === 12 ? 0.08 : 0)),
  });
  return {
    ...document,
    shot: { ...document.shot, ...(revision === undefined ? {} : { revision }) },
    ...(waivers.length === 0 ? {} : { waivers: waivers.map((waiver) => ({ ...waiver })) }),
  };
}

const meant = { reason: "a spark jumps over" };
const checks = (notes: readonly Note[]) => notes.map(({ check }) => check);

describe("waivers", () => {
  test("without any, all notes are open", () => {
    const study = studyOf(popDocument([]));
    expect(checks(notesOf(study))).toContain("pop");
    expect(reviewOf(study).waived).toEqual([]);
    expect(notesOf(study)).toBe(foundNotesOf(study));
  });

  test.each<[string, Omit<Waiver, "reason">]>([
    ["its check", { check: "pop" }],
    ["its check and node", { check: "pop", node: "point" }],
    ["its check and frames", { check: "pop", frames: [11, 13] }],
    ["frames the wrong way round", { check: "pop", frames: [13, 11] }],
  ])("a waiver that names %s answers the note", (_, waiver) => {
    const study = studyOf(popDocument([{ ...waiver, ...meant, by: "J. Doe" }]));
    expect(checks(notesOf(study))).not.toContain("pop");
    const [{ note, by }] = reviewOf(study).waived;
    expect(note.check).toBe("pop");
    expect(by).toMatchObject({ inDocument: true, index: 0, waiver: { reason: meant.reason, by: "J. Doe" } });
    expect(checks(foundNotesOf(study))).toContain("pop");
  });

  test.each([
    ["popp", 'write "pop", if that is meant, or take it out; keyside explain lists the checks'],
    ["hardstop", 'write "hard-stop", if that is meant, or take it out; keyside explain lists the checks'],
    ["gravel", "write the name of a check, or take it out; keyside explain lists the checks"],
  ])("a waiver of %s, which is no check, says so and names the nearest", (check, suggestion) => {
    const study = studyOf(popDocument([{ check, ...meant }]));
    setWaiversBeside(study, [{ check, node: "point", ...meant }]);
    expect(checks(notesOf(study))).toContain("pop");
    const unused = notesOf(study).filter((note) => note.check === unusedWaiver);
    expect(unused.map(({ message }) => message)).toEqual([
      `the waiver of ${check} (${meant.reason}) answers nothing: there is no check of this name`,
      `the waiver of ${check} at point in the file beside the shot (${meant.reason}) answers nothing: there is no check of this name`,
    ]);
    expect(unused.map((note) => note.suggestion)).toEqual([suggestion, suggestion]);
    expect(unused[0]).toMatchObject({ tier: "polish", path: "waivers/0" });
  });

  test("a waiver of a check that a run leaves out is no slip, nor one of a check of the studio's own", async () => {
    const own = {
      name: "far-out",
      tier: "minor" as const,
      node: "point",
      expression: "speed(point) > 90 m/s",
      message: "point is far out",
      why: "It leaves the picture.",
    };
    const config = await readConfig(registry, { ownChecks: [own] });
    const waivers = [
      { check: "hitch", ...meant },
      { check: "far-out", ...meant },
    ];
    const study = (chosen: typeof config) => studyOf(popDocument(waivers), chosen, { only: ["pop"] });
    const slips = (chosen: typeof config) =>
      notesOf(study(chosen))
        .filter(({ check }) => check === unusedWaiver)
        .map(({ path }) => path);
    expect(slips(config)).toEqual([]);
    expect(slips({})).toEqual(["waivers/1"]);
  });

  test.each<[string, Omit<Waiver, "reason">]>([
    ["another check", { check: "hitch" }],
    ["another node", { check: "pop", node: "elsewhere" }],
    ["other frames", { check: "pop", frames: [20, 22] }],
  ])("a waiver that names %s answers nothing, and is noted at its place", (_, waiver) => {
    const study = studyOf(popDocument([{ ...waiver, ...meant }]));
    expect(checks(notesOf(study))).toContain("pop");
    const [unused] = notesOf(study).filter(({ check }) => check === unusedWaiver);
    expect(unused).toMatchObject({ tier: "polish", path: "waivers/0", keys: [] });
    expect(unused.message).toContain(meant.reason);
  });

  test("a waiver holds up to its last revision", () => {
    const waivers = [{ check: "pop", ...meant, lastRevision: 3 }];
    for (const revision of [undefined, 2, 3]) {
      expect(checks(notesOf(studyOf(popDocument(waivers, revision))))).not.toContain("pop");
    }
    const past = notesOf(studyOf(popDocument(waivers, 4)));
    expect(checks(past)).toEqual(expect.arrayContaining(["pop", unusedWaiver]));
    expect(past.find(({ check }) => check === unusedWaiver)?.message).toContain("ended with revision 3");
  });

  test("a fault that has grown well past the waived frames is another one", () => {
    const note = { check: "contact-slide", node: "foot", seenAt: ["foot"], frames: [10, 19] } as const;
    expect(answers({ check: "contact-slide", frames: [10, 14], ...meant }, note)).toBe(true);
    expect(answers({ check: "contact-slide", frames: [10, 13], ...meant }, note)).toBe(false);
  });

  test("of a check that is off no waiver is unused", () => {
    const document = popDocument([{ check: "hitch", ...meant }]);
    const study = studyOf(document, { checks: { hitch: { on: false } } });
    expect(checks(notesOf(study))).not.toContain(unusedWaiver);
  });

  test("waivers from a file beside the shot count too, and say that they stand there", () => {
    const study = studyOf(popDocument([]));
    setWaiversBeside(study, [{ check: "pop", ...meant }]);
    expect(checks(notesOf(study))).not.toContain("pop");
    expect(reviewOf(study).waived[0].by.inDocument).toBe(false);
    setWaiversBeside(study, [{ check: "hitch", ...meant }]);
    const unused = notesOf(study).find(({ check }) => check === unusedWaiver);
    expect(unused?.message).toContain("in the file beside the shot");
    expect(unused?.path).toBeUndefined();
  });
});
