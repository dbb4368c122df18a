import { describe, expect, test } from "vitest";
import { shotsModule } from "./load.ts";
import type { ChangedKey, Dropped, Planted, PlantedShot } from "./planting/planting.d.ts";
import type { FaultKind, KeyedShot, Place } from "./types.d.ts";

const { changedKeys, plannedKeys, seenTo } = await shotsModule("planting/changed-keys.mjs");
const { kindsInTurn } = await shotsModule("planting/choose.mjs");
const { overlaps, shareLimb } = await shotsModule("planting/overlap.mjs");
const { plant } = await shotsModule("planting/plant.mjs");
const { bendOf, jumpOf, liftOf, tinyBuild, tinyKinds, tinyPlan } = await shotsModule("scores/tiny.mjs");
const { randomOf } = await shotsModule("random.mjs");

const planted = (kinds: FaultKind[], seed = "tiny"): PlantedShot =>
  plant(tinyPlan(seed), kinds, tinyBuild, randomOf(`${seed}/plant`));
const names = ({ faults }: PlantedShot) => faults.map(({ fault }) => fault.kind.name);
const reasons = ({ dropped }: PlantedShot) =>
  dropped.map(({ kind, reason }: Dropped) => `${kind}: ${reason}`);

describe("planting", () => {
  test("puts 6 to 14 faults of different kinds in, each present in the full shot and absent in the twin", () => {
    for (const seed of ["a", "b", "c"]) {
      const { faults, full, twin } = planted(tinyKinds(), seed);
      expect(faults.length).toBeGreaterThanOrEqual(6);
      expect(faults.length).toBeLessThanOrEqual(14);
      expect(new Set(faults.map(({ fault }) => fault.kind.name)).size).toBe(faults.length);
      for (const { fault, measured } of faults) {
        const { kind, place, strength } = fault;
        expect(measured).toBeGreaterThanOrEqual(0.75 * kind.sizes[strength].value);
        expect(kind.measure(full.poses, place, twin.poses)).toBe(measured);
        expect(kind.measure(twin.poses, place, twin.poses)).toBeLessThanOrEqual(0.5 * kind.sizes[0].value);
      }
    }
  });

  test("gives the same shot for the same seed, and others for other seeds", () => {
    expect(planted(tinyKinds()).full.text).toBe(planted(tinyKinds()).full.text);
    expect(planted(tinyKinds(), "one").full.text).not.toBe(planted(tinyKinds(), "two").full.text);
  });

  test("takes kinds a second time, elsewhere, where there are too few", () => {
    const joints = ["arm_l", "arm_r", "head", "hand_l", "hand_r"];
    const shot = planted(joints.map((joint, i) => liftOf(`lift of ${joint}`, joint, [21 + 4 * i, 85])));
    expect(shot.faults).toHaveLength(6);
    expect(new Set(names(shot)).size).toBe(5);
    expect(shot.faults.filter(({ fault }) => fault.place.from === 85)).toHaveLength(1);
  });

  test("uses each strength about as often as the others", () => {
    const { faults } = planted(tinyKinds());
    for (const strength of [0, 1, 2]) {
      const count = faults.filter(({ fault }) => fault.strength === strength).length;
      expect(count).toBeGreaterThanOrEqual(Math.floor(faults.length / 3) - 1);
    }
  });

  test("drops what cannot be proven, and says why", () => {
    const twin: FaultKind = { ...jumpOf("always there", "arm_l", 20), measure: () => 100 };
    const weak: FaultKind = { ...jumpOf("never there", "arm_l", 22), measure: () => 0 };
    const idle: FaultKind = { ...jumpOf("does nothing", "arm_l", 24), edit: () => {} };
    const nowhere: FaultKind = { ...jumpOf("nowhere", "arm_l", 26), places: () => [] };
    const broken: FaultKind = {
      ...jumpOf("throws", "arm_l", 28),
      edit: () => {
        throw new Error("no such joint");
      },
    };
    const shot = planted([twin, weak, idle, nowhere, broken, ...tinyKinds().slice(0, 6)]);
    expect(names(shot).toSorted()).toEqual(
      tinyKinds()
        .slice(0, 6)
        .map(({ name }: FaultKind) => name)
        .toSorted(),
    );
    expect(reasons(shot)).toEqual([
      "always there: seen in the twin",
      "never there: too weak alone",
      "does nothing: changes no key",
      "nowhere: no place",
      "throws: fails: no such joint",
    ]);
  });

  test("does not plant a fault whose keys are those of another", () => {
    const same: FaultKind = { ...jumpOf("the same jump", "forearm_l", 30), checks: [] };
    const shot = planted([...tinyKinds(), same]);
    // The sizes may differ; the keys are the same.
    expect(reasons(shot)).toContain("the same jump: same keys as another");
  });

  test("does not plant a fault that one note would say together with another", () => {
    const near: FaultKind = {
      ...jumpOf("a jump beside it", "forearm_l", 31),
      places: () => [{ figure: "waver", joint: "forearm_l", from: 30, to: 31 }],
    };
    const other: FaultKind = { ...near, name: "something else beside it", checks: ["hitch"] };
    const shot = planted([...tinyKinds(), near, other]);
    expect(reasons(shot)).toContain("a jump beside it: not to be told from another");
    expect(names(shot)).toContain("something else beside it");
  });

  test("drops a fault that another hides, and builds the shot without it", () => {
    const hidden = jumpOf("hidden", "forearm_l", 30);
    const hiding: FaultKind = {
      ...bendOf("hiding", "forearm_l", 20, 40),
      layer: "keys",
      perform: undefined,
      edit(shot: KeyedShot) {
        const curve = shot.curves.get("forearm_l rotation.z")!;
        curve.keys = curve.keys.filter(({ frame }) => frame < 20 || frame > 40);
        curve.keys.push({ frame: 30, value: 120 });
        curve.keys.sort((a, b) => a.frame - b.frame);
      },
      measure: (poses, { from }, clean) =>
        Math.abs(
          poses.channel("forearm_l", "rotation.z", from + 4) -
            clean.channel("forearm_l", "rotation.z", from + 4),
        ),
    };
    const sizes = hidden.sizes.map((size: object) => ({ ...size, value: 60 }));
    const off: FaultKind["measure"] = (poses, _place, clean) => {
      const at = (frame: number) =>
        poses.channel("forearm_l", "rotation.z", frame) - clean.channel("forearm_l", "rotation.z", frame);
      return Math.abs(at(30) - (at(29) + at(31)) / 2);
    };
    const others = tinyKinds().filter(({ name }: FaultKind) => !name.includes("forearm"));
    const shot = planted([{ ...hidden, sizes, measure: off }, hiding, ...others]);
    expect(reasons(shot)).toContain("hidden: hidden by others");
    expect(names(shot)).not.toContain("hidden");
    expect(names(shot)).toContain("hiding");
  });

  test("does not plant a fault of which another one beside its joint would take the note", () => {
    const below: FaultKind = {
      ...jumpOf("a jump of the hand", "hand_l", 30),
      places: () => [{ figure: "waver", joint: "hand_l", from: 30, to: 31 }],
    };
    const head: FaultKind = { ...below, name: "a jump of the head", places: jumpOf("", "head", 30).places };
    const only = [jumpOf("a jump of the forearm", "forearm_l", 30), below, head];
    const shot = planted([...only, ...tinyKinds().filter(({ name }: FaultKind) => !name.startsWith("jump"))]);
    expect(reasons(shot)).toContain("a jump of the hand: not to be told from another");
    expect(names(shot)).toContain("a jump of the forearm");
  });

  test("drops a fault whose measure is there without it", () => {
    const strong = (kind: FaultKind): FaultKind => ({
      ...kind,
      sizes: kind.sizes.map((size: object) => ({ ...size, value: 30 })) as unknown as FaultKind["sizes"],
    });
    const own = strong(jumpOf("own", "forearm_l", 30));
    const jump = strong(jumpOf("borrowed", "arm_l", 30));
    const borrowed: FaultKind = {
      ...jump,
      checks: ["something"],
      measure: (poses, place, clean) =>
        Math.max(
          jump.measure(poses, place, clean),
          own.measure(poses, { ...place, joint: "forearm_l" }, clean),
        ),
    };
    const shot = planted([own, borrowed, ...tinyKinds().filter(({ name }: FaultKind) => !/arm/.test(name))]);
    expect(reasons(shot)).toContain("borrowed: measured from another");
    expect(names(shot)).toContain("own");
  });

  test("knows each fault's keys, and the shot without it", () => {
    const { faults, twin } = planted(tinyKinds());
    const jump = faults.find(({ fault }) => fault.kind.name === "jump of the head") as Planted;
    expect([...jump.keys.keys()].every((id) => id.startsWith("head rotation.z "))).toBe(true);
    expect([...jump.keys.values()].map(({ frame }: ChangedKey) => frame)).toContain(34);
    const name = "head rotation.z";
    expect(jump.without.keyed.curves.get(name)).toEqual(twin.keyed.curves.get(name));
  });

  test("puts faults where others are", () => {
    const { faults } = planted(tinyKinds());
    const places: Place[] = faults.map(({ fault }) => fault.place);
    const count = places.filter((a) => places.some((b) => a !== b && overlaps(a, b))).length;
    expect(count).toBeGreaterThanOrEqual(faults.length / 3);
  });
});

describe("which faults share what", () => {
  const { figures } = tinyPlan().perform();
  const at = (joint: string, from: number, to: number, figure = "waver") => ({ figure, joint, from, to });
  test("frames of the same figure, and limbs", () => {
    expect(overlaps(at("hand_l", 10, 20), at("head", 20, 30))).toBe(true);
    expect(overlaps(at("hand_l", 10, 20), at("head", 21, 30))).toBe(false);
    expect(overlaps(at("hand_l", 10, 20), at("head", 20, 30, "other"))).toBe(false);
    expect(shareLimb(figures, at("hand_l", 10, 20), at("arm_l", 15, 15))).toBe(true);
    expect(shareLimb(figures, at("hand_l", 10, 20), at("arm_r", 15, 15))).toBe(false);
    expect(shareLimb(figures, at("head", 10, 20), at("chest", 15, 15))).toBe(true);
  });
});

test("all kinds have their turn over a set of shots, and each shot may try them all", () => {
  const kinds = Array.from({ length: 23 }, (_, i) => ({ name: `kind ${i}` })) as FaultKind[];
  const first = new Map<string, number>();
  for (let shot = 0; shot < 23; shot++) {
    const order: FaultKind[] = kindsInTurn(kinds, randomOf("set"), shot);
    expect(new Set(order).size).toBe(kinds.length);
    for (const { name } of order.slice(0, 10)) first.set(name, (first.get(name) ?? 0) + 1);
  }
  // 23 shots deal 230 cards: ten of each kind, a few of them twice in a shot and therefore passed over.
  for (const { name } of kinds) expect(Math.abs((first.get(name) ?? 0) - 10)).toBeLessThanOrEqual(4);
});

describe("changed keys", () => {
  const shot = (keys: object[], interpolation = "bezier") => ({
    curves: new Map([["a rotation.x", { joint: "a", channel: "rotation.x", interpolation, keys }]]),
  });
  const idsOf = (a: object, b: object) => [...changedKeys(a, b).keys()];
  test("are those with another value, handle or interpolation, and those that only one shot has", () => {
    const old = [
      { frame: 1, value: 0 },
      { frame: 9, value: 5, out: [2, 1] },
      { frame: 20, value: 0 },
    ];
    expect(idsOf(shot(old), shot(old))).toEqual([]);
    expect(idsOf(shot([{ frame: 1, value: 1e-6 }, ...old.slice(1)]), shot(old))).toEqual([]);
    expect(idsOf(shot([{ frame: 1, value: 0.1 }, ...old.slice(1)]), shot(old))).toEqual(["a rotation.x 1"]);
    expect(idsOf(shot([old[0]!, { frame: 9, value: 5, out: [2, 2] }, old[2]!]), shot(old))).toEqual([
      "a rotation.x 9",
    ]);
    expect(idsOf(shot([...old, { frame: 31.5, value: 0 }]), shot(old))).toEqual(["a rotation.x 31.5"]);
    expect(idsOf(shot(old.slice(1)), shot(old))).toEqual(["a rotation.x 1"]);
    expect(idsOf(shot(old, "linear"), shot(old))).toHaveLength(3);
    // The curve's own interpolation and a key's that names the same are the same.
    const named = old.map((key) => ({ ...key, interpolation: "bezier" }));
    expect(idsOf(shot(named, "linear"), shot(old))).toEqual([]);
  });

  test("of a fault are those in its frames and the next ones beside them", () => {
    const key = (frame: number, value = 0) => ({ frame, value });
    const old = [1, 10, 20, 30, 40, 50].map((frame) => key(frame));
    const now = [1, 10, 20, 30, 40, 50].map((frame) => key(frame, 3));
    const frames = [...plannedKeys(shot(now), shot(old), { from: 22, to: 33 }).values()].map(
      ({ frame }: ChangedKey) => frame,
    );
    expect(frames).toEqual([20, 30, 40]);
  });
});

describe("a fault in step keys", () => {
  const keyed = (interpolation: "step" | "linear", ...frames: readonly number[]): KeyedShot =>
    ({
      curves: new Map([
        [
          "arm rotation.x",
          {
            joint: "arm",
            channel: "rotation.x",
            interpolation,
            keys: frames.map((frame) => ({ frame, value: frame === 11 ? 30 : 0 })),
          },
        ],
      ]),
    }) as unknown as KeyedShot;
  const place = { figure: "one", joint: "arm", from: 11, to: 14 } as Place;
  const planned = (frame: number, here = true) =>
    new Map([
      [
        "arm",
        { joint: "arm", channel: "rotation.x", frame, here: here ? { frame, value: 30 } : null, there: null },
      ],
    ]) as unknown as Map<string, ChangedKey>;

  test("is seen until the next key of its curve", () => {
    expect(seenTo(keyed("step", 1, 11, 21), planned(11), place)).toBe(20);
    expect(seenTo(keyed("step", 1, 11, 21.5), planned(11), place)).toBe(21);
    expect(seenTo(keyed("step", 1, 11, 13), planned(11), place)).toBe(14);
  });

  test("is over where it says, between other keys, at the last of all, and by keys that come later or are gone", () => {
    expect(seenTo(keyed("linear", 1, 11, 21), planned(11), place)).toBe(14);
    expect(seenTo(keyed("step", 1, 11), planned(11), place)).toBe(14);
    expect(seenTo(keyed("step", 1, 16, 21), planned(16), place)).toBe(14);
    expect(seenTo(keyed("step", 1, 11, 21), planned(11, false), place)).toBe(14);
  });
});
