import { registry } from "@keyside/core";
import { describe, expect, test } from "vitest";

// biome-ignore lint/suspicious/noExplicitAny: the bench is plain JavaScript
const load = (path: string): Promise<any> =>
  import(/* @vite-ignore */ new URL(`./faults/${path}`, import.meta.url).href);
const { injectors } = await load("injectors/index.mjs");
const { notesIn, proceduralBases, shotWith } = await load("bases/index.mjs");
const { measureCheck } = await load("measure-check.mjs");
const { scored } = await load("score.mjs");
const keyed = await load("keyed.mjs");
const { lookedAt, lookedUp } = await load("capture-notes.mjs");
const { randomFrom } = await load("random.mjs");

interface Outcome {
  readonly found: boolean;
}
const bases = proceduralBases(["walk", "gestures 7", "side steps 7", "level flight", "climbing turn"]);
const clean = new Map(bases.map((base: { shot: unknown }) => [base, notesIn(base.shot)]));

/** Checks of a cause before and an effect behind it, of props and of the picture, which this bench's short motions lack: whole shots measure them. */
const onWholeShots = [
  "frozen-end",
  "frozen-part",
  "grip-slip",
  "late-reach",
  "mirrored-steps",
  "no-anticipation",
  "no-load",
  "no-settle",
  "quick-top",
  "short-pose",
  "straight-set",
  "blending-colours",
  "eye-line",
  "flashing",
  "frame-edge",
  "limb-at-lens",
  "merged-silhouette",
  "through-prop",
];
/** Checks that no bench measures yet: they run only where they are named. */
const ripening = registry.filter(({ ripening }) => ripening !== undefined).map(({ name }) => name);

describe("the fault bench", () => {
  test("has one injector per check, each with four strengths", () => {
    const names = injectors.map(({ check }: { check: string }) => check);
    const checks = registry.map(({ name }) => name);
    expect([...names, ...onWholeShots, ...ripening].toSorted()).toEqual(checks.toSorted());
    for (const { strengths, unit } of injectors) {
      expect(strengths).toHaveLength(4);
      expect(unit.length).toBeGreaterThan(3);
    }
  });

  test("its clean motions give no major note", () => {
    for (const notes of clean.values()) {
      expect((notes as { tier: string }[]).filter(({ tier }) => tier === "major")).toEqual([]);
    }
  });

  test("measures the same twice, and finds gross faults where they were put", () => {
    const pops = injectors.find(({ check }: { check: string }) => check === "pop");
    const [a, b] = [0, 1].map(() => measureCheck(pops, bases, clean, 2));
    const outcomes = (result: typeof a, strength: number): Outcome[] => result.strengths[strength].outcomes;
    expect(outcomes(a, 3).map(({ found }) => found)).toEqual(outcomes(b, 3).map(({ found }) => found));
    expect(a.placements).toBe(2);
    expect(outcomes(a, 3).some(({ found }) => found)).toBe(true);
  });

  test("knows a note on capture again by check, part and frames, and no other", () => {
    for (const [recording, notes] of Object.entries<
      { check: string; node: string; frames: number[]; why: string }[]
    >(lookedAt)) {
      for (const one of notes) {
        expect(lookedUp(recording, one)).toBe(one);
        expect(one.why.length).toBeGreaterThan(20);
        const [from, to] = one.frames;
        const length = to - from + 1;
        expect(lookedUp(recording, { ...one, check: "hitch" })).toBeNull();
        expect(lookedUp(recording, { ...one, node: "Hips" })).toBeNull();
        expect(lookedUp("another.bvh", one)).toBeNull();
        // What is beside it may be another note that was looked at.
        expect(lookedUp(recording, { ...one, frames: [from + length, to + length] })).not.toBe(one);
        // What has grown to more than twice its length is another note.
        expect(lookedUp(recording, { ...one, frames: [from, to + length + 1] })).toBeNull();
      }
    }
  });

  test("does not take a note elsewhere, before the fault, or of another check for a find", () => {
    const truth = {
      from: 40,
      to: 41,
      nodes: new Set(["hand"]),
      keys: { nodes: new Set(["arm"]), channels: /^rotation\.x$/, from: 39, to: 42 },
    };
    const note = (more: object) => ({
      check: "pop",
      node: "hand",
      seenAt: ["hand"],
      frames: [40, 40],
      keys: [{ node: "arm", channel: "rotation.x", frame: 40 }],
      ...more,
    });
    const score = (before: object[], after: object[]) =>
      scored({ name: "pop", yieldsTo: ["hitch"] }, before, after, truth);
    expect(score([], [note({})])).toMatchObject({ found: true, namesKey: true, frameError: 0.5 });
    expect(score([], [note({ keys: [{ node: "arm", channel: "rotation.y", frame: 40 }] })])).toMatchObject({
      found: true,
      namesKey: false,
    });
    expect(score([note({})], [note({})])).toMatchObject({ found: false });
    expect(score([], [note({ frames: [50, 50] })])).toMatchObject({ found: false });
    expect(score([], [note({ node: "foot", seenAt: ["foot"], keys: [] })])).toMatchObject({
      found: false,
      saidBy: null,
    });
    expect(score([], [note({ check: "hitch" })])).toMatchObject({
      found: false,
      saidBy: "hitch",
      saidBetter: true,
    });
  });
});

describe("keys that the bench edits", () => {
  test("come back from the core's curves as they were", () => {
    for (const base of bases) {
      for (const curve of base.curves.values()) {
        const { frames, values } = keyed.coreCurve(curve);
        expect(
          keyed.keyedOf(keyed.coreCurve(curve)).keys.map(({ value }: { value: number }) => value),
        ).toEqual([...values]);
        expect([...frames]).toEqual(curve.keys.map(({ frame }: { frame: number }) => frame));
      }
    }
  });

  test("a shot with curves put back is the shot", () => {
    const [base] = bases;
    expect(notesIn(shotWith(base.shot, [...base.curves.values()]))).toEqual(clean.get(base));
  });

  test("rekeying a stretch leaves the rest of the curve as it was", () => {
    const curve = {
      node: "n",
      channel: "rotation.x",
      interpolation: "bezier",
      keys: [
        { frame: 1, value: 0, slope: 0 },
        { frame: 21, value: 30, slope: 1 },
        { frame: 41, value: 10, slope: 0 },
      ],
    };
    const changed = keyed.rekeyed(curve, 18, 24, () => 50);
    for (const frame of [18, 21, 24]) expect(keyed.curveAt(changed, frame)).toBe(50);
    for (const frame of [1, 8, 15, 17, 25, 30, 41])
      expect(Math.abs(keyed.curveAt(changed, frame) - keyed.curveAt(curve, frame))).toBeLessThan(0.1);
  });
});

test("random numbers stay in their bounds and repeat", () => {
  const [a, b] = [randomFrom(9), randomFrom(9)];
  for (let i = 0; i < 200; i++) {
    const number = a.whole(3, 7);
    expect(number).toBe(b.whole(3, 7));
    expect(number).toBeGreaterThanOrEqual(3);
    expect(number).toBeLessThanOrEqual(7);
  }
});
