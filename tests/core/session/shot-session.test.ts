import { readFileSync } from "node:fs";
import { isDeepStrictEqual } from "node:util";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import fc from "fast-check";
import { describe, expect, test, vi } from "vitest";
import type { Shot } from "../../../packages/core/document/model.ts";
import { readShot, shotOf } from "../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { noteChanges } from "../../../packages/core/session/note-changes.ts";
import { ShotSession } from "../../../packages/core/session/shot-session.ts";
import { settingsOf, studyOf } from "../../../packages/core/settings/study.ts";
import { bipedDocument, chainDocument, eased, everyFrame, pointDocument } from "../../support/shots.ts";
import { anyEdit, anyKeyEdit, chosenSettings, make, type RandomEdit } from "./random-edits.ts";

// A fresh check after each of thousands of edits takes its time on a busy machine.
vi.setConfig({ testTimeout: 600_000 });

const settings = chosenSettings[0];

/** After every edit the session must hold what a fresh check of its shot gives. */
function expectFresh(session: ShotSession): void {
  const fresh = notesOf(studyOf(session.shot, settingsOf(session.study)));
  // Far faster than the matcher, which is asked for its message.
  if (!isDeepStrictEqual(session.notes, fresh)) expect(session.notes).toStrictEqual(fresh);
}

function run(shot: Shot, edits: readonly RandomEdit[]): void {
  const session = new ShotSession(shot, settings);
  for (const edit of edits) {
    make(session, edit);
    expectFresh(session);
  }
}

function built(document: CurveDocument): Shot {
  const { shot } = shotOf(document);
  if (shot === null) throw new Error("the document cannot be used");
  return shot;
}

function demo(name: string): Shot {
  const file = new URL(`../../../demo/shots/${name}.curves.json`, import.meta.url);
  const { shot } = readShot(readFileSync(file, "utf8"));
  if (shot === null) throw new Error(`${name} cannot be read`);
  return shot;
}

const smallShots: readonly Shot[] = [
  built(pointDocument({ "translation.x": everyFrame(1, 30, eased(4, 20, 0, 1)) }, { range: [1, 30] })),
  built(
    chainDocument(2, {
      "joint_1 rotation.z": everyFrame(1, 36, (frame) => 30 * Math.sin(frame / 7)),
      "joint_2 rotation.z": [
        [1, 0],
        [12, 40],
        [13, -30],
        [36, 0],
      ],
    }),
  ),
  built(
    bipedDocument({
      "hips translation.y": [
        [1, 0.95],
        [12, 0.8],
        [18, 1.3],
        [24, 0.85],
        [36, 0.95],
      ],
      "upper_arm_l rotation.z": [
        [1, -60],
        [14, 30],
        [36, -60],
      ],
      "upper_arm_r rotation.z": [
        [1, 60],
        [14, -30],
        [36, 60],
      ],
      "thigh_l rotation.x": everyFrame(1, 36, (frame) => 25 * Math.sin(frame / 6)),
    }),
  ),
];

describe("a session of edits", () => {
  test("holds, after every edit of a small shot, exactly the notes of a fresh check", () => {
    const edits = fc.array(anyEdit, { minLength: 20, maxLength: 40 });
    fc.assert(fc.property(fc.constantFrom(...smallShots), edits, run), { numRuns: 60 });
  });

  test("does so while keys alone are edited", () => {
    const edits = fc.array(anyKeyEdit, { minLength: 40, maxLength: 60 });
    fc.assert(fc.property(fc.constantFrom(...smallShots.slice(0, 2)), edits, run), { numRuns: 40 });
  });

  test.each(["jetty_0040_v1", "quay_0070_v1", "steps_0110_v1"])("does so on %s", (name) => {
    const shot = demo(name);
    const edits = fc.array(anyEdit, { minLength: 10, maxLength: 25 });
    fc.assert(
      fc.property(edits, (list) => run(shot, list)),
      { numRuns: 3 },
    );
  });

  test("keeps a fault of feet on a level over the floor where the floor alone is moved", () => {
    const session = new ShotSession(demo("jetty_0040_v1"), settings);
    const slides = () => session.notes.filter(({ check }) => check === "contact-slide");
    for (const height of [0, 0.01, 0]) {
      make(session, { kind: "surface", which: 0, at: 0, by: height });
      expect(slides()).toHaveLength(1);
      expectFresh(session);
    }
  });

  test("its changes lead from the notes before an edit to those after it", () => {
    const shot = demo("steps_0110_v1");
    const edits = fc.array(anyKeyEdit, { minLength: 5, maxLength: 10 });
    fc.assert(
      fc.property(edits, (list) => {
        const session = new ShotSession(shot, settings);
        const known = new Map(session.notes.map((note) => [note.fingerprint, note]));
        const { revision } = session;
        for (const edit of list) {
          const before = session.notes;
          make(session, edit);
          const { added, changed, gone } = noteChanges(before, session.notes);
          for (const note of gone) expect(known.delete(note.fingerprint)).toBe(true);
          for (const note of added) expect(known.has(note.fingerprint)).toBe(false);
          for (const note of changed) expect(known.has(note.fingerprint)).toBe(true);
          for (const note of [...added, ...changed]) known.set(note.fingerprint, note);
          expect(inOrder([...known.values()])).toEqual(inOrder(session.notes));
        }
        expect(session.revision).toBeGreaterThanOrEqual(revision);
      }),
      { numRuns: 3 },
    );
  });

  test("says what an edit changed: a popped key brings a note, and fixing it takes the note away", () => {
    const session = new ShotSession(smallShots[0], settings);
    const place = { node: "point", channel: "translation.x", frame: 12 } as const;
    const value = session.shot.curves[0].values[11];
    const before = session.notes;
    const popped = session.edit([{ kind: "set", ...place, value: value + 0.4 }]);
    expect(popped.problems).toEqual([]);
    expect(popped.added.map(({ check, keys }) => [check, keys[0].frame])).toContainEqual(["pop", 12]);
    const fixed = session.edit([{ kind: "set", ...place, value }]);
    expect(fixed.gone.map(({ check }) => check)).toContain("pop");
    expect(session.notes).toEqual(before);
    expect(session.edit([{ kind: "set", ...place, value }])).toMatchObject({
      added: [],
      changed: [],
      gone: [],
    });
  });

  test("makes none of the edits if one of them cannot be made, and says which", () => {
    const session = new ShotSession(smallShots[0], settings);
    const { shot, notes, revision } = session;
    const place = { node: "point", channel: "translation.x" } as const;
    const { problems, ...changes } = session.edit([
      { kind: "set", ...place, frame: 12, value: 50 },
      { kind: "remove", ...place, frame: 99 },
    ]);
    expect(problems.map(({ code, path }) => [code, path])).toEqual([["no-such-key", "edits/1"]]);
    expect(changes).toEqual({ added: [], changed: [], gone: [] });
    expect(session.shot).toBe(shot);
    expect(session.notes).toBe(notes);
    expect(session.revision).toBe(revision);
  });

  test("can judge in steps, and give up between them for a newer edit", () => {
    const session = new ShotSession(demo("steps_0110_v1"), settings, true);
    expect(session.notes).toEqual([]);
    for (let value = 0; value < 5; value++) {
      const curve = session.shot.curves[value];
      session.take([
        {
          kind: "set",
          node: curve.node,
          channel: curve.channel,
          frame: curve.frames[0],
          value: 30 * value,
        },
      ]);
      const steps = session.judgeInSteps();
      for (let step = 0; step < value; step++) steps.next();
      steps.return({ added: [], changed: [], gone: [] });
    }
    const steps = session.judgeInSteps();
    while (steps.next().done !== true);
    expectFresh(session);
  });
});

describe("a long session", () => {
  test("keeps nothing of curves and nodes that are gone", () => {
    const shot = smallShots[1];
    const session = new ShotSession(shot, settings);
    const settle = () => {
      for (let edit = 0; edit < 300; edit++) {
        make(session, { kind: "set", which: edit, at: edit, by: Math.sin(edit) });
      }
    };
    settle();
    const before = session.study.memo.size;
    for (let edit = 0; edit < 400; edit++) {
      const { header } = session.shot;
      const extra = {
        id: `extra_${edit}`,
        parent: "joint_2",
        translation: [0, 0.1, 0] as [number, number, number],
      };
      session.replace({ ...session.shot, header: { ...header, nodes: [...header.nodes, extra] } });
      session.edit([
        { kind: "set", node: extra.id, channel: "rotation.x", frame: 1, value: 0 },
        { kind: "set", node: extra.id, channel: "rotation.x", frame: 20, value: 50 },
      ]);
      const curves = session.shot.curves.filter((curve) => curve.node !== extra.id);
      session.replace({ ...session.shot, header, curves });
    }
    settle();
    expect(session.study.memo.size).toBeLessThanOrEqual(before);
    expectFresh(session);
  });

  test("of 10,000 edits does not grow", () => {
    const session = new ShotSession(smallShots[0], settings);
    const work = (edits: number) => {
      for (let edit = 0; edit < edits; edit++) {
        make(session, {
          kind: edit % 50 === 0 ? "wholeCurve" : "set",
          which: 0,
          at: edit,
          by: Math.sin(edit),
        });
        if (edit % 100 === 99) session.replace(smallShots[0]);
      }
    };
    work(1000);
    const before = heapInUse();
    work(10_000);
    expect(heapInUse()).toBeLessThan(1.1 * before);
    expectFresh(session);
  });
});

/** Bytes that are still in use after everything else has been collected. */
function heapInUse(): number {
  setFlagsFromString("--expose-gc");
  const collect = runInNewContext("gc") as () => void;
  collect();
  collect();
  return process.memoryUsage().heapUsed;
}

function inOrder(notes: readonly Note[]): readonly Note[] {
  return [...notes].sort((a, b) => (a.fingerprint < b.fingerprint ? -1 : 1));
}
