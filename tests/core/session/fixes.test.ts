import { describe, expect, test } from "vitest";
import { editShot } from "../../../packages/core/document/edit.ts";
import type { Shot } from "../../../packages/core/document/model.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { fixNamed, registry } from "../../../packages/core/faults/registry.ts";
import { eachAlone } from "../../../packages/core/notes/assemble.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { figuresOf } from "../../../packages/core/rig/body.ts";
import { worldOf } from "../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { matchNotes } from "../../../packages/core/session/matching.ts";
import { FixSession, type ProvenFix } from "../../../packages/core/session/proving.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { tiers } from "../../../packages/core/settings/tier.ts";
import { gridOf } from "../../../packages/core/time/grid.ts";
import { type Fault, faultChecks, faultOf, settings } from "./faults.ts";

const names = registry.map(({ name }) => name).filter((name) => faultChecks.includes(name));
/** What came of each fault: null where nothing was proven. */
const outcomes: { readonly fault: Fault; readonly proven: ProvenFix | null }[] = [];

describe.each(names)("a fault of %s", (check) => {
  const faults = (["keyed", "dense"] as const).flatMap((kind) => faultOf(check, kind) ?? []);

  test("is fixed, and nothing as heavy comes instead", () => {
    expect(faults.length).toBeGreaterThan(0);
    let fixed = 0;
    for (const fault of faults) {
      const session = new FixSession(fault.shot, settings);
      const note = session.notes.find(({ fingerprint }) => fingerprint === fault.note.fingerprint) as Note;
      const proven = session.prove(note);
      outcomes.push({ fault, proven });
      // Trying leaves no trace.
      expect(session.shot).toBe(fault.shot);
      expect(session.notes).toEqual(fault.notes);
      if (proven === null) continue;
      fixed++;
      expectFixed(fault, note, proven);
      expectWithinFigure(fault, note, proven);
    }
    expect(fixed).toBeGreaterThan(0);
  });
});

/** Holds a verified fix against a fresh check of the edited shot. */
function expectFixed({ shot, notes }: Fault, note: Note, { edits, changes }: ProvenFix): void {
  const after = eachAlone(notesOf(studyOf(editShot(shot, edits), settings)));
  const matches = matchNotes(eachAlone(notes), after);
  expect(matches.has(note)).toBe(false);
  const known = new Set(matches.values());
  const limit = tiers.indexOf(note.tier);
  const heavy = after.filter((other) => !known.has(other) && tiers.indexOf(other.tier) <= limit);
  // What was there and was hidden by what is gone may be told now: nothing of it moves otherwise.
  expect(heavy.filter((other) => movesOtherwise(shot, editShot(shot, edits), other))).toEqual([]);
  expect(changes.length).toBeGreaterThan(0);
  expect(changes.length).toBeLessThanOrEqual(edits.length);
  for (const { after: key } of changes) if (key !== null) expect(Math.abs(key.frame % 1)).toBeLessThan(1e-6);
}

/** Whether the node of a note, or what it is seen at, is elsewhere in the note's frames after an edit. */
function movesOtherwise(before: Shot, after: Shot, { node, seenAt, frames: [from, to] }: Note): boolean {
  const studies = [studyOf(before, settings), studyOf(after, settings)];
  const { ids, indexOf } = rigOf(studies[0]);
  const [first] = gridOf(studies[0]).frames;
  return [node ?? ids[0], ...seenAt].some((id) => {
    const [a, b] = studies.map((study) => worldOf(study, indexOf.get(id) as number).position);
    return a
      .subarray(3 * (from - first), 3 * (to - first + 1))
      .some((value, k) => Math.abs(value - b[3 * (from - first) + k]) > 1e-9);
  });
}

function expectWithinFigure({ shot }: Fault, note: Note, { edits }: ProvenFix): void {
  const study = studyOf(shot, settings);
  const figure = figuresOf(study).find(({ id }) => id === note.figure);
  const own = figure?.nodes.map((node) => rigOf(study).ids[node]) ?? shot.header.nodes.map(({ id }) => id);
  const allowed = new Set([...own, ...note.seenAt, ...note.keys.map(({ node }) => node)]);
  expect([...new Set(edits.map(({ node }) => node))].filter((node) => !allowed.has(node))).toEqual([]);
}

describe("all fixes", () => {
  test("are proven for four faults in five, whichever way the motion is keyed", () => {
    for (const kind of ["keyed", "dense"]) {
      const tried = outcomes.filter(({ fault }) => fault.kind === kind);
      const missed = tried.filter(({ proven }) => proven === null);
      expect(tried.length).toBeGreaterThan(20);
      expect(
        missed.length / tried.length,
        missed.map(({ fault }) => `${fault.check} in ${fault.base}`).join("; "),
      ).toBeLessThanOrEqual(0.2);
    }
  });

  test("of a slip of one key change few keys", () => {
    for (const check of ["pop", "rotation-flip", "overshoot", "key-crowding", "key-off-frame"]) {
      const own = outcomes.filter(({ fault, proven }) => fault.check === check && proven !== null);
      for (const { proven, fault } of own) {
        const curve = fault.shot.curves.find(({ node }) => node === proven?.edits[0].node);
        const most = check === "rotation-flip" ? (curve?.frames.length ?? 0) : 4;
        expect(proven?.changes.length).toBeLessThanOrEqual(most);
      }
    }
  });

  test("say what they do; there is one for each check", () => {
    for (const { name } of registry) expect(fixNamed(name)?.what, name).toMatch(/^[A-Z].*\.$/);
    expect(fixNamed("a-check-of-a-studio")).toBeUndefined();
    for (const { proven } of outcomes) {
      if (proven === null) continue;
      expect(proven.title).toMatch(/^[a-z]/);
      expect(proven.title).not.toMatch(/undefined|NaN|null/);
    }
  });
});
