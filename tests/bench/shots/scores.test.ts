import { describe, expect, test } from "vitest";
import { shotsModule } from "./load.ts";
import type { PlantedShot } from "./planting/planting.d.ts";
import type { DocumentCurve, FaultRecord, NoteView, Program, ShotRecord } from "./scores/records.d.ts";
import type { KeyedShot, Performance, Poses } from "./types.d.ts";

const { plant } = await shotsModule("planting/plant.mjs");
const { damageOf, driftOf, slideOf } = await shotsModule("scores/damage.mjs");
const { limitAfter } = await shotsModule("scores/cleared.mjs");
const { plainCurve, program } = await shotsModule("scores/program.mjs");
const { biggestFault, largestMove, weightOf } = await shotsModule("scores/rank.mjs");
const { namesPlannedKey, restored } = await shotsModule("scores/right-key.mjs");
const { assigned, freshNotes, goneNotes, jointsBeside, says } = await shotsModule("scores/said.mjs");
const { scoreShot } = await shotsModule("scores/score-shot.mjs");
const { jumpOf, placeWith, tinyBuild, tinyKinds, tinyPlan, tinyStage } = await shotsModule("scores/tiny.mjs");
const { ours, undressed } = await shotsModule("scores/undress.mjs");
const { documentOf, namesOf } = await shotsModule("dressing/document.mjs");
const { isSameNote } = await shotsModule("scores/views.mjs");
const { wilson } = await shotsModule("scores/wilson.mjs");
const { posesOf } = await shotsModule("poses.mjs");
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

/** Poses of one figure whose joints go where they are told. */
function posed(
  at: (joint: string, frame: number) => [number, number, number],
  more: Partial<Performance> = {},
) {
  const { figures } = tinyPlan().perform();
  return {
    first: 1,
    count: 40,
    position: at,
    orientation: () => [0, 0, 0, 1],
    point: (joint: string, offset: number[], frame: number) =>
      at(joint, frame).map((value, axis) => value + offset[axis]!),
    performance: { figures, events: [], props: [], ...more },
  } as unknown as Poses;
}

describe("rank", () => {
  test("a fault's weight is the largest move of any joint in statures, times the root of its frames", () => {
    const still = posed(() => [0, 0, 0]);
    // 34 cm of a stature of 1.7 m on one frame: a fifth; 9 frames: times 3.
    const moved = posed((joint, frame) => (joint === "hand_l" && frame === 20 ? [0.34, 0, 0] : [0, 0, 0]));
    expect(largestMove(moved, still)).toBeCloseTo(0.2, 12);
    expect(weightOf(moved, still, 9)).toBeCloseTo(0.6, 12);
    expect(largestMove(moved, still, (_figure: string, frame: number) => frame !== 20)).toBe(0);
  });

  test("the biggest fault, and the first note that says it", () => {
    const saying = [[note({ index: 0 })], [note({ index: 5 }), note({ index: 3 })], []];
    expect(biggestFault([0.1, 0.6, 0.2], saying)).toEqual({ fault: 1, saidBy: 3 });
    expect(biggestFault([0.1, 0.6, 0.9], saying)).toEqual({ fault: 2, saidBy: null });
    expect(biggestFault([0, 0, 0], saying)).toBeNull();
  });
});

describe("what a fix breaks", () => {
  const still = posed(() => [0, 0, 0]);
  const damage = (twin: Poses, before: Poses, after: Poses) =>
    damageOf({ twin, before, after }, "waver", 20, 22);

  test("a planted point that slides further, heel and toe apart", () => {
    const plantEvent = { kind: "plant", figure: "waver", limb: 0, from: 5, to: 15, rolls: false } as const;
    const events = [plantEvent];
    const slides = (per: number) =>
      posed((joint, frame) => (joint === "hand_l" ? [per * frame, 0, 0] : [0, 0, 0]), { events });
    // 10 steps of 3.4 mm: 3.4 cm of 1.7 m are 2 %.
    expect(slideOf(slides(0.0034), plantEvent)).toBeCloseTo(0.02, 12);
    expect(damage(slides(0), slides(0), slides(0.0034)).plant).toBe(true);
    expect(damage(slides(0), slides(0), slides(0.0015)).plant).toBe(false);
    // What the faulty shot slides is no damage of the fix, nor is sliding less.
    expect(damage(slides(0), slides(0.0034), slides(0.0034)).plant).toBe(false);
    expect(damage(slides(0), slides(0.0034), slides(0)).plant).toBe(false);
  });

  test("a held prop that drifts from the hand", () => {
    const hold = { kind: "hold-prop", prop: "cup", figure: "waver", limbs: [0], from: 5, to: 15 } as const;
    const events = [hold];
    const drifts = (by: number) =>
      posed((joint, frame) => (joint === "cup" && frame === 10 ? [0, by, 0] : [0, 0, 0]), { events });
    expect(driftOf(drifts(0.034), hold)).toBeCloseTo(0.02, 12);
    expect(damage(drifts(0), drifts(0), drifts(0.034)).prop).toBe(true);
    expect(damage(drifts(0), drifts(0), drifts(0.01)).prop).toBe(false);
  });

  test("motion outside of the note's frames, half a second beside them left to the fix", () => {
    const moved = (at: number) =>
      posed((joint, frame) => (joint === "head" && frame === at ? [0.017, 0, 0] : [0, 0, 0]));
    expect(damage(still, still, moved(34)).outside).toBe(0);
    expect(damage(still, still, moved(35)).outside).toBeCloseTo(0.01, 12);
    expect(damage(still, still, moved(7)).outside).toBeCloseTo(0.01, 12);
    expect(damage(still, still, moved(35)).otherFigure).toBe(false);
  });

  test("another figure that is moved", () => {
    const [waver] = tinyPlan().perform().figures;
    const figures = [
      waver!,
      { id: "other", body: { ...waver!.body, joints: [{ ...waver!.body.joints[0]!, id: "o" }] } },
    ];
    const other = (by: number) =>
      posed((joint, frame) => (joint === "o" && frame === 21 ? [by, 0, 0] : [0, 0, 0]), { figures });
    expect(damage(other(0), other(0), other(0.01))).toMatchObject({ otherFigure: true, frozen: false });
    expect(damage(other(0), other(0), other(0)).otherFigure).toBe(false);
  });

  test("a limb that stands still where it moved", () => {
    const waves = (wide: number) =>
      posed((joint, frame) => (joint === "hand_r" ? [wide * Math.sin(frame), 0, 0] : [0, 0, 0]));
    expect(damage(waves(0.1), waves(0.1), waves(0.01)).frozen).toBe(true);
    expect(damage(waves(0.1), waves(0.1), waves(0.05)).frozen).toBe(false);
    // Where the twin hardly moves, standing still is the fix.
    expect(damage(waves(0.001), waves(0.1), waves(0)).frozen).toBe(false);
  });
});

test("a fault is gone under what a barely seen one must show, or what other faults leave of it", () => {
  const planted = (left: number, now: number) => ({
    fault: { kind: { sizes: [{ value: 8 }], measure: () => left }, place: placeWith() },
    without: { poses: null },
    measured: now,
  });
  expect(limitAfter(planted(0, 15), null)).toBe(6);
  expect(limitAfter(planted(10, 15), null)).toBeCloseTo(11, 12);
  // Doing nothing must not do.
  expect(limitAfter(planted(14, 15), null)).toBe(6);
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

describe("the way back from a document", () => {
  test.each([
    { up: "y", metresPerUnit: 1, turnsRoots: false },
    { up: "y", metresPerUnit: 0.0254, turnsRoots: false },
    { up: "z", metresPerUnit: 0.01, turnsRoots: false },
    { up: "z", metresPerUnit: 0.01, turnsRoots: true },
  ])("gives the keys as they were: %o", (dress) => {
    const plan = tinyPlan();
    const dressing = { ...plan.dressing, ...dress, rename: (joint: string) => `n_${joint}` };
    const built = tinyBuild(plan, []);
    for (const axis of ["x", "y", "z"]) {
      for (const [joint, channel] of [
        ["hips", "translation"],
        ["hips", "rotation"],
        ["chest", "translation"],
        ["chest", "rotation"],
      ]) {
        built.keyed.curves.set(`${joint} ${channel}.${axis}`, {
          joint,
          channel: `${channel}.${axis}`,
          interpolation: "bezier",
          keys: [
            { frame: 1, value: 0.5, out: [2, 0.25], interpolation: "bezier" },
            { frame: 9, value: -1, in: [-3, 0.125], interpolation: "linear" },
          ],
        });
      }
    }
    const nodeOf: Map<string, string> = namesOf(built.keyed, dressing);
    const jointOf = new Map([...nodeOf].map(([joint, node]) => [node, joint]));
    const document = documentOf(built.keyed, dressing, "tiny", built.keyed.performance);
    const dressed = { ...built, jointOf, nodeOf };
    const edited: DocumentCurve[] = program().read(JSON.stringify(document)).curves.map(plainCurve);
    const back: KeyedShot = undressed({ ...plan, dressing }, dressed, edited);
    expect([...back.curves.keys()].toSorted()).toEqual([...built.keyed.curves.keys()].toSorted());
    for (const [name, { keys }] of back.curves) {
      const old = built.keyed.curves.get(name);
      keys.forEach(({ frame, value, in: before, out }, i) => {
        expect(frame).toBe(old.keys[i].frame);
        expect(value, name).toBeCloseTo(old.keys[i].value, 7);
        expect(before?.[1] ?? 0).toBeCloseTo(old.keys[i].in?.[1] ?? 0, 7);
        expect(out?.[1] ?? 0).toBeCloseTo(old.keys[i].out?.[1] ?? 0, 7);
      });
    }
    for (const { node, channel } of edited) {
      const { joint, channel: own } = ours({ ...plan, dressing }, dressed, node, channel);
      expect(node).toBe(`n_${joint}`);
      expect(back.curves.has(`${joint} ${own}`)).toBe(true);
    }
    expect(ours({ ...plan, dressing }, dressed, "elsewhere", "rotation.x")).toBeNull();
  });
});

test("poses of an edited document are those of the edited keys", () => {
  const built = tinyBuild(tinyPlan(), [
    { kind: jumpOf("jump", "head", 34), strength: 2, place: placeWith({ joint: "head" }), seed: "" },
  ]);
  const again = posesOf(tinyStage.undressed(null, built, program().read(built.text).curves.map(plainCurve)));
  expect(again.channel("head", "rotation.z", 34)).toBeCloseTo(
    built.poses.channel("head", "rotation.z", 34),
    12,
  );
});

test("curves of a document come out as they were written", () => {
  const document = {
    format: "keyside.curves",
    version: 1,
    shot: { frameRate: 24 },
    nodes: [{ id: "a" }],
    curves: [
      {
        node: "a",
        channel: "rotation.x",
        interpolation: "bezier",
        keys: [
          [1, 5, { out: [2, 1] }],
          [9, 7, { in: [-3, 0], interpolation: "step" }],
          [12, 8, { interpolation: "cubic", out: 3 }],
          [18, 4, { in: -1, interpolation: "linear" }],
          [20, 0],
        ],
      },
    ],
  };
  const [curve] = program().read(JSON.stringify(document)).curves.map(plainCurve);
  expect(curve).toEqual({
    node: "a",
    channel: "rotation.x",
    interpolation: "bezier",
    keys: [
      { frame: 1, value: 5, out: [2, 1], interpolation: "bezier" },
      { frame: 9, value: 7, in: [-3, 0], interpolation: "step" },
      // A slope of 3 over 6 frames: a handle of 2 frames and 6.
      { frame: 12, value: 8, out: [2, 6], interpolation: "bezier" },
      { frame: 18, value: 4, in: [-2, 2], interpolation: "linear" },
      { frame: 20, value: 0, interpolation: "bezier" },
    ],
  });
});
