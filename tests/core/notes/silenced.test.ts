import { beforeAll, describe, expect, test } from "vitest";
import { readShot } from "../../../packages/core/document/read.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import type { Config } from "../../../packages/core/settings/config.ts";
import { type Overrides, resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { demoModule } from "../../demo/load.ts";

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
  /** The hips stop hard at frame 41; what the head does there is spoken for. */
  const pop = "pop head 40-41";

  test("a pop for which a hard stop speaks stays unsaid where hard stops are meant", () => {
    expect(namesOf(notes(quay), "hard-stop")).toEqual(["hard-stop hips 41-41"]);
    expect(namesOf(notes(quay), "pop")).not.toContain(pop);
    const raised: Config = { checks: { "hard-stop": { values: { speed: { value: 50, unit: "H/s" } } } } };
    for (const config of [off("hard-stop"), raised, { style: "snappy" } as const]) {
      const silenced = notes(quay, config);
      expect(namesOf(silenced, "hard-stop")).toEqual([]);
      expect(namesOf(silenced, "pop")).not.toContain(pop);
    }
  });

  test("it is said where nobody silences hard stops: where only pops are looked for", () => {
    expect(namesOf(notes(quay, {}, { only: ["pop"] }), "pop")).toContain(pop);
    expect(namesOf(notes(quay, { style: "snappy" }, { only: ["pop"] }), "pop")).not.toContain(pop);
  });

  test("many parts that are off at a moment stay unsaid where the hitch that speaks for them is meant", () => {
    const [hitch] = notes(steps).filter(({ check }) => check === "hitch");
    expect(hitch.message).toMatch(/and so do \d+ other parts at that moment/);
    expect(namesOf(notes(steps, {}, { only: ["pop"] }), "pop")).not.toEqual(namesOf(notes(steps), "pop"));
    expect(namesOf(notes(steps, off("hitch")), "pop")).toEqual(namesOf(notes(steps), "pop"));
  });

  test.each([quay, steps, "jetty_0040_v1.curves.json"])(
    "no check that is turned off comes back under another name: %s",
    (name) => {
      const known = new Set(notes(name).map(nameOf));
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
    const known = all.map(nameOf);
    expect(namesOf(fewer, "hitch").length).toBeLessThanOrEqual(namesOf(all, "hitch").length);
    expect(fewer.map(nameOf).filter((note) => !known.includes(note))).toEqual([]);
  });

  test("a waiver of the stop does not bring the pop either", () => {
    const text = (texts.get(quay) as string).replace(
      '"curves": [',
      '"waivers": [{ "check": "hard-stop", "node": "hips", "frames": [41, 41], "reason": "meant" }], "curves": [',
    );
    const { shot } = readShot(text);
    if (shot === null) throw new Error("not a shot");
    const found = notesOf(studyOf(shot, resolveSettings(registry)));
    expect(namesOf(found, "hard-stop")).toEqual([]);
    expect(namesOf(found, "pop")).not.toContain(pop);
  });
});
