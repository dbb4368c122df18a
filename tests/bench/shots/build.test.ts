import { describe, expect, test } from "vitest";
import { load, smallPerformance } from "./bodies-for-tests.ts";
import type {
  BuiltShot,
  FaultKind,
  KeyedCurve,
  KeyingStyle,
  Performance,
  PlannedFault,
  ShotPlan,
  Size,
} from "./types.d.ts";

const { build } = await load("build.mjs");
const { densePosesOf } = await load("poses.mjs");
const { randomOf } = await load("random.mjs");
const motion = await load("motion/index.mjs");

const styles: Record<string, KeyingStyle> = {
  "bezier, close": { stage: "splined", spacing: 4, interpolation: "bezier", offset: 1 },
  "bezier, sparse": { stage: "splined", spacing: 14, interpolation: "bezier", offset: 3 },
  "smooth, close": { stage: "splined", spacing: 5, interpolation: "smooth", offset: 0 },
  "smooth, sparse": { stage: "splined", spacing: 12, interpolation: "smooth", offset: 2 },
};
const planOf = (style: KeyingStyle, seed = "a", metresPerUnit = 0.01): ShotPlan => ({
  name: "porter_0010",
  seed,
  perform: () => smallPerformance(randomOf(seed), 120),
  style,
  dressing: {
    metresPerUnit,
    declaresUnit: true,
    up: "y",
    rename: (joint) => joint,
    declaresFigures: true,
    declaresGround: true,
    declaresContacts: false,
  },
  body: "two legs",
});
const sizes: [Size, Size, Size] = [1, 2, 3].map((value) => ({ value, reason: "for this test" })) as never;

/** A fault for tests: what it does stands in `perform` or `edit`. */
function fault(name: string, own: Partial<FaultKind>): PlannedFault {
  const kind: FaultKind = {
    name,
    checks: [],
    unit: "degrees",
    sizes,
    layer: own.perform === undefined ? "keys" : "motion",
    places: () => [],
    measure: () => 0,
    ...own,
  };
  return { kind, strength: 1, place: { figure: "porter", joint: "chest", from: 1060, to: 1070 }, seed: name };
}
const bump = (performance: Performance, joint: string, channel: string, by: number) =>
  motion.addTrack(
    performance,
    joint,
    channel,
    (frame: number) => by * motion.minimumJerk((frame - 1060) / 5) * motion.minimumJerk((1071 - frame) / 5),
    1061,
    1070,
  );
const nod = fault("nod", {
  perform: (performance, _, size) => bump(performance, "chest", "rotation.x", size),
});
const dip = fault("dip", {
  perform: (performance, _, size) => {
    const before = motion.copy(performance);
    bump(performance, "hips", "translation.y", -0.01 * size);
    for (const limb of [0, 1]) motion.resolve(performance, before, "porter", limb, 1061, 1070);
  },
});
const sway = fault("sway", {
  perform: (performance, _, size) => bump(performance, "hips", "translation.x", 0.01 * size),
});
const nudge = fault("nudge", {
  edit: (shot, _, size, random) => {
    const curve = shot.curves.get("head rotation.y") as KeyedCurve;
    curve.keys[3].value += size + random.next();
  },
});
const all = [nod, dip, sway, nudge];
const curvesBy = ({ keyed }: BuiltShot) =>
  new Map([...keyed.curves].map(([name, curve]) => [name, curve.keys]));
const changed = (a: BuiltShot, b: BuiltShot) => {
  const [here, there] = [curvesBy(a), curvesBy(b)];
  const names = new Set([...here.keys(), ...there.keys()]);
  return [...names]
    .filter((name) => JSON.stringify(here.get(name)) !== JSON.stringify(there.get(name)))
    .sort();
};

describe.each(Object.entries(styles))("a shot keyed %s", (_, style) => {
  const plan = planOf(style);
  const twin: BuiltShot = build(plan);

  test("is the same each time, also from a plan made anew", () => {
    expect(build(plan).text).toBe(twin.text);
    expect(build(planOf(style)).text).toBe(twin.text);
    expect(build(planOf(style, "b")).text).not.toBe(twin.text);
    expect(build(plan, all).text).toBe(build(planOf(style), all).text);
  });

  test("holds planted feet and the hand on the box within a millimetre", () => {
    const dense = densePosesOf(plan.perform());
    for (const event of twin.keyed.performance.events) {
      if (event.kind !== "plant") continue;
      const { sole } = twin.keyed.performance.figures[0].body.limbs[event.limb];
      for (let frame = event.from; frame <= event.to; frame++) {
        for (const point of [sole?.heel, [0, 0, 0.1]] as [number, number, number][]) {
          const [a, b] = [dense, twin.poses].map((poses) => poses.point(sole?.foot as string, point, frame));
          expect(Math.hypot(...a.map((part: number, k: number) => part - b[k]))).toBeLessThan(0.001);
        }
      }
    }
    const grip = (frame: number) => {
      const [hand, box] = ["hand_r", "box"].map((joint) => twin.poses.position(joint, frame));
      return Math.hypot(...hand.map((part, k) => part - box[k]));
    };
    for (let frame = 1031; frame <= 1051; frame++) expect(grip(frame)).toBeLessThan(0.001);
  });

  test("strays little from its table, and in speed too", () => {
    const dense = densePosesOf(plan.perform());
    for (const joint of ["hips", "chest", "head", "hand_l", "hand_r", "hair_3"]) {
      for (let frame = 1003; frame < 1120; frame++) {
        const at = (poses: BuiltShot["poses"], by = 0) => poses.position(joint, frame + by);
        const far = (a: readonly number[], b: readonly number[]) =>
          Math.hypot(...a.map((part, k) => part - b[k]));
        expect(far(at(dense), at(twin.poses)), `${joint} ${frame}`).toBeLessThan(0.015);
        const step = (poses: BuiltShot["poses"]) => at(poses).map((part, k) => part - at(poses, -1)[k]);
        let quickest = 0;
        for (let by = -5; by <= 5; by++) {
          quickest = Math.max(
            quickest,
            far(dense.position(joint, frame + by), dense.position(joint, frame + by - 1)),
          );
        }
        expect(far(step(dense), step(twin.poses)), `${joint} ${frame}`).toBeLessThan(0.0025 + 0.2 * quickest);
      }
    }
  });

  test("keeps the curves that a fault does not touch, and the keys around it of those that it does", () => {
    expect(changed(build(plan, [nod]), twin)).toEqual(["chest rotation.x"]);
    expect(changed(build(plan, [sway]), twin)).toEqual(["hips translation.x"]);
    expect(changed(build(plan, [nudge]), twin)).toEqual(["head rotation.y"]);
    const legs = changed(build(plan, [dip]), twin);
    expect(legs).toContain("hips translation.y");
    expect(legs).toContain("thigh_l rotation.x");
    expect(legs.every((name) => /^(hips translation\.y|(thigh|shin|foot)_[lr] rotation)/.test(name))).toBe(
      true,
    );
    const far = ({ frame }: { frame: number }) =>
      frame < 1061 - style.spacing * 1.6 || frame > 1070 + style.spacing * 1.6;
    for (const [shot, name] of [
      [build(plan, [nod]), "chest rotation.x"],
      [build(plan, [dip]), "hips translation.y"],
    ] as [BuiltShot, string][]) {
      const [here, there] = [shot, twin].map((one) => curvesBy(one).get(name)?.filter(far));
      expect(here).toEqual(there);
    }
  });

  test("loses with a fault only what that fault changed", () => {
    const whole = build(plan, all);
    for (const left of all) {
      const without = build(
        plan,
        all.filter((one) => one !== left),
      );
      const own = changed(build(plan, [left]), twin);
      for (const name of changed(whole, without)) {
        // Legs are solved under the hips: what moves the hips may move their keys where they are solved anew anyway.
        if (!/^(thigh|shin|foot)/.test(name)) expect(own).toContain(name);
      }
    }
  });

  test("shows a fault where it was put, and its size", () => {
    const shot = build(plan, [nod]);
    const at = (one: BuiltShot, frame: number) => one.poses.channel("chest", "rotation.x", frame);
    expect(at(shot, 1065) - at(twin, 1065)).toBeCloseTo(2, 0);
    for (const frame of [1030, 1110]) expect(at(shot, frame)).toBe(at(twin, frame));
  });
});

describe("keys", () => {
  test("of a blocked shot stand on shared poses and step, those of a dense one on every frame", () => {
    const blocked: BuiltShot = build(
      planOf({ stage: "blocked", spacing: 9, interpolation: "step", offset: 0 }),
    );
    const poses = [...blocked.keyed.curves.values()]
      .filter(({ keys }) => keys.length > 2)
      .map(({ keys }) => keys.map(({ frame }) => frame));
    expect(poses.length).toBeGreaterThan(10);
    for (const frames of poses) expect(frames).toEqual(poses[0]);
    expect(poses[0].length).toBeGreaterThan(8);
    expect(poses[0].length).toBeLessThan(20);
    for (const { interpolation } of blocked.keyed.curves.values()) expect(interpolation).toBe("step");
    const dense: BuiltShot = build(
      planOf({ stage: "dense", spacing: 1, interpolation: "linear", offset: 0 }),
    );
    const { keys } = dense.keyed.curves.get("thigh_l rotation.x") as KeyedCurve;
    expect(keys.map(({ frame }) => frame)).toEqual(Array.from({ length: 120 }, (_, n) => 1001 + n));
  });

  test("of a splined shot are as far apart as its style says, and shared between curves", () => {
    for (const spacing of [4, 8, 14]) {
      const shot: BuiltShot = build(
        planOf({ stage: "splined", spacing, interpolation: "bezier", offset: 0 }),
      );
      const frames = (name: string) => (shot.keyed.curves.get(name)?.keys ?? []).map(({ frame }) => frame);
      const spine = frames("chest rotation.y");
      // The poses of its turn stand closer than the spacing, those of its rests as far apart.
      expect(119 / (spine.length - 1)).toBeGreaterThan(0.4 * spacing);
      expect(119 / (spine.length - 1)).toBeLessThan(1.6 * spacing);
      const shared = frames("hips translation.z").filter((frame) => spine.includes(frame));
      expect(shared.length).toBeGreaterThan(0.5 * spine.length);
    }
  });

  test("carry handles a third long, level at turning points", () => {
    const shot: BuiltShot = build(planOf(styles["bezier, sparse"]));
    const { keys } = shot.keyed.curves.get("upper_arm_r rotation.x") as KeyedCurve;
    keys.forEach((key, k) => {
      if (k + 1 < keys.length) expect(key.out?.[0]).toBeCloseTo((keys[k + 1].frame - key.frame) / 3, 3);
      if (k > 0) expect(key.in?.[0]).toBeCloseTo((keys[k - 1].frame - key.frame) / 3, 3);
    });
    expect(keys[0].out?.[1]).toBe(0);
  });
});
