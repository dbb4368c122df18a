import { describe, expect, test } from "vitest";
import { shotsModule } from "./load.ts";
import type { PlantedShot } from "./planting/planting.d.ts";
import type { FaultRecord, NoteView, Program, ShotRecord } from "./scores/records.d.ts";
import type { KeyedShot } from "./types.d.ts";

const { plant } = await shotsModule("planting/plant.mjs");
const { program } = await shotsModule("scores/program.mjs");
const { namesPlannedKey, restored } = await shotsModule("scores/right-key.mjs");
const { assigned, freshNotes, goneNotes, jointsBeside, says } = await shotsModule("scores/said.mjs");
const { scoreShot } = await shotsModule("scores/score-shot.mjs");
const { placeWith, tinyBuild, tinyKinds, tinyPlan, tinyStage } = await shotsModule("scores/tiny.mjs");
const { isSameNote } = await shotsModule("scores/views.mjs");
const { wilson } = await shotsModule("scores/wilson.mjs");
const { randomOf } = await shotsModule("random.mjs");

const note = (more: Partial<NoteView> = {}): NoteView => ({
  index: 0,
  check: "pop",
  tier: "minor",
  joint: "forearm_l",
  seenAt: "forearm_l",
  from: 44,
  to: 46,
  key: { joint: "forearm_l", channel: "rotation.z", frame: 45 },
  message: "",
  ...more,
});

describe("Wilson's interval", () => {
  test.each([
    // 8 of 10 and 0 of 10: computed from the formula by hand with z = 1.959964.
    [8, 10, 0.49016, 0.94332],
    [0, 10, 0, 0.27753],
    [10, 10, 0.72247, 1],
    [50, 100, 0.40383, 0.59617],
  ])("of %i in %i is %f to %f", (hits, of, low, high) => {
    const [a, b] = wilson(hits, of);
    expect(a).toBeCloseTo(low, 4);
    expect(b).toBeCloseTo(high, 4);
  });

  test("says nothing where there is no sample", () => {
    expect(wilson(0, 0)).toEqual([0, 1]);
  });
});

describe("said", () => {
  const { figures } = tinyPlan().perform();
  const fault = { kind: { checks: ["pop", "hitch"] }, place: placeWith({ also: ["head"] }) };
  const near = jointsBeside(figures, fault.place);
  const isSaid = (more: Partial<NoteView>) => says(note(more), fault, near);

  test("by a note of an acceptable check alone", () => {
    expect(isSaid({})).toBe(true);
    expect(isSaid({ check: "hitch" })).toBe(true);
    expect(isSaid({ check: "jitter" })).toBe(false);
  });

  test("on the joint, the one above, those below, and those where it shows as well", () => {
    expect([...near].toSorted()).toEqual(["arm_l", "forearm_l", "hand_l", "head"]);
    for (const joint of near) expect(isSaid({ joint, seenAt: null })).toBe(true);
    expect(isSaid({ joint: "chest", seenAt: null })).toBe(false);
    expect(isSaid({ joint: "arm_r", seenAt: "arm_r" })).toBe(false);
    expect(isSaid({ joint: null, seenAt: null })).toBe(false);
    // Keys of the chest, most visible at the hand: the hand is what the note speaks of.
    expect(isSaid({ joint: "chest", seenAt: "hand_l" })).toBe(true);
  });

  test("within its frames, widened by 3 on each side", () => {
    // The fault is at frames 40 to 50.
    expect(isSaid({ from: 37, to: 53 })).toBe(true);
    expect(isSaid({ from: 36, to: 45 })).toBe(false);
    expect(isSaid({ from: 45, to: 54 })).toBe(false);
  });

  test("by no note that the clean twin has too", () => {
    const twin = [note({ from: 46, to: 48 })];
    expect(freshNotes([note(), note({ from: 60, to: 61 })], twin)).toHaveLength(1);
    expect(freshNotes([note({ check: "hitch" })], twin)).toHaveLength(1);
  });

  test("once by each note, so that as many faults as can be are said", () => {
    const [a, b] = [note({ index: 0 }), note({ index: 1 })];
    expect(assigned([[a], [a]])).toEqual([a, null]);
    expect(assigned([[a, b], [a]])).toEqual([b, a]);
    expect(assigned([[a], [], [b]])).toEqual([a, null, b]);
  });
});

test("notes are the same by check, node and overlapping frames; those that go with a fault have no such note left", () => {
  expect(isSameNote(note(), note({ from: 46, to: 60, tier: "major" }))).toBe(true);
  expect(isSameNote(note(), note({ from: 47, to: 60 }))).toBe(false);
  expect(isSameNote(note(), note({ joint: "hand_l" }))).toBe(false);
  expect(isSameNote(note(), note({ check: "hitch" }))).toBe(false);
  const full = [note(), note({ check: "hitch" }), note({ joint: "head" })];
  expect(goneNotes(full, [note({ joint: "head", from: 45, to: 45 })])).toEqual(full.slice(0, 2));
});

describe("right key first", () => {
  const keys = new Map([["forearm_l rotation.z 45", {}]]);
  test("where the first key is one of the planned ones", () => {
    expect(namesPlannedKey(note(), { keys })).toBe(true);
    expect(namesPlannedKey(note({ key: null }), { keys })).toBe(false);
    const key = { joint: "forearm_l", channel: "rotation.z", frame: 44 } as const;
    expect(namesPlannedKey(note({ key }), { keys })).toBe(false);
    expect(namesPlannedKey(note({ key: { ...key, frame: 45, channel: "rotation.x" } }), { keys })).toBe(
      false,
    );
  });

  test("a key is put back to the twin's, and taken out where the twin has none", () => {
    const name = "forearm_l rotation.z";
    const keyed = (keys: object[]) =>
      ({ curves: new Map([[name, { interpolation: "linear", keys }]]) }) as unknown as KeyedShot;
    const twin = keyed([
      { frame: 1, value: 0 },
      { frame: 9, value: 3, interpolation: "step" },
    ]);
    const full = keyed([
      { frame: 1, value: 0 },
      { frame: 5, value: 7 },
      { frame: 9, value: 8 },
    ]);
    const back = (frame: number) =>
      restored(full, twin, { joint: "forearm_l", channel: "rotation.z", frame }).map(
        ({ curves }: KeyedShot) => curves.get(name)?.keys,
      );
    expect(back(5)).toEqual([
      [
        { frame: 1, value: 0 },
        { frame: 9, value: 8 },
      ],
    ]);
    expect(back(9)).toEqual([
      [
        { frame: 1, value: 0 },
        { frame: 5, value: 7 },
        { frame: 9, value: 3, interpolation: "step" },
      ],
    ]);
    expect(full.curves.get(name)?.keys).toHaveLength(3);
    expect(restored(full, twin, { joint: "head", channel: "rotation.z", frame: 5 })).toEqual([]);
  });
});

describe("a whole shot", () => {
  const shot: PlantedShot = plant(tinyPlan(), tinyKinds(), tinyBuild, randomOf("whole"));
  const score = (asked: Program): ShotRecord => scoreShot(shot, asked, tinyStage);
  const misses = ({ faults }: ShotRecord) => faults.filter(({ said }) => !said).length;
  const jumps = ({ faults }: ShotRecord) => faults.filter(({ kind }: FaultRecord) => kind.startsWith("jump"));
  const real = score(program());

  test("plain jumps are said, with their key first, and a fix that clears them", () => {
    expect(jumps(real)).toHaveLength(4);
    for (const { said, rightKey, fix, gone, note: by } of jumps(real)) {
      expect({ said, rightKey, by: by?.check }).toEqual({ said: true, rightKey: "planned", by: "pop" });
      expect(gone).toBeLessThanOrEqual(1);
      expect(fix).toMatchObject({ found: true, cleared: true, plant: false, otherFigure: false });
    }
  });

  test("faults that no check names count as missed", () => {
    const bends = real.faults.filter(({ kind }) => kind.startsWith("bend"));
    expect(bends.length).toBeGreaterThan(0);
    for (const { said } of bends) expect(said).toBe(false);
  });

  test("with a check silenced its faults are missed", () => {
    const silenced = score(program(["pop"]));
    expect(misses(silenced)).toBeGreaterThanOrEqual(misses(real) + 3);
  });

  test("with a program that says nothing all are missed; with one that says it all over, clean shots have false notes", () => {
    const mute: Program = { ...program(), notes: () => [] };
    expect(misses(score(mute))).toBe(shot.faults.length);
    const [one] = (program() as Program).notes((program() as Program).read(shot.full.text));
    const loud = score({ ...program(), notes: () => [one!] });
    expect(loud.twin).toHaveLength(1);
    // The note is on the clean twin as well, so that it says nothing.
    expect(misses(loud)).toBe(shot.faults.length);
  });

  test("a first key that is not planned is right where putting it back clears the fault", () => {
    // The planned keys are hidden from the score; the key that the note names is put back and does it.
    const faults = shot.faults.map((planted) => ({ ...planted, keys: new Map() }));
    const record: ShotRecord = scoreShot({ ...shot, faults }, program(), tinyStage);
    for (const { rightKey } of jumps(record)) expect(rightKey).toBe("restored");
    const stuck = { ...tinyStage, posesOf: () => shot.full.poses };
    const unclear: ShotRecord = scoreShot({ ...shot, faults }, program(), stuck);
    for (const { rightKey, fix } of jumps(unclear)) {
      expect(rightKey).toBeNull();
      expect(fix).toMatchObject({ cleared: false });
    }
  });

  test("duplicates are further notes that go when the fault is taken out", () => {
    const asked: Program = program();
    const doubled: Program = {
      ...asked,
      notes: (document) => {
        const notes = asked.notes(document);
        return [
          ...notes,
          ...notes.filter(({ node }) => node === "head").map((one) => ({ ...one, check: "hitch" })),
        ];
      },
    };
    const head = (record: ShotRecord) => jumps(record).find(({ joint }) => joint === "head");
    expect(head(score(doubled))?.gone).toBe((head(real)?.gone ?? 0) + 1);
  });

  test("a shot is judged by what its document says, not by what was planned", () => {
    const clean: PlantedShot = { ...shot, full: shot.twin };
    expect(misses(scoreShot(clean, program(), tinyStage))).toBe(shot.faults.length);
  });
});

test("a document that the program cannot read is an error, not a silent shot", () => {
  expect(() => program().read('{"format":"keyside.curves"}')).toThrow(/no sound document/);
});
