import { beforeAll, describe, expect, test } from "vitest";
import { readShot } from "../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { eachAlone } from "../../../packages/core/notes/assemble.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import type { Config } from "../../../packages/core/settings/config.ts";
import { type Overrides, resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { demoModule } from "../../demo/load.ts";
import { documentOf, everyFrame, studyOf as studyOfDocument } from "../../support/shots.ts";

let texts: ReadonlyMap<string, string>;
beforeAll(async () => {
  texts = (await demoModule("shots/make.mjs")).makeAll();
});

const quay = "quay_0070_v1.curves.json";
const steps = "steps_0110_v1.curves.json";

function notes(name: string, config: Config = {}, overrides: Overrides = {}): readonly Note[] {
  const { shot } = readShot(texts.get(name) as string);
  if (shot === null) throw new Error(`${name} is not a shot`);
  return notesOf(studyOf(shot, resolveSettings(registry, config, overrides)));
}

const nameOf = ({ check, node, frames }: Note) => `${check} ${node} ${frames.join("-")}`;
const namesOf = (found: readonly Note[], check: string) =>
  found.filter((note) => note.check === check).map(nameOf);
const off = (check: string): Config => ({ checks: { [check]: { on: false } } });

describe("what is silenced on purpose", () => {
  /** So many points on an even way, of which each waits a frame and makes up for it: a hitch, and off its path. */
  const waiting = (points: number) => {
    const names = Array.from({ length: points }, (_, i) => `point_${i}`);
    const way = everyFrame(1, 48, (frame) => 0.05 * (frame === 25 ? 24 : frame));
    return documentOf(
      names.map((id, i) => ({ id, translation: [0, i, 0] })),
      Object.fromEntries(names.map((id) => [`${id} translation.x`, way])),
    );
  };
  const found = (points: number, config: Config = {}, overrides: Overrides = {}) =>
    notesOf(studyOfDocument(waiting(points), config, overrides));
  const isPop = ({ check }: Note) => check === "pop";

  test("a pop for which a hitch speaks stays unsaid where hitches are meant", () => {
    expect(found(1).map(nameOf)).toEqual(["hitch point_0 25-25"]);
    const raised: Config = { checks: { hitch: { values: { spacing: { value: 1, unit: "H" } } } } };
    for (const config of [off("hitch"), raised]) expect(found(1, config).filter(isPop)).toEqual([]);
  });

  test("it is said where nobody silences hitches: where only pops are looked for", () => {
    expect(found(1, {}, { only: ["pop"] }).map(nameOf)).toEqual(["pop point_0 25-25"]);
  });

  test("many parts that are off at a moment stay unsaid where the hitch that speaks for them is meant", () => {
    const [hitch] = found(4);
    expect(hitch.message).toMatch(/and so do \d+ other parts at that moment/);
    expect(found(4, {}, { only: ["pop"] }).filter(isPop)).not.toEqual([]);
    expect(found(4, off("hitch")).filter(isPop)).toEqual([]);
  });

  test.each([quay, steps, "jetty_0040_v1.curves.json"])(
    "no check that is turned off comes back under another name: %s",
    (name) => {
      // What was listed under a note is said already; with the other note gone it stands by itself.
      const known = new Set(eachAlone(notes(name)).map(nameOf));
      const said = new Set(notes(name).map(({ check }) => check));
      for (const check of said) {
        expect(
          notes(name, off(check))
            .map(nameOf)
            .filter((note) => !known.has(note)),
          check,
        ).toEqual([]);
      }
    },
  );

  test("what a check still says when its floor is raised is said as before, and no more", () => {
    const all = notes(steps);
    const raised: Config = { checks: { hitch: { values: { spacing: { value: 0.012, unit: "H" } } } } };
    const fewer = notes(steps, raised);
    const known = eachAlone(all).map(nameOf);
    expect(namesOf(fewer, "hitch").length).toBeLessThanOrEqual(namesOf(all, "hitch").length);
    expect(fewer.map(nameOf).filter((note) => !known.includes(note))).toEqual([]);
  });

  test("a waiver of the hitch does not bring the pop either", () => {
    const reason = { check: "hitch", node: "point_0", frames: [25, 25], reason: "meant" };
    const document = { ...waiting(1), waivers: [reason] } as CurveDocument;
    expect(notesOf(studyOfDocument(document)).map(nameOf)).toEqual([]);
  });
});
