import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { load, smallBody } from "../bodies-for-tests.ts";
import type { Body, Joint, Performance, Vector } from "../types.d.ts";

const motion = await load("motion/index.mjs");
const { randomOf } = await load("random.mjs");

const distance = (a: readonly number[], b: readonly number[]) =>
  Math.hypot(...a.map((part, k) => part - b[k]));

describe("solved limbs", () => {
  test("meet their target in place and turn, whatever the orders, rest directions and parents", () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 2, max: 5 }), (seed, bones) => {
        const { performance, limb } = randomLimb(seed, bones);
        const random = randomOf(`${seed} target`);
        const end = limb.joints[bones];
        for (let frame = 1; frame <= 3; frame++) {
          const start = motion.worldAt(performance, limb.joints[0], frame).position;
          const way = Array.from({ length: 3 }, () => random.between(-1, 1));
          const reach = random.between(0.6, 0.95) * limb.length;
          const target = start.map((part: number, k: number) => part + (way[k] / Math.hypot(...way)) * reach);
          const turn = Array.from({ length: 4 }, () => random.between(-1, 1));
          const unit = turn.map((part) => part / Math.hypot(...turn));
          const { miss } = motion.solveLimb(performance, "a", 0, frame, target, unit);
          const pose = motion.worldAt(performance, end, frame);
          expect(distance(pose.position, target)).toBeCloseTo(miss, 6);
          if (bones === 2 && limb.folds) expect(miss).toBeLessThan(1e-9);
          const same = pose.quaternion.reduce(
            (sum: number, part: number, k: number) => sum + part * unit[k],
            0,
          );
          expect(Math.abs(same)).toBeCloseTo(1, 9);
        }
      }),
      { numRuns: 60 },
    );
  });

  test("bend to the pole: a knee forward if nothing is said, an elbow back", () => {
    const performance = still(2);
    motion.solveLimb(performance, "a", 0, 1, [0.09, 0.3, 0.1], [0, 0, 0, 1]);
    expect(motion.worldAt(performance, "shin_l", 1).position[2]).toBeGreaterThan(0.15);
    expect(motion.channelAt(performance, "shin_l", "rotation.x", 1)).toBeGreaterThan(20);
    expect(performance.tracks.has("shin_l rotation.y")).toBe(false);
    motion.solveLimb(performance, "a", 2, 1, [0.25, 1.2, 0.2], null);
    expect(motion.worldAt(performance, "forearm_l", 1).position[2]).toBeLessThan(0.05);
    motion.solveLimb(performance, "a", 0, 2, [0.09, 0.3, 0.1], null, [1, 0, 0]);
    expect(motion.worldAt(performance, "shin_l", 2).position[0]).toBeGreaterThan(0.25);
    expect([...performance.solved]).toContain("thigh_l rotation.x");
  });

  test("say by how much they miss what is out of reach", () => {
    const performance = still(1);
    const { stretch, miss } = motion.solveLimb(performance, "a", 0, 1, [0.09, -0.5, 0], null);
    expect(stretch).toBeCloseTo(1.42 / 0.84, 6);
    expect(miss).toBeCloseTo(0.58, 4);
  });

  test("turn on without a jump through more than a full turn", () => {
    const performance = still(120);
    motion.setTrack(performance, "hips", "rotation.y", (frame: number) => 6 * frame);
    for (let frame = 1; frame <= 120; frame++) {
      const { position } = motion.worldAt(performance, "hips", frame);
      motion.solveLimb(
        performance,
        "a",
        0,
        frame,
        [position[0] + 0.1, 0.2, position[2]],
        [0, 0, 0, 1],
        [0, 0, 1],
      );
    }
    for (const [name, values] of performance.tracks as Map<string, Float64Array>) {
      for (let i = 1; i < values.length; i++)
        expect(Math.abs(values[i] - values[i - 1]), name).toBeLessThan(60);
    }
  });

  test("are left as they are by resolve where nothing has changed, and hold their ends where something has", () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 2, max: 4 }), (seed, bones) => {
        const { performance, limb } = randomLimb(seed, bones);
        const random = randomOf(`${seed} pose`);
        for (const joint of limb.joints) {
          for (const axis of "xyz") {
            motion.setTrack(performance, joint, `rotation.${axis}`, () => random.between(-40, 40));
          }
        }
        const before = motion.copy(performance);
        motion.resolve(performance, before, "a", 0, 1, 3);
        for (const [name, values] of before.tracks as Map<string, Float64Array>) {
          values.forEach((value, i) => {
            expect(performance.tracks.get(name)?.[i]).toBeCloseTo(value, 5);
          });
        }
        motion.addTrack(performance, "hips", "translation.y", () => 0.01);
        motion.addTrack(performance, "hips", "rotation.x", () => 2);
        motion.resolve(performance, before, "a", 0, 2, 3);
        const [end, was] = [performance, before].map((one) => motion.worldAt(one, limb.joints[bones], 2));
        const start = motion.worldAt(performance, limb.joints[0], 2).position;
        if (
          distance(start, was.position) < 0.9 * limb.length &&
          distance(start, was.position) > 0.4 * limb.length
        ) {
          expect(distance(end.position, was.position)).toBeLessThan(1e-6);
        }
      }),
      { numRuns: 40 },
    );
  });
});

test("a chain in waves that is solved again stays in its waves", () => {
  const { performance, limb } = randomLimb("waves", 5);
  limb.joints.slice(1, 5).forEach((joint, n) => {
    motion.setTrack(performance, joint, "rotation.x", () => (n % 2 === 0 ? 40 : -40));
  });
  const before = motion.copy(performance);
  motion.addTrack(performance, "hips", "translation.x", () => 0.002);
  motion.resolve(performance, before, "a", 0, 1, 3);
  const tips = [performance, before].map((one) => motion.worldAt(one, limb.joints[5], 2).position);
  expect(distance(tips[0], tips[1])).toBeLessThan(1e-6);
  for (const [name, values] of before.tracks as Map<string, Float64Array>) {
    if (!name.startsWith("j")) continue;
    // Two millimetres on bones of 0.1 m and more are a degree or so.
    values.forEach((value, i) => {
      expect(Math.abs((performance.tracks.get(name)?.[i] ?? 0) - value), name).toBeLessThan(3);
    });
  }
});

function still(frames: number): Performance {
  return motion.emptyPerformance({ rate: 24, frames, figures: [{ id: "a", body: smallBody() }] });
}

/** A limb of random bones and orders on parents that are turned at random. */
function randomLimb(seed: string, bones: number) {
  const random = randomOf(seed);
  const orders = ["xyz", "xzy", "yxz", "yzx", "zxy", "zyx"] as const;
  const vector = (size: number): Vector => [0, 0, 0].map(() => random.between(-size, size)) as Vector;
  const joints: Joint[] = [
    { id: "hips", parent: null, at: [0, 1, 0], order: random.pick(orders) },
    { id: "mid", parent: "hips", at: vector(0.2), order: random.pick(orders) },
  ];
  for (let n = 0; n <= bones; n++) {
    const at: Vector = n > 0 && random.chance(0.5) ? [0, -0.3, 0.02 * n] : vector(0.3);
    joints.push({ id: `j${n}`, parent: n === 0 ? "mid" : `j${n - 1}`, at, order: random.pick(orders) });
  }
  const names = joints.slice(2).map(({ id }) => id);
  const lengths = joints.slice(3).map(({ at }) => Math.hypot(...at));
  const body: Body = {
    ...smallBody(),
    joints,
    root: "hips",
    limbs: [{ kind: "tail", side: "middle", joints: names, girdle: "mid" }],
    masses: { hips: 1 },
  };
  const performance: Performance = motion.emptyPerformance({
    rate: 24,
    frames: 3,
    figures: [{ id: "a", body }],
  });
  for (const joint of ["hips", "mid"]) {
    for (const axis of "xyz")
      motion.setTrack(performance, joint, `rotation.${axis}`, () => random.between(-170, 170));
  }
  const length = lengths.reduce((sum, one) => sum + one, 0);
  // Two bones of very different lengths do not reach a target that is near.
  const folds = bones !== 2 || Math.abs(lengths[0] - lengths[1]) < 0.55 * length;
  return { performance, limb: { joints: names, length, folds } };
}
