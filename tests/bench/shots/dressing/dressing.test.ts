import { figuresOf, readShot, resolveSettings, rigOf, studyOf, worldOf } from "@keyside/core";
import { describe, expect, test } from "vitest";
import { load, smallBody, smallPerformance } from "../bodies-for-tests.ts";
import type { BuiltShot, Dressing, KeyingStyle, Performance, ShotPlan } from "../types.d.ts";

const { build } = await load("build.mjs");
const { drawHabit, namesOf } = await load("dressing/names.mjs");
const { prefixOf, wordsOf } = await load("dressing/words.mjs");
const { partsOf, contactsOf } = await load("dressing/parts.mjs");
const { dressingFor } = await load("dressing/index.mjs");
const { randomOf } = await load("random.mjs");
const { densePosesOf } = await load("poses.mjs");
const { jumpingAndSitting } = await load("families/two-legs/jumps.mjs");

const plain: Dressing = {
  metresPerUnit: 1,
  declaresUnit: true,
  up: "y",
  rename: (joint) => joint,
  declaresFigures: false,
  declaresGround: false,
  declaresContacts: false,
};
const splined: KeyingStyle = { stage: "splined", spacing: 8, interpolation: "bezier", offset: 2 };
const performance = smallPerformance(randomOf("dressing"), 100, ["porter", "guest"]);

/** One keying for all dressings of a unit: keys are rounded in the document's units. */
function built(dressing: Partial<Dressing>, style = splined): BuiltShot {
  const plan: ShotPlan = {
    name: "porter_0010",
    seed: "dressing",
    perform: () => performance,
    style,
    dressing: { ...plain, ...dressing },
    body: "two legs",
  };
  return build(plan);
}

/** Largest distance between the bench's poses and the core's, in metres, and the largest turn between them, as 1 − |dot|. */
function difference({ text, poses, nodeOf }: BuiltShot) {
  const { shot, problems } = readShot(text);
  if (shot === null) throw new Error(problems[0].message);
  expect(problems).toEqual([]);
  const study = studyOf(shot, resolveSettings([]));
  const rig = rigOf(study);
  const worst = { place: 0, turn: 0 };
  for (const [id, node] of nodeOf) {
    const world = worldOf(study, rig.indexOf.get(node) as number);
    for (let i = 0; i < poses.count; i += 7) {
      const here = poses.position(id, poses.first + i);
      const there = world.position.subarray(3 * i, 3 * i + 3);
      worst.place = Math.max(worst.place, Math.hypot(...here.map((part, k) => part - there[k])));
      const turn = poses.orientation(id, poses.first + i);
      const other = world.orientation.subarray(4 * i, 4 * i + 4);
      worst.turn = Math.max(
        worst.turn,
        1 - Math.abs(turn.reduce((sum, part, k) => sum + part * other[k], 0)),
      );
    }
  }
  return worst;
}

describe("a dressed document", () => {
  const units = [1, 0.01, 0.1, 0.0254, 0.0375, 0.001];
  test.each(units)("of %d metres per unit has the core's places, y up and z up", (metresPerUnit) => {
    for (const up of ["y", "z"] as const) {
      for (const turnsRoots of [false, true]) {
        const { place, turn } = difference(built({ metresPerUnit, up, turnsRoots }));
        expect(place).toBeLessThan(1e-6);
        // Joints whose own axes are z up are turned by a quarter in the core's world as well: only places are the same.
        if (up === "y" || turnsRoots) expect(turn).toBeLessThan(1e-9);
      }
    }
  });

  test.each(["dense", "blocked", "splined"] as const)("of a %s shot has the core's places", (stage) => {
    const interpolation = { dense: "linear", blocked: "step", splined: "smooth" } as const;
    const style: KeyingStyle = { stage, spacing: 8, interpolation: interpolation[stage], offset: 0 };
    expect(difference(built({ up: "z", metresPerUnit: 0.01 }, style)).place).toBeLessThan(1e-6);
  });

  test("with scales has the core's places, z up too", () => {
    const squashed: Performance = { ...performance, tracks: new Map(performance.tracks) };
    const count = performance.last - performance.first + 1;
    const wave = (phase: number) =>
      Float64Array.from({ length: count }, (_, i) => 1 + 0.2 * Math.sin(0.2 * i + phase));
    squashed.tracks.set("porter_chest scale.y", wave(0));
    squashed.tracks.set("porter_chest scale.z", wave(2));
    for (const up of ["y", "z"] as const) {
      const plan = {
        name: "squash",
        seed: "s",
        perform: () => squashed,
        style: splined,
        dressing: { ...plain, up },
        body: "",
      };
      expect(difference(build(plan)).place).toBeLessThan(1e-6);
    }
  });

  test("writes a key to a line, with short numbers in its unit", () => {
    const { text } = built({ metresPerUnit: 0.0254 });
    const values = text.split("\n").filter((line) => /^ {6}\[-?\d/.test(line));
    expect(values.length).toBeGreaterThan(500);
    for (const line of values) {
      expect(line).toMatch(/^ {6}\[\d+, -?\d+(\.\d{1,4})?(, \{.*\})?\],?$/);
    }
  });

  test("declares what it is told to, in the document's names and units", () => {
    const rename = (joint: string) => `n:${joint}`;
    const { document } = built({
      up: "z",
      rename,
      declaresFigures: true,
      declaresContacts: true,
      metresPerUnit: 0.01,
    });
    const { figures, surfaces, contacts, space } = document as Record<string, never>;
    expect(space).toEqual({ metresPerUnit: 0.01, up: "z" });
    expect(surfaces).toEqual([{ id: "floor", normal: [0, 0, 1], height: 0 }]);
    expect((figures as object[])[0]).toMatchObject({
      id: "porter",
      stature: 1.75,
      parts: { root: "n:porter_hips", leftThigh: "n:porter_thigh_l", rightHand: "n:porter_hand_r" },
    });
    expect(contacts).toContainEqual({
      node: "n:porter_foot_r",
      with: "n:floor".slice(2),
      frames: [1001, 1100],
    });
    expect(contacts).toContainEqual({ node: "n:porter_hand_r", with: "n:box", frames: [1031, 1051] });
    const bare = built({ declaresUnit: false }).document as Record<string, unknown>;
    for (const name of ["space", "figures", "surfaces", "contacts"]) expect(bare[name]).toBeUndefined();
  });

  test("is read by the core as the figures and parts that it declares", () => {
    const { shot } = readShot(built({ declaresFigures: true }).text);
    const study = studyOf(shot as NonNullable<typeof shot>, resolveSettings([]));
    const figures = figuresOf(study);
    expect(figures.map(({ id }) => id)).toEqual(["porter", "guest"]);
    const ids = rigOf(study).ids;
    for (const [part, joints] of Object.entries(partsOf(smallBody("porter_")))) {
      const found = figures[0].parts.get(part as never)?.map((node) => ids[node]);
      expect(found, part).toEqual([joints].flat());
    }
  });
});

describe("names", () => {
  test("fall into part, side and number, behind the figure's prefix", () => {
    expect(prefixOf(smallBody("porter_"))).toBe("porter_");
    expect(prefixOf(smallBody())).toBe("");
    expect(wordsOf("upper_arm_l")).toEqual({ part: "upper_arm", side: "left", rest: "" });
    expect(wordsOf("spine_2")).toEqual({ part: "spine", side: null, rest: "2" });
    expect(wordsOf("ear_r_tip")).toEqual({ part: "ear_tip", side: "right", rest: "" });
  });

  test("are unique in every habit, and each habit is drawn", () => {
    const habits = new Map<string, Map<string, string>>();
    for (let n = 0; n < 80; n++) {
      const { name, habit } = drawHabit(randomOf(`habit ${n}`));
      const names: Map<string, string> = namesOf(performance, habit);
      expect(new Set(names.values()).size).toBe(names.size);
      expect(names.size).toBe(2 * smallBody().joints.length + 1);
      habits.set(name, names);
    }
    expect(habits.get("short English")?.get("porter_thigh_l")).toBe("porter_thigh_l");
    expect(habits.get("side and part in one word")?.get("porter_thigh_l")).toMatch(/^porter[:_]LeftUpLeg$/);
    expect(habits.get("side first")?.get("guest_forearm_r")).toBe("guest_R_forearm");
    expect(habits.get("side behind a point")?.get("guest_upper_arm_r")).toBe("guest_UpperArm.R");
    expect(habits.get("in a namespace")?.get("guest_hair_2")).toBe("guest:hair_2");
    expect(habits.get("German")?.get("porter_upper_arm_l")).toBe("porter_oberarm_li");
    expect(habits.get("Polish")?.get("porter_shin_r")).toBe("porter_lydka_prawy");
    expect(habits.get("numbered")?.get("porter_hips")).toBe("porter_joint_01");
  });
});

describe("a drawn dressing", () => {
  test("leaves the unit open only where grown people in metres or centimetres tell it", () => {
    const drawn: Dressing[] = Array.from({ length: 200 }, (_, n) =>
      dressingFor(performance, randomOf(`d ${n}`)),
    );
    const open = drawn.filter(({ declaresUnit }) => !declaresUnit);
    expect(open.length).toBeGreaterThan(10);
    for (const { metresPerUnit } of open) expect([1, 0.01]).toContain(metresPerUnit);
    expect(new Set(drawn.map(({ up }) => up))).toEqual(new Set(["y", "z"]));
    const child = { ...smallBody(), stature: 1.1 };
    const other = { ...performance, figures: [{ id: "child", body: child }], props: [] };
    for (let n = 0; n < 50; n++) expect(dressingFor(other, randomOf(`d ${n}`)).declaresUnit).toBe(true);
  });
});

test("contacts are declared where the clean shot's feet are still", () => {
  const poses = densePosesOf(performance);
  const contacts: { node: string; with: string | null; frames: [number, number] }[] = contactsOf(performance);
  expect(contacts.length).toBeGreaterThan(8);
  for (const { node, with: on, frames } of contacts) {
    if (on !== null) continue;
    const [a, b]: number[][] = frames.map((frame) => poses.position(node, frame));
    expect(Math.hypot(...a.map((part, k) => part - b[k]))).toBeLessThan(0.002);
  }
});

test("feet on a ledge are declared to stand on the ledge, not on the floor", () => {
  const ledge = jumpingAndSitting.find(({ action }: { action: string }) => action === "jump off a ledge");
  const clean: Performance = ledge.make(randomOf("ledge"), 120);
  const plan = { name: "ledge", seed: "ledge", perform: () => clean, style: splined, body: "two legs" };
  const { text, poses } = build({ ...plan, dressing: { ...plain, declaresContacts: true } });
  const { surfaces, contacts } = JSON.parse(text);
  expect(surfaces.length).toBe(2);
  const heights = new Map(surfaces.map(({ id, height }: { id: string; height: number }) => [id, height]));
  expect(contacts.length).toBeGreaterThan(3);
  for (const { node, with: on, frames } of contacts) {
    const above = poses.position(node, frames[0])[1] - Number(heights.get(on));
    expect(above).toBeGreaterThan(-0.01);
    expect(above).toBeLessThan(0.15);
  }
});
