import { describe, expect, test } from "vitest";
import type { Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { examples } from "../../../packages/core/faults/examples.ts";
import type { CheckName } from "../../../packages/core/faults/names.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import type { FaultyExample } from "../../../packages/core/faults/shared/examples/example.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { FixSession } from "../../../packages/core/session/proving.ts";
import type { Config } from "../../../packages/core/settings/config.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { expectFixed } from "../../support/fixed.ts";
import { expectQuietOnBarren } from "../../support/quiet.ts";
import { notesOfCheck } from "../../support/shots.ts";
import { inHectometres, renumbered } from "../../support/transformed.ts";

/** What a note says: where it stands, how large the fault is, and which key is named first. */
const told = ({ node, frames, measured, keys }: Note) => ({
  node,
  frames,
  measured: measured.value,
  key: keys[0] === undefined ? null : [keys[0].node, keys[0].channel, keys[0].frame],
});

/** Expects a value to be another one but for a share of it; nothing, where that is nothing. */
function expectNear(value: number, wanted: number, share: number, what = "measured"): void {
  expect(Math.abs(value - wanted), `${what}: ${value}, not ${wanted}`).toBeLessThanOrEqual(
    Math.max(share * Math.abs(wanted), 1e-6),
  );
}

function expectNote(note: Note, { node, frames, key, measured }: FaultyExample["note"]): void {
  expect({ node: note.node, frames: note.frames }).toEqual({ node, frames });
  expectNear(note.measured.value, measured, 0.02);
  if (key === undefined) {
    expect(note.keys).toEqual([]);
    return;
  }
  const right = [key].flat();
  expect(
    right.some((one) =>
      Object.entries(one).every(([name, value]) => note.keys[0]?.[name as keyof typeof one] === value),
    ),
    `the key named first is ${JSON.stringify(note.keys[0])}`,
  ).toBe(true);
}

describe.each(registry.map(({ name }) => name))("%s", (name) => {
  const own = examples[name as CheckName];
  const notes = (document: CurveDocument, config?: Config) => notesOfCheck(document, name, config);

  test.each(own.faulty.map((example) => [example.title, example] as const))("finds %s", (_, example) => {
    const found = notes(example.motion(), example.config);
    expect(found.map(told), JSON.stringify(found.map(told))).toHaveLength(1);
    expectNote(found[0], example.note);
    if (example.right !== undefined) expect(notes(example.right(), example.config)).toEqual([]);
  });

  test("says the same whatever the unit and the numbering of frames", () => {
    for (const { title, motion, config } of own.faulty) {
      const [{ measured, ...rest }] = notes(motion(), config).map(told);
      const [inUnits] = notes(inHectometres(motion()), config).map(told);
      expect(inUnits, title).toMatchObject(rest);
      expectNear(inUnits.measured, measured, 5e-7, title);
      const later = (frame: number) => frame + 1000;
      const [numbered] = notes(renumbered(motion(), 1000), config).map(told);
      expectNear(numbered.measured, measured, 5e-7, title);
      expect(numbered, title).toMatchObject({
        node: rest.node,
        frames: rest.frames.map(later),
        key: rest.key?.map((part) => (typeof part === "number" ? later(part) : part)) ?? null,
      });
    }
  });

  test.each(own.silent.map((example) => [example.title, example] as const))(
    "is silent on %s",
    (_, example) => {
      expect(notes(example.motion(), example.config).map(told)).toEqual([]);
      if (example.unexcused !== undefined)
        expect(notes(example.unexcused(), example.config), "without its excuse").not.toEqual([]);
    },
  );

  test("is silent where there is nothing", () => expectQuietOnBarren(name));

  test.each(own.faulty.map((example) => [example.title, example] as const))("fixes %s", (_, example) => {
    const { shot } = shotOf(example.motion());
    const session = sessionOn(shot as Shot, name, example.config);
    const note = session.notes.find(({ check }) => check === name) as Note;
    const proven = session.prove(note);
    if (example.unfixed !== undefined) {
      expect(proven, example.unfixed).toBeNull();
      return;
    }
    expect(proven, `no fix is proven: ${session.whyNot(note)}`).not.toBeNull();
    if (proven !== null) expectFixed(session.shot, session.notes, session.settings, note, proven);
  });

  test("has a picture of what its first example has", () => {
    const { picture } = own;
    const there = new Set(own.faulty[0].motion().nodes.map(({ id }) => id));
    const shown =
      picture.draws === "moves" || picture.draws === "courses"
        ? picture.nodes
        : picture.draws === "figure"
          ? [...(picture.marks ?? []), ...(picture.only ?? [])]
          : [picture.node];
    expect(shown.filter((node) => !there.has(node))).toEqual([]);
    expect(own.faulty[0].right, "a picture needs the motion as it would be right").toBeDefined();
  });
});

/** A session of fixes under all checks; under the check alone where another one says its note instead. */
function sessionOn(shot: Shot, name: string, config: Config = {}) {
  const all = resolveSettings(registry, config);
  const settings = notesOf(studyOf(shot, all)).some(({ check }) => check === name)
    ? all
    : resolveSettings(registry, config, { only: [name] });
  return Object.assign(new FixSession(shot, settings), { settings });
}
