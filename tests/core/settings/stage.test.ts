import { describe, expect, test } from "vitest";
import type { CurveDocument, WorkStage } from "../../../packages/core/document/schema.ts";
import { noDragExamples } from "../../../packages/core/faults/parts/no-drag/examples.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { whySilent } from "../../../packages/core/notes/why-silent.ts";
import type { Config } from "../../../packages/core/settings/config.ts";
import type { Overrides } from "../../../packages/core/settings/resolve.ts";
import { shotStageOf, stageSentences } from "../../../packages/core/settings/stage.ts";
import { everyFrame, type Keyed, pointDocument, studyOf } from "../../support/shots.ts";

/** A point that speeds up into a stop, at frame 12 and again at frame 41. */
const hardStops: Keyed = everyFrame(1, 60, (frame) => {
  const way = (from: number, to: number) =>
    (Math.min(Math.max(frame - from, 0), to - from) / (to - from)) ** 2;
  return way(1, 12) + way(30, 41);
});
/** Poses that step keys hold. */
const held = (length: number): Keyed => ({
  interpolation: "step",
  keys: Array.from({ length: Math.floor(60 / length) }, (_, i): [number, number] => [1 + i * length, i % 2]),
});
const shot = (keyed: Keyed, header: Partial<CurveDocument["shot"]> = {}, more = {}) => {
  const document = pointDocument({ "translation.x": keyed }, { range: [1, 60] });
  return { ...document, ...more, shot: { ...document.shot, ...header } } as CurveDocument;
};
const stops = (document: CurveDocument, config: Config = {}, overrides: Overrides = {}) =>
  notesOf(studyOf(document, config, overrides))
    .filter(({ check }) => check === "hard-stop")
    .map(({ frames }) => frames[1])
    .sort((a, b) => a - b);

describe("the stage of work", () => {
  test("what is still to come is not judged, whoever says how far the work is", () => {
    expect(stops(shot(hardStops))).toEqual([12, 41]);
    expect(stops(shot(hardStops, { stage: "blocking" }))).toEqual([]);
    expect(stops(shot(hardStops, { stage: "splining" }))).toEqual([12, 41]);
    expect(stops(shot(hardStops), { stage: "blocking" })).toEqual([]);
    expect(stops(shot(hardStops), {}, { stage: "blocking" })).toEqual([]);
  });

  test("a stiff chain is told from splining on, one whose links only move at once when parts are offset", () => {
    const drags = (title: string, stage: WorkStage) => {
      const document = noDragExamples.faulty.find((example) => example.title === title)?.motion();
      if (document === undefined) throw new Error(`No example is called "${title}".`);
      return notesOf(studyOf(document, {}, { stage })).filter(({ check }) => check === "no-drag").length;
    };
    const [stiff, together] = [
      "a tail without keys behind hips that sway",
      "a tail whose second link goes with the first one, not after it",
    ];
    expect([drags(stiff, "blocking"), drags(stiff, "splining"), drags(stiff, "polish")]).toEqual([0, 1, 1]);
    expect([drags(together, "splining"), drags(together, "polish")]).toEqual([0, 1]);
  });

  test("a run goes before a configuration, and that before the document", () => {
    const blocked = shot(hardStops, { stage: "blocking" });
    expect(stops(blocked, { stage: "polish" })).toEqual([12, 41]);
    expect(stops(blocked, { stage: "polish" }, { stage: "blocking" })).toEqual([]);
  });

  test("stretches of the shot have stages of their own", () => {
    const stages = [{ stage: "blocking" as WorkStage, frames: [25, 60] }];
    expect(stops(shot(hardStops, {}, { stages }))).toEqual([12]);
    expect(
      stops(shot(hardStops, { stage: "blocking" }, { stages: [{ stage: "polish", frames: [25, 60] }] })),
    ).toEqual([41]);
  });

  test("where stretches meet, the first one counts", () => {
    const stages = [
      { stage: "polish", frames: [1, 20] },
      { stage: "blocking", frames: [1, 60] },
    ];
    expect(stops(shot(hardStops, {}, { stages }))).toEqual([12]);
  });

  test("a check that is asked for by its name is looked for at every stage", () => {
    const blocked = shot(hardStops, { stage: "blocking" });
    expect(stops(blocked, {}, { only: ["hard-stop"] })).toEqual([12, 41]);
    expect(stops(blocked, { checks: { "hard-stop": { on: true } } })).toEqual([12, 41]);
    const chosen = { values: { share: { value: 0.4, unit: "share" as const } } };
    expect(stops(blocked, {}, { checks: { "hard-stop": chosen } })).toEqual([12, 41]);
  });

  test("held poses are taken for blocking, drawings on threes and splines are not", () => {
    const stage = (keyed: Keyed) => {
      const { from, stage: found } = shotStageOf(studyOf(shot(keyed)));
      return `${found}, ${from}`;
    };
    expect(stage(held(12))).toBe("blocking, recognised");
    expect(stage(held(4))).toBe("blocking, recognised");
    expect(stage(held(3))).toBe("polish, open");
    expect(stage(held(2))).toBe("polish, open");
    expect(stage(hardStops)).toBe("polish, open");
    expect(stage({ interpolation: "step", keys: [[1, 0]] })).toBe("polish, open");
  });

  test("it says so where it takes a shot for blocking, and nowhere else", () => {
    // What ripens is not run, and waits for nothing.
    const waiting = registry.filter(
      ({ notBefore, ripening }) => ripening === undefined && notBefore !== undefined,
    ).length;
    expect(stageSentences(studyOf(shot(held(12))))).toEqual([
      `stage of work: blocking, as step keys hold 100 % of the keyed time; ${waiting} checks wait for splining or polish ("stage" in the document, or --stage polish)`,
    ]);
    expect(stageSentences(studyOf(shot(held(12), { stage: "blocking" })))).toEqual([]);
    expect(stageSentences(studyOf(shot(hardStops)))).toEqual([]);
  });

  test("whoever asks why a check is silent is told that it waits", () => {
    const ask = (document: CurveDocument, overrides: Overrides = {}) =>
      whySilent(studyOf(document, {}, overrides), { check: "hard-stop", node: "point", frame: 12 });
    expect(ask(shot(hardStops, { stage: "blocking" }))).toEqual([
      "hard-stop waits for splining: the work is at an earlier stage at this frame, as the document declares. Name the check, or judge by another stage, to hear it now.",
    ]);
    expect(ask(shot(hardStops, { stage: "blocking" }), { only: ["hard-stop"] })[0]).toMatch(/^It is said/);
  });
});

test("poses, contacts, balance and slips in the keys are judged from blocking on", () => {
  const early = registry.filter(({ notBefore }) => notBefore === undefined).map(({ name }) => name);
  expect(early).toEqual(
    expect.arrayContaining([
      "pop",
      "contact-slide",
      "off-ground",
      "through-ground",
      "off-balance",
      "twinning",
    ]),
  );
  for (const { name, family, notBefore } of registry) {
    if (family === "data" && name !== "overshoot") expect(notBefore, name).toBeUndefined();
  }
});
