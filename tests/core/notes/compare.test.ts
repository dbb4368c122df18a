import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { bringsNew, compareNotes, type Version } from "../../../packages/core/notes/compare.ts";
import { everyFrame, pointDocument } from "../../support/shots.ts";
import { retimed } from "./retimed.ts";
import { brief, demoShot, versionOf } from "./versions.ts";

const names = ["jetty_0040_v1", "steps_0110_v1", "quay_0070_v1"];
const judged = new Map(names.map((name) => [name, versionOf(demoShot(name))]));
const versionNamed = (name: string) => judged.get(name) as Version<Note>;

/** What a comparison says, in few words and whatever the order. */
function told({ fixed, still, changed, added }: ReturnType<typeof compareNotes<Note>>) {
  return {
    fixed: brief(fixed).sort(),
    added: brief(added).sort(),
    still: still.map(({ after }) => brief([after])[0]).sort(),
    changed: changed.map(({ after, verdict }) => `${brief([after])[0]} ${verdict}`).sort(),
  };
}

/** A point that is keyed every eight frames, with a fault for a frame at some of them: sparse keys but for the faults. */
function sparse(faults: readonly { readonly at: number; readonly by: number }[], count = 10): CurveDocument {
  const x: [number, number][] = [];
  for (let k = 0; k < count; k++) x.push([1 + 8 * k, 0.2 * k + 0.05 * Math.sin(k)]);
  const y: [number, number][] = [
    [1, 1],
    [1 + 8 * (count - 1), 1],
  ];
  for (const { at, by } of faults) y.push([at - 1, 1], [at, 1 + by], [at + 1, 1]);
  y.sort((p, q) => p[0] - q[0]);
  return pointDocument({
    "translation.x": { interpolation: "smooth", keys: x },
    "translation.y": { interpolation: "linear", keys: y },
  });
}

const faults = [
  { at: 20, by: 0.3 },
  { at: 45, by: -0.2 },
];

/** A note at other frames, by a fingerprint that is no help. */
function carried(note: Note, time: (frame: number) => number): Note {
  return {
    ...note,
    frames: [time(note.frames[0]), time(note.frames[1])],
    keys: note.keys.map((key) => ({ ...key, frame: time(key.frame) })),
    fingerprint: `${note.fingerprint} carried`,
  };
}

describe("a version against itself", () => {
  test.each(names)("%s: everything is still there", (name) => {
    const version = versionNamed(name);
    const { fixed, added, changed, still } = compareNotes(version, version);
    expect([fixed, added, changed]).toEqual([[], [], []]);
    expect(still.map(({ before }) => before)).toEqual(version.notes);
    expect(still.every(({ before, after, by }) => before === after && by === "fingerprint")).toBe(true);
  });

  test("a shot without curves has nothing to compare", () => {
    const empty = versionOf({ ...demoShot(names[0]), curves: [] });
    const { fixed, added, times } = compareNotes(empty, empty);
    expect([fixed, added]).toEqual([[], []]);
    expect(times.shot.toAfter(7)).toBe(7);
  });
});

describe("a shot that was shifted", () => {
  test.each(names)("%s: nothing is new and nothing is fixed", (name) => {
    fc.assert(
      fc.property(fc.integer({ min: -2000, max: 2000 }), (by) => {
        const shifted = versionOf(retimed(demoShot(name), (frame) => frame + by));
        const { fixed, added, changed, still, times } = compareNotes(versionNamed(name), shifted);
        expect([fixed, added, changed]).toEqual([[], [], []]);
        expect(times.shot.toAfter(40)).toBeCloseTo(40 + by, 9);
        for (const { before, after } of still) {
          expect(after.frames[0] - before.frames[0]).toBeCloseTo(by, 6);
          expect(after.check).toBe(before.check);
        }
      }),
      { numRuns: 4 },
    );
  });

  test("at another rate: notes are known by their seconds", () => {
    const before = versionOf(sparse(faults));
    const shot = versionOf({
      ...retimed(sparse(faults), (frame) => 2 * frame),
      shot: { frameRate: 48 },
    }).shot;
    const notes = before.notes.map((note) => carried(note, (frame) => 2 * frame));
    const { fixed, added, still } = compareNotes(before, { shot, notes });
    expect([brief(fixed), brief(added)]).toEqual([[], []]);
    expect(still.map((pair) => pair.after)).toEqual(notes);
  });
});

describe("a shot that was re-timed", () => {
  test("by a factor: a note that is still there is known again", () => {
    const before = versionOf(sparse(faults));
    expect(before.notes.filter(({ check }) => check === "pop")).toHaveLength(2);
    fc.assert(
      fc.property(fc.double({ min: 0.6, max: 2.5, noNaN: true }), (factor) => {
        const after = versionOf(retimed(sparse(faults), (frame) => 1 + (frame - 1) * factor));
        const { fixed, added, times } = compareNotes(before, after);
        expect(times.shot.toAfter(33)).toBeCloseTo(1 + 32 * factor, 6);
        // What went by itself and what came by itself is never the same fault at the same place.
        for (const gone of fixed) {
          for (const come of added) {
            if (gone.check !== come.check || gone.node !== come.node) continue;
            const at = gone.frames.map((frame) => times.shot.toAfter(frame));
            expect(Math.max(at[0] - come.frames[1], come.frames[0] - at[1])).toBeGreaterThan(6);
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  test("by a factor: notes are known again where their fingerprints are no help", () => {
    const before = versionOf(sparse(faults));
    fc.assert(
      fc.property(fc.double({ min: 0.3, max: 4, noNaN: true }), (factor) => {
        const time = (frame: number) => 1 + (frame - 1) * factor;
        const { shot } = versionOf(retimed(sparse(faults), time));
        const notes = before.notes.map((note) => carried(note, time));
        const { still, fixed, added } = compareNotes(before, { shot, notes: [...notes].reverse() });
        expect([fixed, added]).toEqual([[], []]);
        for (const pair of still) expect(notes.indexOf(pair.after)).toBe(before.notes.indexOf(pair.before));
      }),
      { numRuns: 20 },
    );
  });

  test.each(names)("%s with frames put in: notes before and behind them are known again", (name) => {
    const document = demoShot(name);
    const [first, last] = document.shot.range as [number, number];
    fc.assert(
      fc.property(
        fc.integer({ min: first + 10, max: last - 10 }),
        fc.integer({ min: 1, max: 40 }),
        (at, by) => {
          const longer = versionOf(retimed(document, (frame) => (frame <= at ? frame : frame + by)));
          const before = versionNamed(name);
          const { fixed, still, changed, times } = compareNotes(before, longer);
          expect(times.shot.toAfter(first)).toBeCloseTo(first, 6);
          expect(times.shot.toAfter(last)).toBeCloseTo(last + by, 6);
          const kept = new Set([...still, ...changed].map((pair) => pair.before));
          for (const note of fixed) expect(kept.has(note)).toBe(false);
          // Whatever stands clear of the place is as it was; a note that spans much of the shot may rightly be another.
          for (const note of before.notes) {
            const isClear = note.frames[1] < at - 30 || note.frames[0] > at + 30;
            const isShort = note.frames[1] - note.frames[0] <= 2;
            if (isClear && isShort) expect(kept.has(note), brief([note])[0]).toBe(true);
          }
        },
      ),
      { numRuns: 4 },
    );
  });

  test("one limb moved against the rest: the shot's time stands, the limb's notes follow it", () => {
    const document = demoShot("quay_0070_v1");
    const later = {
      ...document,
      curves: document.curves.map((curve) =>
        curve.node === "hand_r"
          ? {
              ...curve,
              keys: curve.keys.map(([frame, ...rest]) => [frame + 9, ...rest] as (typeof curve.keys)[number]),
            }
          : curve,
      ),
    };
    const { times, fixed } = compareNotes(versionNamed("quay_0070_v1"), versionOf(later));
    for (const frame of [1, 33, 70, 140]) expect(times.shot.toAfter(frame)).toBeCloseTo(frame, 6);
    expect(times.curve("hand_r rotation.x")?.toAfter(33)).toBeCloseTo(42, 6);
    expect(brief(fixed)).not.toContain("pop hand_r 33-33");
  });
});

describe("what became of a note", () => {
  const pops = (by: number) => versionOf(sparse([{ at: 20, by }]));

  test("a key that was put right is fixed, another that was put wrong is new", () => {
    const before = versionOf(sparse([{ at: 20, by: 0.3 }]));
    const after = versionOf(sparse([{ at: 45, by: -0.2 }]));
    const { fixed, added } = compareNotes(before, after);
    expect(fixed.map(({ frames }) => frames[0])).toContain(20);
    expect(added.map(({ frames }) => frames[0])).toContain(45);
  });

  test("of two alike, the one that is left is not taken for the one that is fixed", () => {
    const both = versionOf(
      sparse([
        { at: 20, by: 0.3 },
        { at: 45, by: 0.3 },
      ]),
    );
    const second = versionOf(sparse([{ at: 45, by: 0.3 }]));
    const { fixed, added, still, changed } = compareNotes(both, second);
    const pop = (notes: readonly Note[]) => brief(notes.filter(({ check }) => check === "pop"));
    expect(pop(fixed)).toEqual(["pop point 20-20"]);
    expect(pop(added)).toEqual([]);
    expect(pop([...still, ...changed].map(({ before }) => before))).toEqual(["pop point 45-45"]);
  });

  test("on curves keyed on every frame, a fault that went and one as large that came elsewhere are two", () => {
    const off = (at: number) =>
      pointDocument({ "translation.x": everyFrame(1, 60, (f) => f / 20 + (f === at ? 0.3 : 0)) });
    const { fixed, added } = compareNotes(versionOf(off(20)), versionOf(off(40)));
    const pop = (notes: readonly Note[]) => brief(notes.filter(({ check }) => check === "pop"));
    expect([pop(fixed), pop(added)]).toEqual([["pop point 20-20"], ["pop point 40-40"]]);
  });

  test("where no key is in both versions, a note is known by its numbers", () => {
    const { shot, notes } = pops(0.3);
    const renamed = { ...shot, curves: shot.curves.map((curve) => ({ ...curve, node: "other" })) };
    const moved = { ...carried(notes[0], (frame) => frame + 30), keys: [] };
    const { still } = compareNotes({ shot, notes: [notes[0]] }, { shot: renamed, notes: [moved] });
    expect(still.map(({ by }) => by)).toEqual(["value"]);
  });

  test("a smaller fault at the same key is better, a larger one worse, by how much", () => {
    const better = compareNotes(pops(0.4), pops(0.2)).changed.filter(({ after }) => after.check === "pop");
    expect(better.map(({ verdict }) => verdict)).toEqual(["better"]);
    const [{ before, after, fixedShare }] = better;
    const past = (note: Note) => (note.measured.value as number) - (note.expected.max as number);
    expect(fixedShare).toBeCloseTo(1 - past(after) / past(before), 9);
    const worse = compareNotes(pops(0.2), pops(0.4)).changed.filter(
      ({ after: note }) => note.check === "pop",
    );
    expect(worse.map(({ verdict }) => verdict)).toEqual(["worse"]);
  });

  test("what is waived stands apart on both sides", () => {
    const { shot, notes } = pops(0.3);
    const [first, ...rest] = notes;
    const open = { shot, notes };
    const waived = { shot, notes: rest, waived: [first] };
    expect(compareNotes(open, waived)).toMatchObject({
      fixed: [],
      added: [],
      waived: [{ before: first, after: first }],
    });
    const unwaived = compareNotes(waived, open);
    expect(unwaived).toMatchObject({ fixed: [], added: [], waived: [] });
    expect(unwaived.still.map(({ after }) => after)).toContain(first);
    const gone = compareNotes(waived, { shot, notes: [] });
    expect(gone.waived).toEqual([{ before: first, after: null }]);
    expect(gone.fixed).toEqual(rest);
    const come = compareNotes({ shot, notes: [] }, waived);
    expect(come.waived).toEqual([{ before: null, after: first }]);
    expect(come.added).toEqual(rest);
  });

  test("a tier that was not there before is new at that tier", () => {
    const { shot, notes } = pops(0.3);
    const at = (tier: Note["tier"]) => ({ shot, notes: [{ ...notes[0], tier }] });
    const none = { shot, notes: [] };
    expect(bringsNew(compareNotes(none, at("minor")), "major")).toBe(false);
    expect(bringsNew(compareNotes(none, at("major")), "major")).toBe(true);
    expect(bringsNew(compareNotes(at("minor"), at("major")), "major")).toBe(true);
    expect(bringsNew(compareNotes(at("major"), at("major")), "major")).toBe(false);
    expect(bringsNew(compareNotes(at("major"), none), "polish")).toBe(false);
  });
});

describe("exchanging the versions", () => {
  const fault = fc.record({
    at: fc.integer({ min: 4, max: 70 }),
    by: fc.double({ min: -0.5, max: 0.5, noNaN: true }),
  });
  const version = fc
    .tuple(
      fc.uniqueArray(fault, { maxLength: 4, selector: ({ at }) => Math.round(at / 4) }),
      fc.integer({ min: -30, max: 30 }),
      fc.double({ min: 0.5, max: 2, noNaN: true }),
    )
    .map(([faults, by, factor]) => versionOf(retimed(sparse(faults), (frame) => frame * factor + by)));

  test("exchanges fixed and new, better and worse", () => {
    fc.assert(
      fc.property(version, version, (one, two) => {
        const there = told(compareNotes(one, two));
        const back = compareNotes(two, one);
        expect(brief(back.fixed).sort()).toEqual(there.added);
        expect(brief(back.added).sort()).toEqual(there.fixed);
        const turned = { better: "worse", worse: "better" };
        expect(
          back.changed.map(({ before, verdict }) => `${brief([before])[0]} ${turned[verdict]}`).sort(),
        ).toEqual(there.changed);
        expect(back.still.map(({ before }) => brief([before])[0]).sort()).toEqual(there.still);
      }),
      { numRuns: 60 },
    );
  });

  test.each([
    ["jetty_0040_v1", "jetty_0040_v2"],
    ["steps_0110_v1", "steps_0110_v2"],
    ["quay_0070_v1", "quay_0070_v2"],
  ])("%s and %s", (one, two) => {
    const [a, b] = [versionNamed(one), versionOf(demoShot(two))];
    const there = told(compareNotes(a, b));
    const back = told(compareNotes(b, a));
    expect([back.fixed, back.added]).toEqual([there.added, there.fixed]);
  });
});

describe("notes for which another one speaks", () => {
  const { shot, notes } = versionNamed(names[1]);
  const [a, b] = notes.filter(({ also }) => also === undefined);
  const spoken = { ...a, also: [b] };
  const of = (...told: readonly Note[]): Version<Note> => ({ shot, notes: told });

  test("are still there where they come to stand alone, and the other way round", () => {
    expect(told(compareNotes(of(spoken), of(b)))).toMatchObject({
      fixed: brief([a]),
      added: [],
      still: brief([b]),
    });
    expect(told(compareNotes(of(b), of(spoken)))).toMatchObject({
      fixed: [],
      added: brief([a]),
      still: brief([b]),
    });
  });

  test("go and come with their speaker without a word, and apart from it with one", () => {
    expect(told(compareNotes(of(spoken), of()))).toMatchObject({ fixed: brief([spoken]), added: [] });
    expect(told(compareNotes(of(spoken), of(a)))).toMatchObject({
      fixed: brief([b]),
      still: brief([a]),
      added: [],
    });
    expect(told(compareNotes(of(a), of(spoken)))).toMatchObject({
      added: brief([b]),
      still: brief([a]),
      fixed: [],
    });
    expect(told(compareNotes(of(spoken), of(spoken)))).toMatchObject({
      fixed: [],
      added: [],
      still: brief([a]),
    });
  });
});
