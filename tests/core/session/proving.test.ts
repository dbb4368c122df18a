import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { Shot } from "../../../packages/core/document/model.ts";
import { readShot, shotOf } from "../../../packages/core/document/read.ts";
import { examples } from "../../../packages/core/faults/examples.ts";
import type { CheckName } from "../../../packages/core/faults/names.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { fixNamed, registry } from "../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { setWaiversBeside } from "../../../packages/core/notes/waivers.ts";
import { fixedText } from "../../../packages/core/session/fixed-text.ts";
import { FixSession, fixAll, fixAllInSteps, provenFix } from "../../../packages/core/session/proving.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { eased, everyFrame, pointDocument } from "../../support/shots.ts";

const settings = resolveSettings(registry);

/** Two spikes on a course that is smooth besides. */
function spikes(): Shot {
  const document = pointDocument({
    "translation.x": everyFrame(1, 48, eased(4, 40, 0, 1)),
    "translation.y": everyFrame(1, 48, (frame) => (frame === 14 ? 0.05 : frame === 30 ? -0.09 : 0)),
  });
  const { shot } = shotOf(document);
  if (shot === null) throw new Error("The document is no shot.");
  return shot;
}

const pops = (notes: readonly Note[]) => notes.filter(({ check }) => check === "pop");

describe("a fix", () => {
  const shot = spikes();
  const notes = notesOf(studyOf(shot, settings));

  test("of one note clears it and leaves the other", () => {
    const [first, second] = pops(notes);
    const proven = provenFix(shot, settings, first);
    expect(proven?.gone.map(({ fingerprint }) => fingerprint)).toContain(first.fingerprint);
    expect(proven?.changes).toHaveLength(1);
    const session = new FixSession(shot, settings);
    if (proven !== null) session.make(proven);
    expect(pops(session.notes).map(({ fingerprint }) => fingerprint)).toEqual([second.fingerprint]);
  });

  test("of a note that the shot does not have is none", () => {
    const [{ ...strange }] = pops(notes);
    expect(provenFix(shot, settings, { ...strange, check: "no-such-check" })).toBeNull();
  });

  test("is tried a step at a time; between two steps the shot is as it was", () => {
    const session = new FixSession(shot, settings);
    const [note] = pops(session.notes);
    const steps = session.proveInSteps(note);
    for (let step = steps.next(); step.done !== true; step = steps.next()) expect(session.shot).toBe(shot);
    expect(session.shot).toBe(shot);
  });
});

describe("a fix leaves nothing of its fault that its check finds with the margin of its fix", () => {
  const withMargin = registry.flatMap(({ name, settings: specs }) => {
    const factors = Object.entries(fixNamed(name)?.margin ?? {});
    const stricter = factors.map(([setting, factor]) => [setting, factor * specs[setting].default] as const);
    return stricter.length === 0 ? [] : [[name, Object.fromEntries(stricter)] as const];
  });

  test.each(withMargin)("%s", (name, stricter) => {
    const strict = resolveSettings(registry, {}, { only: [name], checks: { [name]: stricter } });
    for (const { title, motion, config, unfixed } of examples[name as CheckName].faulty) {
      const { shot } = shotOf(motion());
      if (shot === null || config !== undefined || unfixed !== undefined) continue;
      const session = new FixSession(shot, settings);
      const note = session.notes.find(({ check }) => check === name);
      const proven = note === undefined ? null : session.prove(note);
      if (note === undefined || proven?.kind !== "fix") continue;
      session.make(proven);
      const left = notesOf(studyOf(session.shot, strict)).filter(
        ({ frames }) => frames[0] <= note.frames[1] && frames[1] >= note.frames[0],
      );
      expect(left, title).toEqual([]);
    }
  });
});

describe("all fixes", () => {
  test("start with the heaviest note, and end when nothing is left to prove", () => {
    const shot = spikes();
    const { fixes, notes, shot: after } = fixAll(shot, settings);
    expect(pops(notes)).toEqual([]);
    expect(pops(fixes.map(({ note }) => note))).toHaveLength(2);
    const [heaviest] = notesOf(studyOf(shot, settings));
    expect(fixes[0].note.fingerprint).toBe(heaviest.fingerprint);
    expect(notesOf(studyOf(after, settings))).toEqual(notes);
  });

  test("only of the notes that are chosen", () => {
    const { fixes, notes } = fixAll(spikes(), settings, ({ frames }) => frames[0] > 20);
    expect(fixes).toHaveLength(1);
    expect(pops(notes)).toHaveLength(1);
    expect(notes[0].frames[0]).toBeLessThan(20);
  });

  test("leave what is waived", () => {
    const waiver = { check: "pop", frames: [13, 15] as [number, number], reason: "a spark" };
    const { fixes, shot } = fixAll(spikes(), settings, undefined, [waiver]);
    expect(fixes).toHaveLength(1);
    const study = studyOf(shot, settings);
    expect(pops(notesOf(study))).toHaveLength(1);
    setWaiversBeside(study, [waiver]);
    expect(notesOf(study)).toEqual([]);
  });

  test("make no sketch unless it is asked for, and say why nothing was made", () => {
    const url = new URL("../../../demo/shots/quay_0070_v1.curves.json", import.meta.url);
    const { shot } = readShot(readFileSync(url, "utf8"));
    if (shot === null) throw new Error("The demo cannot be read.");
    const chosen = ({ check }: Note) => check === "lone-joint";
    const plain = fixAll(shot, settings, chosen);
    expect(plain.fixes.filter(({ kind }) => kind === "sketch")).toEqual([]);
    expect(plain.refused.length).toBeGreaterThan(0);
    for (const { why, sketch } of plain.refused) {
      expect(why).toMatch(/^[A-Z].*\.$/);
      expect(sketch?.kind).toBe("sketch");
    }
    const asked = fixAll(shot, settings, chosen, [], () => true);
    expect(asked.fixes.some(({ kind }) => kind === "sketch")).toBe(true);
  });

  test("can be given up in between", () => {
    const shot = spikes();
    const session = new FixSession(shot, settings);
    fixAllInSteps(session).next();
    expect(session.shot).toBe(shot);
  });
});

describe("the demo's first versions", () => {
  test.each(["jetty_0040_v1", "steps_0110_v1", "quay_0070_v1"])(
    "%s: most of the major and minor notes are cleared, and its text says so too",
    (name) => {
      const url = new URL(`../../../demo/shots/${name}.curves.json`, import.meta.url);
      const text = readFileSync(url, "utf8");
      const { shot } = readShot(text);
      if (shot === null) throw new Error(`${name} cannot be read.`);
      const counted = ({ tier }: Note) => tier === "major" || tier === "minor";
      const before = notesOf(studyOf(shot, settings)).filter(counted);
      const { fixes, notes, refused } = fixAll(shot, settings, undefined, [], () => true);
      for (const { why } of refused) expect(why).toMatch(/^[A-Z0-9].*\.$/);
      const after = notes.filter(counted);
      expect(before.length).toBeGreaterThanOrEqual(6);
      // What is left of steps_0110 is a stand-still of the body with the crate in its hands: no change of either alone mends it.
      expect(after.length).toBeLessThanOrEqual(0.4 * before.length);
      const { shot: read } = readShot(fixedText(text, shot, fixes));
      if (read === null) throw new Error("The fixed text cannot be read.");
      expect(notesOf(studyOf(read, settings))).toEqual(notes);
    },
  );
});
